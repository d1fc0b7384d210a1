import type { Context } from "hono";
import { Problem } from "../../core/problem.ts";
import { newId, type RandomBytes } from "../../store/ids.ts";

/** The fields of a form that was sent in (`application/x-www-form-urlencoded`), in their order. */
export async function formOf(c: Context): Promise<URLSearchParams> {
  return new URLSearchParams(await c.req.text());
}

/** A key for a form that is about to be made: the same press of its button, arriving twice, is stored once. */
export function newSubmitKey(random: RandomBytes): string {
  return newId(random);
}

const MAX_KEY_CHARS = 64;

/** The key that came with a form; null for a form that was not made here. */
export function submitKeyOf(form: URLSearchParams): string | null {
  const key = form.get("submit_key") ?? "";
  return key === "" || key.length > MAX_KEY_CHARS ? null : key;
}

/** The version of a record that a form was made from. Throws `Problem` unreadable without one. */
export function versionOf(form: URLSearchParams): number {
  const version = form.get("version") ?? "";
  if (/^\d{1,9}$/.test(version)) return Number(version);
  throw new Problem("unreadable", "Part of this form is missing. Open the page again, then send it.");
}
