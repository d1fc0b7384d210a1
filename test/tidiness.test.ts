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

function matches(file: string, pattern: RegExp): string[] {
  return readSource(file)
    .split("\n")
    .flatMap((line, i) => (pattern.test(line) ? [`${file}:${i + 1} ${line.trim()}`] : []));
}
