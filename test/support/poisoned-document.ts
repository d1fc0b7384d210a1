import type { WorkspaceDocument } from "../../src/store/workspace-document.ts";
import { parseWorkspaceDocument } from "../../src/web/schemas/transfer-schema.ts";

type Json = string | number | boolean | null | Json[] | { [key: string]: Json };

/**
 * The document with others of `leaves` in place of its texts or numbers, wherever the schema takes one: the first that
 * it takes, at all places of one name at once. `taken` are these places.
 */
export function poisoned<Leaf extends string | number>(document: WorkspaceDocument, leaves: readonly Leaf[]) {
  const kind = typeof leaves[0];
  let whole: Json = JSON.parse(JSON.stringify(document));
  const places = new Set<string>();
  changed(whole, "", (leaf, place) => {
    if (typeof leaf === kind) places.add(place);
    return leaf;
  });
  const taken: string[] = [];
  for (const place of places) {
    for (const leaf of leaves) {
      const tried = changed(whole, "", (was, at) => (at === place && typeof was === kind ? leaf : was));
      if (!parseWorkspaceDocument(structuredClone(tried)).ok) continue;
      whole = tried;
      taken.push(place);
      break;
    }
  }
  const parsed = parseWorkspaceDocument(whole);
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.issues));
  return { document: parsed.document, taken };
}

function changed(value: Json, place: string, change: (leaf: string | number, place: string) => Json): Json {
  if (typeof value === "string" || typeof value === "number") return change(value, place);
  if (Array.isArray(value)) return value.map((one) => changed(one, `${place}[]`, change));
  if (value === null || typeof value !== "object") return value;
  return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, changed(one, `${place}.${key}`, change)]));
}
