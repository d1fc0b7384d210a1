import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { FAULTS } from "../src/store/errors.ts";
import { ROOT } from "./support/paths.ts";

const FOLDERS = [".ci", "data", "src", "test", "views"];

/** Every file of the repository's folders, from its root. */
function everyFile(): string[] {
  return FOLDERS.flatMap((folder) =>
    readdirSync(join(ROOT, folder), { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map(({ parentPath, name }) => join(parentPath, name).slice(ROOT.length).replace(/^\//, "")),
  );
}

/** What stands in backquotes as the name of a file or folder of ours: `leak/posterior.ts`, `test/bench/*.bench.ts`. */
function namedIn(text: string): string[] {
  const quoted = [...text.matchAll(/`([^`\s]+)`/g)].map(([, name]) => name!);
  return quoted.filter((name) => {
    if (/^[/@\d]|^dist\/|…/.test(name)) return false;
    return (
      /\.(c|css|csv|json|png|sql|ts|tsx)$/.test(name) ||
      /^(\.ci|data|src|test|views|browser|core|store|web)\//.test(name)
    );
  });
}

test.each(["DEVELOPERS.md", "README.md"])("%s names only files and folders that are there", (document) => {
  const files = everyFile();
  const named = [...new Set(namedIn(readFileSync(join(ROOT, document), "utf8")))];
  expect(named.length).toBeGreaterThan(0);
  const missing = named.filter((name) => {
    const pattern = name
      .replace(/\/$/, "")
      .replace(/[.+^${}()|[\]\\]/g, "\\$&")
      .replaceAll("*", "[^/]*");
    const place = new RegExp(`(^|/)${pattern}($|/|\\.)`);
    return !files.some((file) => place.test(file));
  });
  expect(missing).toEqual([]);
});

test("the table of faults names each fault of the store with its words, and a test by its title", () => {
  const page = readFileSync(join(ROOT, "DEVELOPERS.md"), "utf8");
  const table = page.slice(page.indexOf("<!-- faults -->"), page.indexOf("<!-- end of faults -->"));
  const rows = table.match(/^\| (?!fault |-).*$/gm)?.map((row) => row.split("|").map((cell) => cell.trim())) ?? [];
  const titles = rows.map(([, , , , file = "", title = ""]) => [file, title] as const);
  const untested = titles.filter(
    ([file, title]) => !readFileSync(join(ROOT, file.slice(1, -1)), "utf8").includes(title),
  );
  expect(untested).toEqual([]);
  const words = new Map(rows.map(([, fault = "", , says = ""]) => [/^`([\w-]+)`/.exec(fault)?.[1], says]));
  for (const [fault, sentence] of Object.entries(FAULTS))
    expect([fault, sentence]).toEqual([
      fault,
      expect.stringContaining(/“([^”]+)”/.exec(words.get(fault) ?? "")?.[1] ?? "?"),
    ]);
});
