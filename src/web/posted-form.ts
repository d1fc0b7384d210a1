import type { Context } from "hono";

/** The fields of a form that was sent in (`application/x-www-form-urlencoded`), in their order. */
export async function formOf(c: Context): Promise<URLSearchParams> {
  return new URLSearchParams(await c.req.text());
}

/** The version of a record that a form was made from; one that is none of ours fits nothing. */
export function versionOf(form: URLSearchParams): number {
  const version = Number(form.get("version") ?? "");
  return Number.isSafeInteger(version) && version >= 0 ? version : -1;
}
