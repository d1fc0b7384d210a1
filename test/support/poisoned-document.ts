import * as z from "zod";
import type { WorkspaceDocument } from "../../src/store/workspace-document.ts";
import { LISTED, parseWorkspaceDocument } from "../../src/web/schemas/transfer-schema.ts";

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

interface Shape {
  type?: string;
  enum?: unknown[];
  const?: unknown;
  format?: string;
  pattern?: string;
  properties?: Record<string, Shape>;
  additionalProperties?: Shape | boolean;
  items?: Shape;
  anyOf?: Shape[];
  oneOf?: Shape[];
  allOf?: Shape[];
}

/** Every place of an exported document where its schema takes any text, as `poisoned` names it. */
export function textPlaces(): string[] {
  return Object.entries(LISTED).flatMap(([name, shape]) =>
    textsIn(z.toJSONSchema(shape, { io: "input", unrepresentable: "any" }) as Shape, `.${name}[]`),
  );
}

function textsIn(shape: Shape, place: string): string[] {
  if (shape.enum !== undefined || shape.const !== undefined) return [];
  const { anyOf = [], oneOf = [], allOf = [], properties = {}, items, additionalProperties } = shape;
  return [
    ...(shape.type === "string" && shape.format === undefined && shape.pattern === undefined ? [place] : []),
    ...[...anyOf, ...oneOf, ...allOf].flatMap((one) => textsIn(one, place)),
    ...Object.entries(properties).flatMap(([name, one]) => textsIn(one, `${place}.${name}`)),
    ...(items === undefined ? [] : textsIn(items, `${place}[]`)),
    ...(typeof additionalProperties === "object" ? textsIn(additionalProperties, `${place}.*`) : []),
  ];
}
