import type { Context } from "hono";
import { Problem } from "../../core/problem.ts";
import { newId, type RandomBytes } from "../../store/ids.ts";
import { keptText } from "../../store/text.ts";

/**
 * The fields of a form that was sent in (`application/x-www-form-urlencoded`), in their order and as text can be kept:
 * without NUL, which no keyboard sends. A submit key that no form of ours can hold is left out.
 */
export async function formOf(c: Context): Promise<URLSearchParams> {
  const form = new URLSearchParams();
  for (const [name, value] of new URLSearchParams(await c.req.text())) form.append(name, keptText(value));
  if (submitKeyOf(form) === null) form.delete("submit_key");
  return form;
}

/**
 * The files and fields of a form with files, by their names (`multipart/form-data`). Throws `Problem` unreadable when
 * it is none.
 */
export async function uploadOf(c: Context): Promise<{ files: ReadonlyMap<string, File>; fields: URLSearchParams }> {
  const posted = await c.req.formData().catch((error: unknown) => {
    // The body limit speaks up while the body is read.
    if (error instanceof Problem || !(error instanceof TypeError)) throw error;
    throw new Problem("unreadable", "This form could not be read. Open the page again, then choose the file.");
  });
  const fields = new URLSearchParams();
  const files = new Map<string, File>();
  for (const [name, value] of posted) {
    if (typeof value === "string") fields.append(name, keptText(value));
    else if (value.size > 0) files.set(name, value);
  }
  if (submitKeyOf(fields) === null) fields.delete("submit_key");
  return { files, fields };
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
