import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, normalize, relative } from "node:path";
import { ROOT } from "./paths.ts";

/** One `import`, `export … from` or `import()` of a file. */
export interface Import {
  /** The importing file, from the repository's folder: `src/web/edge/errors.ts`. */
  from: string;
  /** The imported file in the same form, or the name of a package or `node:` module as written. */
  to: string;
  /** Whether only types are taken, so that nothing is left of it when it runs. */
  types_only: boolean;
}

/** `import a, { b } from "c"`, `export { b } from "c"`; `import "c"`; `import("c")`. */
const FROM = /^(?:import|export)\s+([\w$*{},\s]+?)\s*from\s+"([^"]+)"/gm;
const BARE = /^import\s+"([^"]+)"|\bimport\("([^"]+)"\)/gm;

/** The TypeScript files under the given folders, from the repository's folder. */
export function sourceFiles(...folders: string[]): string[] {
  return folders.flatMap((folder) =>
    readdirSync(join(ROOT, folder), { recursive: true, encoding: "utf8" })
      .filter((name) => /\.tsx?$/.test(name))
      .map((name) => `${folder}/${name.replaceAll("\\", "/")}`),
  );
}

export function readSource(file: string): string {
  return readFileSync(join(ROOT, file), "utf8");
}

/** What a file imports. */
export function importsOf(file: string): Import[] {
  const code = readSource(file).replace(/\/\*[\s\S]*?\*\//g, "");
  const from_clauses = [...code.matchAll(FROM)].map(([, clause = "", specifier = ""]) => ({
    from: file,
    to: target(file, specifier),
    types_only: takesTypesOnly(clause),
  }));
  const bare = [...code.matchAll(BARE)].map(([, plain, dynamic]) => ({
    from: file,
    to: target(file, plain ?? dynamic ?? ""),
    types_only: false,
  }));
  return [...from_clauses, ...bare];
}

function target(file: string, specifier: string): string {
  return specifier.startsWith(".") ? relative(ROOT, normalize(join(ROOT, dirname(file), specifier))) : specifier;
}

function takesTypesOnly(clause: string): boolean {
  if (/^type\s/.test(clause)) return true;
  const names = /^\{([^}]*)\}$/
    .exec(clause)?.[1]
    ?.split(",")
    .map((name) => name.trim());
  return names?.every((name) => name === "" || name.startsWith("type ")) ?? false;
}
