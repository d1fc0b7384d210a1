import type { Context } from "hono";
import { Problem } from "../../core/problem.ts";
import type { SubmitKey } from "../../store/scope.ts";

/** What a stored thing is tagged with: its version, as an entity tag (RFC 9110, 8.8.3). */
export function tagOf({ version }: { version: number }): string {
  return `"${version}"`;
}

/**
 * The version that the request is about, from `If-Match: "3"`. Throws `Problem` version-needed without one, so that
 * nobody overwrites what they have not seen.
 */
export function versionOf(c: Context): number {
  const tag = c.req.header("If-Match") ?? "";
  const version = /^\s*"(\d{1,9})"\s*$/.exec(tag)?.[1];
  if (version !== undefined && version !== "0") return Number(version);
  throw new Problem("version-needed", 'Send the version that you saw, as it came in ETag: If-Match: "3".', [
    { path: "If-Match", message: "Give one version in quotation marks." },
  ]);
}

/**
 * The `Idempotency-Key`, by which a request that arrives twice is recognized; null without one. Throws `Problem`
 * invalid for a malformed key.
 */
export function submitKeyOf(c: Context): SubmitKey {
  const header = c.req.header("Idempotency-Key");
  if (header === undefined || header === "") return null;
  const key = /^\s*"?([\w.:~-]{1,64})"?\s*$/.exec(header)?.[1];
  if (key !== undefined) return key;
  throw new Problem("invalid", "The header Idempotency-Key needs correcting.", [
    { path: "Idempotency-Key", message: "Give 1 to 64 letters, digits or . _ : ~ -, new for each change." },
  ]);
}
