import { describe, expect, test } from "vitest";
import * as z from "zod";
import * as assess from "../../../src/web/schemas/assess-schema.ts";
import * as customer from "../../../src/web/schemas/customer-schema.ts";
import * as followUp from "../../../src/web/schemas/follow-up-schema.ts";
import * as invoice from "../../../src/web/schemas/invoice-schema.ts";
import * as plan from "../../../src/web/schemas/plan-schema.ts";
import * as quote from "../../../src/web/schemas/quote-schema.ts";
import * as readings from "../../../src/web/schemas/readings-schema.ts";
import * as record from "../../../src/web/schemas/record-schema.ts";
import * as refrigerant from "../../../src/web/schemas/refrigerant-schema.ts";
import { checked, MAX_ISSUES } from "../../../src/web/schemas/sentences.ts";

function issuesOf(schema: z.ZodType, value: unknown) {
  const result = checked(schema, value);
  return result.ok ? [] : result.issues;
}

describe("each code of zod has a sentence", () => {
  test.each<[code: string, schema: z.ZodType, value: unknown, message: string]>([
    ["invalid_type", z.int().min(1).max(9), "x", "Give a whole number from 1 to 9."],
    ["invalid_type", z.string().min(1).max(80), undefined, "This is missing. Give a text of 1 to 80 characters."],
    ["invalid_type", z.int(), 2.5, "Give a whole number."],
    ["invalid_type", z.boolean(), 1, "Give true or false."],
    ["invalid_type", z.array(z.unknown()).max(3), {}, "Give a list of at most 3 entries."],
    ["invalid_type", z.strictObject({ a: z.string(), b: z.string() }), 1, "Give an object with the fields a, b."],
    ["too_small", z.number().positive().max(1e6), 0, "This is too small. Give a number above 0 to 1 000 000."],
    ["too_small", z.string().min(1), "", "This is too short. Give a text that is not empty."],
    ["too_big", z.number().max(0.5), 2, "This is too large. Give a number of at most 0.5."],
    ["too_big", z.array(z.unknown()).length(2), [1, 2, 3], "This is too long. Give a list of 2 entries."],
    [
      "invalid_format",
      z.iso.date(),
      "soon",
      "This is not written as it should be. Give a date that exists, as YYYY-MM-DD, like 2026-05-01.",
    ],
    ["invalid_value", z.enum(["low", "high"]), "x", 'Give one of "low", "high".'],
    ["invalid_value", z.literal("low"), null, 'Give "low".'],
    [
      "unrecognized_keys",
      z.strictObject({ a: z.string().optional() }),
      { b: 1 },
      "There is no such field. The fields here are: a.",
    ],
  ])("%s", (code, schema, value, message) => {
    expect(schema.safeParse(value).error?.issues[0]?.code).toBe(code);
    expect(issuesOf(schema, value)[0]?.message).toBe(message);
  });

  test("invalid_union, at the field that tells the kinds apart", () => {
    const kinds = z.discriminatedUnion("kind", [
      z.strictObject({ kind: z.literal("percent") }),
      z.strictObject({ kind: z.literal("amount") }),
    ]);
    expect(issuesOf(kinds, { kind: "x" })).toEqual([{ path: "kind", message: 'Give one of "percent", "amount".' }]);
  });

  test("names the field, one issue for each unknown one, and no more than anyone reads", () => {
    const schema = z.strictObject({ lines: z.array(z.strictObject({ n: z.int().min(1) })) });
    const lines = [{ n: 1 }, { n: 0, x: 1, y: 2 }];
    expect(issuesOf(schema, { lines })).toEqual([
      { path: "lines.1.n", message: "This is too small. Give a whole number from 1." },
      { path: "lines.1.x", message: "There is no such field. The fields here are: n." },
      { path: "lines.1.y", message: "There is no such field. The fields here are: n." },
    ]);
    expect(issuesOf(schema, { lines: Array.from({ length: 5000 }, () => 1) })).toHaveLength(MAX_ISSUES);
  });
});

/** Every schema that stands in another. */
function parts(schema: z.core.$ZodType): z.ZodType[] {
  if (schema instanceof z.ZodOptional || schema instanceof z.ZodNullable || schema instanceof z.ZodDefault)
    return parts(schema.unwrap());
  const own = schema as z.ZodType;
  if (schema instanceof z.ZodObject) return [own, ...Object.values(schema.shape).flatMap((part) => parts(part))];
  if (schema instanceof z.ZodArray) return [own, ...parts(schema.element)];
  if (schema instanceof z.ZodRecord) return [own, ...parts(schema.valueType)];
  if (schema instanceof z.ZodUnion) return [own, ...schema.options.flatMap((part) => parts(part))];
  return [own];
}

const WRONG: readonly unknown[] = [
  ...[undefined, null, true, -1e15, -1, 0, 0.5, 1e15, "", "\u0000", "x".repeat(100_000)],
  ...[[], Array.from({ length: 5000 }, () => null), {}, { no_such_field: 1 }, { kind: "x", code: "x" }],
];

test("no schema of ours leaves a sentence to zod, and these are the codes that they use", () => {
  const modules = [assess, customer, followUp, invoice, plan, quote, readings, record, refrigerant];
  const schemas = modules.flatMap((module) =>
    Object.values<unknown>(module).filter((one): one is z.ZodType => one instanceof z.ZodType),
  );
  const all = new Set(schemas.flatMap(parts));
  expect(all.size).toBeGreaterThan(200);
  const codes = new Set<string>();
  const of_zod = new Set<string>();
  for (const schema of all)
    for (const value of WRONG) {
      for (const { code } of schema.safeParse(value).error?.issues ?? []) codes.add(code);
      for (const { path, message } of issuesOf(schema, value))
        if (!/^[A-Z"].*\.$/.test(message) || /^(?:Invalid|Too|Unrecognized|Expected)\b/.test(message))
          of_zod.add(`${path}: ${message}`);
    }
  expect([...of_zod]).toEqual([]);
  expect(codes).toEqual(
    new Set([
      ...["custom", "invalid_format", "invalid_type", "invalid_union", "invalid_value"],
      ...["too_big", "too_small", "unrecognized_keys"],
    ]),
  );
});
