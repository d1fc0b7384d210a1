import * as z from "zod";
import type { Issue } from "../../core/problem.ts";
import { pageNumber } from "../../core/quantities/number-text.ts";

/**
 * What zod finds wrong, as issues of ours: the path of the field, and a sentence that says what would be right. All
 * schemas are checked here, so that every code of zod has its sentence in one place; a schema that knows more than zod,
 * a unit or what a field is for, brings its own.
 */

/** Issues in one answer: more than anyone fixes at once, and few enough to keep the answer to a hostile body small. */
export const MAX_ISSUES = 100;

export type Checked<Value> = { ok: true; value: Value } | { ok: false; issues: Issue[] };

/** Checks a value, whatever it is; `at` is where it stands in what came in. */
export function checked<Schema extends z.ZodType>(
  schema: Schema,
  value: unknown,
  at: readonly PropertyKey[] = [],
): Checked<z.infer<Schema>> {
  const parsed = schema.safeParse(value, { error: sentenceOf });
  return parsed.success ? { ok: true, value: parsed.data } : { ok: false, issues: issuesOf(parsed.error, at) };
}

/** At most `MAX_ISSUES`; unknown fields become one issue each. */
function issuesOf({ issues: found }: z.ZodError, at: readonly PropertyKey[]): Issue[] {
  const issues: Issue[] = [];
  for (const issue of found) {
    const { message } = issue;
    const fields = issue.code === "unrecognized_keys" ? issue.keys.map((key) => [key]) : [[]];
    for (const field of fields) {
      if (issues.length === MAX_ISSUES) return issues;
      issues.push({ path: [...at, ...issue.path, ...field].join("."), message });
    }
  }
  return issues;
}

type Code = z.core.$ZodIssueCode;
type Found<C extends Code> = Extract<z.core.$ZodRawIssue, { code: C }>;

const SENTENCES: { readonly [C in Code]: (found: Found<C>) => string } = {
  invalid_type: ({ input, schema, expected }) =>
    `${input === undefined && expected !== "object" ? "This is missing. " : ""}${give(schema)}`,
  invalid_value: ({ values }) => (values.length === 1 ? `Give ${quoted(values)}.` : `Give one of ${quoted(values)}.`),
  invalid_union: ({ schema, options }) => (Array.isArray(options) ? `Give one of ${quoted(options)}.` : give(schema)),
  invalid_format: ({ schema }) => `This is not written as it should be. ${give(schema)}`,
  too_small: ({ origin, schema }) => `This is too ${isNumber(origin) ? "small" : "short"}. ${give(schema)}`,
  too_big: ({ origin, schema }) => `This is too ${isNumber(origin) ? "large" : "long"}. ${give(schema)}`,
  not_multiple_of: ({ divisor }) => `Give a multiple of ${divisor}.`,
  unrecognized_keys: ({ schema }) => `There is no such field. The fields here are: ${fieldsOf(schema)}.`,
  invalid_key: ({ schema }) => `There is no such field. The fields here are: ${fieldsOf(schema)}.`,
  invalid_element: ({ schema }) => give(schema),
  custom: ({ schema }) => give(schema),
};

function sentenceOf<C extends Code>(found: Found<C>): string {
  const say: (found: Found<C>) => string = SENTENCES[found.code as C];
  return say(found);
}

function isNumber(origin: string): boolean {
  return origin === "number" || origin === "int";
}

function quoted(values: readonly unknown[]): string {
  return values.map((value) => JSON.stringify(value)).join(", ");
}

/** A number as a message shows it: `20 000`, `0.25`. */
function plainNumber(value: number): string {
  return pageNumber(value, 6).replaceAll(",", " ");
}

export interface Range {
  readonly min: number;
  readonly max: number;
  readonly unit: string;
}

/** What would be right within a range in a unit, which zod does not know. */
export function rangeMessage({ min, max, unit }: Range): string {
  return `Enter a number from ${plainNumber(min)} to ${plainNumber(max)} (${unit}).`;
}

const GIVEN = new WeakMap<z.core.$ZodType, string>();

/** What would be right, from the schema itself. */
function give(schema: z.core.$ZodType | undefined): string {
  if (schema === undefined) return "Give it as its description says.";
  const known = GIVEN.get(schema);
  if (known !== undefined) return known;
  const said = `Give ${wanted(schema)}.`;
  GIVEN.set(schema, said);
  return said;
}

function wanted(schema: z.core.$ZodType): string {
  if (schema instanceof z.ZodObject) return `an object with the fields ${fieldsOf(schema)}`;
  if (schema instanceof z.ZodDiscriminatedUnion) return `an object with the field ${schema.def.discriminator}`;
  const {
    type,
    format,
    minimum,
    exclusiveMinimum: above,
    maximum,
    minLength,
    maxLength,
    minItems,
    maxItems,
  } = z.toJSONSchema(schema, { io: "input", unrepresentable: "any" });
  switch (type) {
    case "boolean":
      return "true or false";
    case "integer":
    case "number": {
      const least = bound(minimum);
      const from = typeof above === "number" ? `above ${plainNumber(above)}` : least && `from ${least}`;
      const most = bound(maximum);
      const to = most && (from ? `to ${most}` : `of at most ${most}`);
      return [`a ${type === "integer" ? "whole number" : "number"}`, from, to].filter(Boolean).join(" ");
    }
    case "string":
      if (format === "date") return "a date that exists, as YYYY-MM-DD, like 2026-05-01";
      if (format === "date-time") return "an instant in UTC, like 2026-05-01T12:00:00.000Z";
      if (maxLength !== undefined) return `a text of ${minLength === 1 ? "1 to" : "at most"} ${maxLength} characters`;
      return minLength === 1 ? "a text that is not empty" : "a text";
    case "array":
      if (maxItems !== undefined && minItems === maxItems) return `a list of ${maxItems} entries`;
      return maxItems === undefined ? "a list" : `a list of at most ${maxItems} entries`;
    default:
      return "an object";
  }
}

/** A bound in words; null where nobody set one: whole numbers end where they are no longer exact. */
function bound(value: number | undefined): string | null {
  return value === undefined || Math.abs(value) === Number.MAX_SAFE_INTEGER ? null : plainNumber(value);
}

function fieldsOf(schema: z.core.$ZodType | undefined): string {
  if (schema instanceof z.ZodObject) return Object.keys(schema.shape).join(", ");
  if (schema instanceof z.ZodRecord && schema.keyType instanceof z.ZodEnum) return schema.keyType.options.join(", ");
  return "those that its description names";
}
