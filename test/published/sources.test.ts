import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";

const kept = readFileSync("DEVELOPERS.md", "utf8");
const table = kept.slice(kept.indexOf("<!-- sources -->"), kept.indexOf("<!-- end of sources -->"));
const rows = table
  .split("\n")
  .filter((line) => line.startsWith("|"))
  .slice(2)
  .map((line) => line.split("|").map((cell) => cell.trim()))
  .map(([, source = "", , file = ""]) => ({
    source,
    name: /\*\*(.+?)\*\*/.exec(source)?.[1] ?? "",
    file: /`(.+?)`/.exec(file)?.[1] ?? "",
  }));

describe("the list of published sources in DEVELOPERS.md", () => {
  it("has at least thirty, each once", () => {
    expect(rows.length).toBeGreaterThanOrEqual(30);
    expect(new Set(rows.map(({ source }) => source)).size).toBe(rows.length);
  });

  it.each(rows)("$source is named in $file", ({ name, file }) => {
    expect(name).not.toBe("");
    expect(readFileSync(file, "utf8").includes(name), `${file} names “${name}”`).toBe(true);
  });
});
