import { type Comment, type Node, parseSync, Visitor } from "oxc-parser";
import { expect, test } from "vitest";
import { readSource, sourceFiles } from "./support/sources.ts";

/** Rooms whose types are the contract, or what the inner loops work on: a sentence, with unit, for every field. */
const ROOMS = ["src/core/question", "src/core/leak", "src/core/options"];

test("every field of the contract, the records and the types of the inner loops is documented", () => {
  const fields = sourceFiles(...ROOMS).flatMap(fieldsOf);
  expect(fields.length).toBeGreaterThan(300);
  expect(fields.filter(({ documented }) => !documented).map(({ name }) => name)).toEqual([]);
});

interface Field {
  /** Where it is: file, line and name. */
  name: string;
  /** Whether a doc comment stands right before it. */
  documented: boolean;
}

/** The fields of the interfaces of a file, and of the object types that its exported types are made of. */
function fieldsOf(file: string): Field[] {
  const source = readSource(file);
  const { program, comments } = parseSync(file, source);
  const fields: Field[] = [];
  const add = (members: readonly Node[]): void => {
    for (const member of members) {
      if (member.type !== "TSPropertySignature") continue;
      const line = source.slice(0, member.start).split("\n").length;
      const name = `${file}:${line} ${source.slice(member.key.start, member.key.end)}`;
      fields.push({ name, documented: isDocumented(member, source, comments) });
    }
  };
  new Visitor({
    TSInterfaceBody: ({ body }) => add(body),
    TSTypeAliasDeclaration: ({ typeAnnotation }) => {
      const parts = typeAnnotation.type === "TSIntersectionType" ? typeAnnotation.types : [typeAnnotation];
      for (const part of parts) if (part.type === "TSTypeLiteral") add(part.members);
    },
  }).visit(program);
  return fields;
}

function isDocumented({ start }: Node, source: string, comments: readonly Comment[]): boolean {
  return comments.some(
    ({ type, value, end }) =>
      type === "Block" && value.startsWith("*") && /^\s*$/.test(source.slice(end, start)) && end <= start,
  );
}
