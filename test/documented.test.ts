import { type Comment, type Node, parseSync, Visitor } from "oxc-parser";
import { describe, expect, test } from "vitest";
import * as z from "zod";
import { assessAnswer } from "../src/web/api/answers.ts";
import { readSource, sourceFiles } from "./support/sources.ts";

/** Rooms whose types are contracts, or what the inner loops work on: a sentence, with unit, for every field. */
const ROOMS = ["question", "leak", "options", "readings", "rules"].map((room) => `src/core/${room}`);
const CONTRACT = "src/core/question/contract.ts";

/** A field of an interface, or of an object type that an alias is made of. */
interface Field {
  /** Where it is: file and line. */
  at: string;
  name: string;
  /** The interface that it is in; empty for an alias. */
  owner: string;
  /** Its doc comment on one line; null without one. */
  comment: string | null;
  /** Its type, as written. */
  type: string;
}

describe("types and functions say what they are", () => {
  test("every field of the contracts, the records and the types of the inner loops is documented", () => {
    const fields = sourceFiles(...ROOMS).flatMap(fieldsOf);
    expect(fields.length).toBeGreaterThan(400);
    const bare = fields.filter(({ comment }) => comment === null);
    expect(bare.map(({ at, name }) => `${at} ${name}`)).toEqual([]);
  });

  test("every exported function and class is documented", () => {
    const found = sourceFiles("src", "views").flatMap(exportsOf);
    expect(found.length).toBeGreaterThan(1000);
    expect(found.filter(({ documented }) => !documented).map(({ name }) => name)).toEqual([]);
  });

  test("the description of the interface says of a field of the answer what the contract says, word for word", () => {
    const fields = fieldsOf(CONTRACT);
    const described = descriptions(z.toJSONSchema(assessAnswer) as Schema, "AssessAnswer", fields);
    expect(described.length).toBeGreaterThan(15);
    expect(described.filter(({ says, contract }) => says !== contract)).toEqual([]);
  });
});

function fieldsOf(file: string): Field[] {
  const source = readSource(file);
  const { program, comments } = parseSync(file, source);
  const fields: Field[] = [];
  const add = (members: readonly Node[], owner: string): void => {
    for (const member of members) {
      if (member.type !== "TSPropertySignature") continue;
      fields.push({
        at: `${file}:${source.slice(0, member.start).split("\n").length}`,
        name: source.slice(member.key.start, member.key.end),
        owner,
        comment: commentBefore(member, source, comments),
        type: source.slice(member.typeAnnotation?.start ?? 0, member.typeAnnotation?.end ?? 0),
      });
    }
  };
  new Visitor({
    TSInterfaceDeclaration: ({ id, body }) => add(body.body, id.name),
    TSTypeAliasDeclaration: ({ typeAnnotation }) => {
      const parts = typeAnnotation.type === "TSIntersectionType" ? typeAnnotation.types : [typeAnnotation];
      for (const part of parts) if (part.type === "TSTypeLiteral") add(part.members, "");
    },
  }).visit(program);
  return fields;
}

function exportsOf(file: string): { name: string; documented: boolean }[] {
  const source = readSource(file);
  const { program, comments } = parseSync(file, source);
  return program.body.flatMap((statement) => {
    if (statement.type !== "ExportNamedDeclaration") return [];
    const { declaration } = statement;
    if (declaration?.type !== "FunctionDeclaration" && declaration?.type !== "ClassDeclaration") return [];
    const documented = commentBefore(statement, source, comments) !== null;
    return [{ name: `${file} ${declaration.id?.name}`, documented }];
  });
}

/** The doc comment right before something, on one line; null without one. */
function commentBefore({ start }: Node, source: string, comments: readonly Comment[]): string | null {
  const before = comments.findLast(({ end }) => end <= start);
  if (before === undefined || before.type !== "Block" || !before.value.startsWith("*")) return null;
  if (source.slice(before.end, start).trim() !== "") return null;
  return before.value
    .slice(1)
    .replaceAll(/\s*\n\s*\*\s?/g, " ")
    .trim();
}

interface Schema {
  description?: string;
  properties?: Record<string, Schema>;
  items?: Schema;
  anyOf?: Schema[];
}

/** What a JSON schema says of the fields of an interface and of those that it is made of, beside their comments. */
function descriptions(schema: Schema, owner: string, fields: readonly Field[]) {
  const found: { field: string; says: string; contract: string | null }[] = [];
  for (const [name, part] of Object.entries(schema.properties ?? {})) {
    const field = fields.find((one) => one.owner === owner && one.name === name);
    if (field === undefined) continue;
    const own = part.anyOf?.[0] ?? part.items ?? part;
    const says = part.description;
    // A shape that several fields share is described where it is used, not in itself.
    if (says !== undefined) found.push({ field: `${owner}.${name}`, says, contract: field.comment });
    const inner = fields.find((one) => one.owner !== "" && new RegExp(`\\b${one.owner}\\b`).test(field.type))?.owner;
    if (inner !== undefined) found.push(...descriptions(own, inner, fields));
  }
  return found;
}
