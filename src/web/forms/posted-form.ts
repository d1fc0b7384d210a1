import type { Context } from "hono";
import { Problem } from "../../core/problem.ts";
import { newId, type RandomBytes } from "../../store/ids.ts";
import { keptText } from "../../store/text.ts";

/**
 * The fields of a posted form (`application/x-www-form-urlencoded`), in order and without NUL, which the store cannot
 * keep. A malformed submit key is dropped.
 */
export async function formOf(c: Context): Promise<URLSearchParams> {
  const form = new URLSearchParams();
  for (const [name, value] of new URLSearchParams(await c.req.text())) form.append(name, keptText(value));
  if (submitKeyOf(form) === null) form.delete("submit_key");
  return form;
}

/** The named fields of a form or an address, each as it was typed; a missing one is empty. */
export function typedFields<const Name extends string>(
  form: URLSearchParams,
  names: readonly Name[],
): Record<Name, string> {
  return Object.fromEntries(names.map((name) => [name, form.get(name) ?? ""])) as Record<Name, string>;
}

const MAX_SEARCH_CHARS = 200;

/** Words to search for, of an address; what is longer than anyone types is cut off. */
export function searchedFor(typed: string | null | undefined): string {
  return (typed ?? "").trim().slice(0, MAX_SEARCH_CHARS);
}

/** A key for a new form: if its submit arrives twice, it is stored once. */
export function newSubmitKey(random: RandomBytes): string {
  return newId(random);
}

const MAX_KEY_CHARS = 64;

/** A form's submit key; null for a form that was not rendered here. */
export function submitKeyOf(form: URLSearchParams): string | null {
  const key = form.get("submit_key") ?? "";
  return key === "" || key.length > MAX_KEY_CHARS ? null : key;
}

/** The version of the record that a form was rendered from. Throws `Problem` unreadable without one. */
export function versionOf(form: URLSearchParams): number {
  const version = form.get("version") ?? "";
  if (/^\d{1,9}$/.test(version)) return Number(version);
  throw new Problem("unreadable", "Part of this form is missing. Open the page again, then send it.");
}
