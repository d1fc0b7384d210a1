import type { Context } from "hono";
import { Problem } from "../../core/problem.ts";

/**
 * The request's body, read as JSON. Throws `Problem` "unreadable" when it is something else, or does not say that it is
 * JSON: a form on another site can send JSON text, but not under this content type without asking first.
 */
export async function jsonBody(c: Context): Promise<unknown> {
  const type = c.req.header("Content-Type")?.split(";")[0]?.trim().toLowerCase();
  if (type !== "application/json")
    throw new Problem("unreadable", "Send the request as JSON, with the header Content-Type: application/json.");
  try {
    return JSON.parse(await c.req.text());
  } catch {
    throw new Problem("unreadable", "The body is not JSON. Check its brackets, commas and quotation marks.");
  }
}
