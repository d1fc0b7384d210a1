import { existsSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { ROOT } from "./support/paths.ts";
import { type Import, importsOf, sourceFiles } from "./support/sources.ts";

interface Layer {
  name: string;
  files: RegExp;
  may_import: RegExp;
  /** Where only types are taken from. */
  may_know?: RegExp;
}

/** What each part may import; a file belongs to the first that fits. Everything else imports freely. */
const LAYERS: Layer[] = [
  { name: "data", files: /^data\//, may_import: /^data\//, may_know: /^src\/core\// },
  { name: "core", files: /^src\/core\//, may_import: /^(data|src\/core)\// },
  {
    name: "store engines",
    files: /^src\/store\/(node-sqlite|node-backup|d1|migrations)\b/,
    may_import: /^(data|src\/core|src\/store)\/|^node:|^@cloudflare\/workers-types$/,
  },
  { name: "store", files: /^src\/store\//, may_import: /^(data|src\/core|src\/store)\/|^zod$/ },
  {
    name: "client scripts",
    files: /^views\/client\//,
    may_import: /^(data|src\/core|views)\/|^(chart\.js|htmx\.org)(\/|$)/,
  },
  {
    name: "views",
    files: /^views\//,
    may_import: /^(data|src\/core|views)\/|^hono\/(jsx|html|utils\/html)(\/|$)/,
  },
  {
    name: "web",
    files: /^src\/(web\/|app\.ts$)/,
    may_import: /^(data|src\/core|src\/store|src\/web|views)\/|^package\.json$|^(hono|zod|papaparse)(\/|$)/,
  },
];

const files = sourceFiles("src", "views", "data");
const imports = files.flatMap(importsOf);

function layerOf(file: string) {
  return LAYERS.find((layer) => layer.files.test(file));
}

describe("imports point one way", () => {
  test.each(LAYERS)("$name", (layer) => {
    const wrong = imports
      .filter(({ from }) => layerOf(from) === layer)
      .filter(({ to, types_only }) => !layer.may_import.test(to) && !(types_only && layer.may_know?.test(to)))
      .map(({ from, to }) => `${from} imports ${to}`);
    expect(wrong).toEqual([]);
  });

  test("only the entries for one machine, the build and the store's engine know Node", () => {
    const knowing = new Set(imports.filter(({ to }) => to.startsWith("node:")).map(({ from }) => from));
    for (const file of knowing)
      expect(file).toMatch(
        /^src\/(build|node|server|command-line|import)\.ts$|^src\/store\/(node-sqlite|node-backup|migrations)\b/,
      );
  });

  test("web asks the store through its port, never an engine", () => {
    const wrong = imports.filter(
      ({ from, to }) => /^src\/(web|app)/.test(from) && /^src\/store\/(node-sqlite|d1)\b/.test(to),
    );
    expect(wrong).toEqual([]);
  });

  test("there is no way round in a circle", () => {
    expect(circles(imports.filter(({ types_only }) => !types_only))).toEqual([]);
  });
});

describe("the reader of imports", () => {
  test("sees those that are there", () => {
    expect(files.length).toBeGreaterThan(20);
    expect(imports).toContainEqual({ from: "src/app.ts", to: "src/web/edge/deps.ts", types_only: true });
    expect(imports).toContainEqual({ from: "src/app.ts", to: "hono/csrf", types_only: false });
    expect(imports).toContainEqual({ from: "src/node.ts", to: "src/server.ts", types_only: false });
    expect(imports).toContainEqual({ from: "src/node.ts", to: "src/check-node.cjs", types_only: false });
  });

  test("reads every relative import as a file that exists", () => {
    const missing = imports
      .filter(({ to }) => /^(src|views|data)\//.test(to))
      .filter(({ to }) => !existsSync(join(ROOT, to)))
      .map(({ from, to }) => `${from} imports ${to}`);
    expect(missing).toEqual([]);
  });
});

/** Each circle of imports once, as `a → b → a`. */
function circles(edges: readonly Import[]): string[] {
  const next = Map.groupBy(edges, ({ from }) => from);
  const done = new Set<string>();
  const found: string[] = [];
  const visit = (file: string, trail: readonly string[]) => {
    if (trail.includes(file)) {
      found.push([...trail.slice(trail.indexOf(file)), file].join(" → "));
      return;
    }
    if (done.has(file)) return;
    for (const { to } of next.get(file) ?? []) visit(to, [...trail, file]);
    done.add(file);
  };
  for (const file of next.keys()) visit(file, []);
  return found;
}
