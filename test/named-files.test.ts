import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
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
