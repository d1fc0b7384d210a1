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
  { name: "core", files: /^src\/core\//, may_import: /^(data|src\/core)\/|^(date-fns|@date-fns\/(utc|tz))(\/|$)/ },
  {
    name: "store engines",
    files:
      /^src\/store\/(node-sqlite|node-backup|object-sql|object-migrations|object-tables|object-table-list|migrations)\b/,
    may_import: /^(data|src\/core|src\/store)\/|^node:|^@cloudflare\/workers-types$/,
  },
  { name: "store", files: /^src\/store\//, may_import: /^(data|src\/core|src\/store)\/|^zod$|^date-fns(\/|$)/ },
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
    name: "what runs on a device",
    files: /^src\/device\//,
    may_import: /^(data|src\/core|src\/web|src\/device|views)\/|^(hono(\/|$)|idb-keyval$)/,
  },
  {
    name: "web",
    files: /^src\/(web\/|app\.ts$)/,
    may_import:
      /^(data|src\/core|src\/store|src\/web|views)\/|^package\.json$|^(hono|zod|papaparse|@remix-run\/multipart-parser|read-excel-file|write-excel-file|fflate|uqr|ipaddr\.js|date-fns|@date-fns\/tz)(\/|$)/,
  },
];

/** The rooms of the core in the order in which they stand on each other, with what each may take from. */
const CORE_ROOMS: Record<string, readonly string[]> = {
  quantities: [],
  maths: [],
  question: ["quantities"],
  refrigerant: ["quantities", "question"],
  leak: ["quantities", "maths", "question", "refrigerant"],
  readings: ["quantities", "maths", "question", "refrigerant"],
  rules: ["quantities", "question", "leak"],
  options: ["quantities", "maths", "question", "refrigerant", "leak"],
  quotes: ["quantities", "question", "refrigerant", "leak", "options", "assess.ts"],
  hindsight: ["quantities", "maths", "question", "leak"],
  fleet: ["quantities", "maths", "question", "refrigerant", "leak", "options", "hindsight"],
};

/** Folders of the web that every screen may take from, lowest first. Screens: see `SCREENS`. */
const WEB_ROOMS: Record<string, readonly string[]> = {
  forms: [],
  edge: ["forms"],
  schemas: ["edge"],
};

/**
 * A folder a screen, with the screens that it builds on; the shared folders and the files beside them are open to all.
 */
const SCREENS: Record<string, readonly string[]> = {
  api: ["fleet"],
  start: [],
  readings: ["start"],
  "top-off": ["start", "readings"],
  reference: [],
  prices: [],
  fleet: [],
  refrigerant: [],
  quotes: ["refrigerant"],
  invoices: ["quotes"],
  customers: ["quotes", "invoices"],
  vehicles: ["start", "readings", "top-off", "quotes"],
  reminders: ["quotes", "vehicles"],
  shop: ["quotes", "reminders"],
  settings: [],
  webhook: [],
};

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
        /^src\/(build|node|server|listen|webhook-post|model-pool|patient-thread|page-gzip|command-line|import|backup|owner-link)\.ts$|^src\/operations\/(metrics|last-backup)\.ts$|^src\/store\/(node-sqlite|node-backup|object-table-list|migrations)\b/,
      );
  });

  test("web asks the store through its port, never an engine", () => {
    const wrong = imports.filter(
      ({ from, to }) => /^src\/(web|app)/.test(from) && /^src\/store\/(node-sqlite|object-sql)\b/.test(to),
    );
    expect(wrong).toEqual([]);
  });

  test("there is no way round in a circle, by types either", () => {
    expect(circles(imports)).toEqual([]);
  });
});

describe("rooms", () => {
  test("every folder of the core and of the web has its place here", () => {
    expect(rooms("src/core/")).toEqual(new Set(Object.keys(CORE_ROOMS)));
    expect(rooms("src/web/")).toEqual(new Set([...Object.keys(WEB_ROOMS), ...Object.keys(SCREENS)]));
  });

  test("the core's rooms take only from those they stand on", () => {
    const wrong = between("src/core/").filter(({ a, b }) => a in CORE_ROOMS && !CORE_ROOMS[a]!.includes(b));
    expect(wrong).toEqual([]);
  });

  test("the web's shared folders take from no screen, and a screen only from those it builds on", () => {
    const shared = Object.keys(WEB_ROOMS);
    const wrong = between("src/web/").filter(({ a, b }) => {
      if (a in WEB_ROOMS) return !WEB_ROOMS[a]!.includes(b);
      if (a in SCREENS) return b in SCREENS && !SCREENS[a]!.includes(b);
      return !shared.includes(b) && b in SCREENS;
    });
    expect(wrong).toEqual([]);
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

/** The room of a file below `base`: its first folder, or its own name beside the rooms. */
function roomOf(file: string, base: string): string {
  return file.slice(base.length).split("/")[0]!;
}

function rooms(base: string): Set<string> {
  const inside = files.filter((file) => file.startsWith(base) && file.slice(base.length).includes("/"));
  return new Set(inside.map((file) => roomOf(file, base)));
}

/** Imports from one room below `base` into another. */
function between(base: string) {
  return imports
    .filter(({ from, to }) => from.startsWith(base) && to.startsWith(base))
    .map(({ from, to }) => ({ a: roomOf(from, base), b: roomOf(to, base), from, to }))
    .filter(({ a, b }) => a !== b);
}

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
