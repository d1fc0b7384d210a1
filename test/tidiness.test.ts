import { execFileSync } from "node:child_process";
import { describe, expect, test } from "vitest";
import { ROOT } from "./support/paths.ts";
import { readSource } from "./support/sources.ts";

const TOP_LEVEL = [
  "DEVELOPERS.md",
  "LICENSE",
  "README.md",
  "data",
  "package-lock.json",
  "package.json",
  "src",
  "test",
  "tsconfig.json",
  "views",
  "wrangler.toml",
];

const tracked = execFileSync("git", ["ls-files", "--cached", "--others", "--exclude-standard"], {
  cwd: ROOT,
  encoding: "utf8",
})
  .split("\n")
  .filter((file) => file !== "");
const code = tracked.filter((file) => /\.(ts|tsx|cjs|css|sql)$/.test(file));

/** What must not be found in code, spelled so that this list does not find itself. */
const UNWANTED: [what: string, pattern: RegExp, where: RegExp][] = [
  ["a test left out or alone", /\b(?:test|it|describe)\.(?:skip|only|todo|fails)\b/, /^test\//],
  ["a note instead of the work", new RegExp(["TO", "DO|FIX", "ME|XX", "X"].join("")), /./],
  ["a silenced checker", new RegExp(`@ts-${"ignore"}|@ts-${"nocheck"}|biome-${"ignore"}-all`), /./],
  [
    "SQL with anything put into it, outside the store",
    /`[^`]*\b(?:SELECT|INSERT INTO|DELETE FROM|UPDATE \w+ SET)\b[^`]*\$\{/,
    /^src\/(?!store\/)/,
  ],
  ["an inline style or script in a view", /\sstyle=(?:"|\{)|\shx-on|dangerouslySetInnerHTML/, /^views\/.*\.tsx$/],
];

describe("the tree", () => {
  test("holds nothing at the top that is not named here, dot files apart", () => {
    const top = new Set(tracked.map((file) => file.split("/")[0] as string).filter((name) => !name.startsWith(".")));
    expect([...top].filter((name) => !TOP_LEVEL.includes(name))).toEqual([]);
  });

  test.each(UNWANTED)("holds no %s", (_what, pattern, where) => {
    const found = code.filter((file) => where.test(file)).flatMap((file) => matches(file, pattern));
    expect(found).toEqual([]);
  });

  test("names relative imports with their extension", () => {
    const without = code
      .filter((file) => /\.tsx?$/.test(file))
      .flatMap((file) => matches(file, /from "\.{1,2}\/[^"]*(?<!\.(?:ts|tsx|json|cjs))"/));
    expect(without).toEqual([]);
  });
});

/** Texts that people read, statements of SQL and patterns stand whole in their line. */
const LITERAL = /"(?:[^"\\]|\\.)*"|'(?:[^'\\]|\\.)*'|`(?:[^`\\]|\\.)*`?|\/(?![/*\s])(?:[^/\\]|\\.)+\//g;
/** Where the formatter breaks a line of JSX it leaves the space between two words so, and does not count it. */
const JSX_SPACE = '{" "}';
const COLUMNS = 120;

test("lines have 120 columns at most, literals left out; files of SQL stay as they were landed", () => {
  const long = code
    .filter((file) => /^(?:src|views|test|data)\//.test(file) && !file.endsWith(".sql"))
    .flatMap((file) =>
      readSource(file)
        .split("\n")
        .flatMap((line, i) => (isLong(line) ? [`${file}:${i + 1} ${line.trim()}`] : [])),
    );
  expect(long).toEqual([]);
});

function isLong(line: string): boolean {
  if (line.length <= COLUMNS) return false;
  return /^\s*(?:\*|\/\*|\/\/)/.test(line) || line.replace(JSX_SPACE, "").replaceAll(LITERAL, '""').length > COLUMNS;
}

function matches(file: string, pattern: RegExp): string[] {
  return readSource(file)
    .split("\n")
    .flatMap((line, i) => (pattern.test(line) ? [`${file}:${i + 1} ${line.trim()}`] : []));
}
