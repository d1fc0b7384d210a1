import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { parseSync, Visitor } from "oxc-parser";
import { checkSync } from "recheck";
import { expect, test } from "vitest";
import { ROOT } from "./support/paths.ts";

/** Refused beyond a hundred characters before any pattern: `core/quantities/long-text.test.ts`. */
const TYPED = "what someone typed, refused first when it is long";

/**
 * Patterns that take more than linear time on some text, or of which that cannot be told, with what keeps the text
 * short. Every other pattern of the product is shown to be linear (recheck: an automaton of the pattern, then a search
 * for texts).
 */
const SHORT_TEXTS: readonly [RegExp, string][] = [
  [/\.?0+$/, "a number that was formatted here"],
  [/0+$/, "a decimal whose length is bounded first"],
  [/^[\d.,]*\d[\d.,]*$/, TYPED],
  [/^([^/]*[a-z][^/]*)\/([^/]*[a-z][^/]*)$/, TYPED],
  [/^([+-]?) ?([\d.,]+) ?(.*)$/, TYPED],
  [
    /^(\d{4}-\d{1,2}-\d{1,2}|\d{1,2}(st|nd|rd|th)?[ .-].*[a-z]{3}.*\d{4}|[a-z]{3,9}\.? \d{1,2}(st|nd|rd|th)? \d{4})$/,
    TYPED,
  ],
  [/[T ]+\d{1,2}:\d{2}(:\d{2}(\.\d+)?)?( ?[ap]\.?m\.?)?(Z|[+-]\d{2}:?\d{2})?$/i, TYPED],
  [/^(.*?) ?\b(\d{1,2})(?:st|nd|rd|th)?\b ?(.*)$/, "a header, of at most a hundred characters"],
  [/\^\{([^}]*)\}/, "a formula of ours"],
  [/\s.*$/, "words of ours"],
  [/CREATE TABLE [^;]*PRIMARY KEY[^;]*\)STRICT(?=;)/g, "a migration of ours"],
  [/CREATE INDEX [^;]*;/g, "a migration of ours"],
  [/('(?:[^']|'')*')| *([(),;]) */g, "a migration of ours"],
];
const excused = new Set(SHORT_TEXTS.map(([pattern]) => String(pattern)));

interface Pattern {
  file: string;
  source: string;
  flags: string;
}

function patternsOf(file: string): Pattern[] {
  const found: Pattern[] = [];
  const { program, errors } = parseSync(file, readFileSync(join(ROOT, file), "utf8"));
  if (errors.length > 0) throw new Error(`${file} could not be read: ${errors[0]?.message}`);
  new Visitor({
    Literal(node) {
      if ("regex" in node) found.push({ file, source: node.regex.pattern, flags: node.regex.flags });
    },
  }).visit(program);
  return found;
}

const files = ["src", "views", "data"].flatMap((folder) =>
  readdirSync(join(ROOT, folder), { recursive: true, encoding: "utf8" })
    .filter((name) => /\.tsx?$/.test(name))
    .map((name) => join(folder, name)),
);
const patterns = files.flatMap(patternsOf);

test("every pattern takes linear time, or reads texts that something keeps short", { timeout: 300_000 }, () => {
  expect(patterns.length).toBeGreaterThan(100);
  const each = new Map(patterns.map((pattern) => [`/${pattern.source}/${pattern.flags}`, pattern]));
  const slow = [...each].flatMap(([text, { file, source, flags }]) => {
    if (excused.has(text)) return [];
    const found = checkSync(source, flags, { timeout: 10_000 });
    if (found.status === "safe") return [];
    return [`${file}: ${text} ${found.status === "vulnerable" ? found.complexity.summary : "cannot be told"}`];
  });
  expect(slow).toEqual([]);
});

test("no pattern is excused that is not there any more", () => {
  const there = new Set(patterns.map(({ source, flags }) => `/${source}/${flags}`));
  expect([...excused].filter((text) => !there.has(text))).toEqual([]);
});
