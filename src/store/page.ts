import { Problem } from "../core/problem.ts";

/** One page of a list. `next` asks for the page after it; null on the last. */
export interface Page<T> {
  items: T[];
  next: string | null;
}

/**
 * Cuts `rows`, read with one more than `limit`, into a page; `key` gives what the list is ordered by, unique at its
 * end.
 */
export function pageOf<T>(rows: readonly T[], limit: number, key: (last: T) => (string | number)[]): Page<T> {
  const items = rows.slice(0, limit);
  const last = items.at(-1);
  return { items, next: rows.length > limit && last !== undefined ? JSON.stringify(key(last)) : null };
}

/** Decodes a page cursor that the client sent back. Throws `Problem` when it is not one of ours. */
export function keyOf(next: string, types: readonly ("string" | "number")[]): (string | number)[] {
  try {
    const key: unknown = JSON.parse(next);
    if (Array.isArray(key) && key.length === types.length && types.every((type, i) => typeof key[i] === type))
      return key;
  } catch {
    // Not even JSON: treated alike.
  }
  throw new Problem("invalid", "This page of the list cannot be found. Start again from the first page.");
}
