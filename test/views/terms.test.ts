import { describe, expect, test } from "vitest";
import { TERMS } from "../../data/glossary.ts";
import { readSource, sourceFiles } from "../support/sources.ts";

/** Text that a person may read: literals and what stands between tags, without comments, imports and names in code. */
function textsOf(source: string): string[] {
  const code = source
    .replace(/\/\*[\s\S]*?\*\//g, " ")
    .replace(/^\s*\/\/.*$/gm, " ")
    .replace(/\s\/\/ .*$/gm, " ")
    .replace(/^import[\s\S]*?;$/gm, " ");
  const literals = [...code.matchAll(/"((?:[^"\\\n]|\\.)*)"|`((?:[^`\\]|\\.)*)`/g)].map(
    (match) => match[1] ?? (match[2] ?? "").replace(/\$\{[^}]*\}/g, "…"),
  );
  const between = [...code.matchAll(/[>}]([^<>{}]*[a-z][^<>{}]*)(?=[<{])/g)]
    .map((match) => match[1] ?? "")
    .filter((text) => !/[=;`]|&&|\?\?|\w\.\w|\w\(/.test(text));
  return [...literals, ...between].map((text) => text.replace(/\s+/g, " ").trim()).filter((text) => text.includes(" "));
}

/** Texts that need such words: names in code that look like text, at most so many a file. */
const ALLOWED: Readonly<Record<string, number>> = {
  "views/fleet/fleet-table.tsx": 1, // a type
};

const PATTERNS = TERMS.flatMap(({ write, instead }) =>
  instead.map((words) => ({ write, pattern: new RegExp(words, "i") })),
);

const FILES = sourceFiles("views", "data");

function foundIn(file: string): string[] {
  // The table itself names what it is against.
  const source = readSource(file).split("export const TERMS")[0] ?? "";
  return textsOf(source).flatMap((text) =>
    PATTERNS.flatMap(({ write, pattern }) => {
      const words = pattern.exec(text)?.[0];
      return words === undefined ? [] : [`“${words}”, write “${write}”: ${text.slice(0, 90)}`];
    }),
  );
}

describe("one term for one thing", () => {
  test("the texts are found", () => {
    expect(textsOf('const a = "It cools weakly now"; // weakly said\n<p>It {x} lets out more</p>')).toEqual([
      "It cools weakly now",
      "lets out more",
    ]);
  });

  test.each(FILES)("%s", (file) => {
    const found = foundIn(file);
    expect(found.length, found.join("\n")).toBeLessThanOrEqual(ALLOWED[file] ?? 0);
  });

  test("every exception is of a file that is there", () => {
    expect(Object.keys(ALLOWED).filter((file) => !FILES.includes(file))).toEqual([]);
  });
});
