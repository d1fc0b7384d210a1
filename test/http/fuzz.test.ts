import fc from "fast-check";
import { expect, test } from "vitest";
import { RETAIL_BOOK } from "../../data/price-book.ts";
import { createApp } from "../../src/app.ts";
import { requestLog } from "../../src/operations/request-log.ts";
import { openDatabase } from "../../src/store/migrations.ts";
import type { Sql, Statement } from "../../src/store/sql.ts";
import { workspaceStore } from "../../src/store/workspace-store.ts";
import { ensureLocalWorkspace, LOCAL_WORKSPACE } from "../../src/store/workspaces.ts";
import { random, testClock } from "../store/engines.ts";
import { CONTENT } from "../store/quote-samples.ts";
import { CAN, DYE_CLEAN, READ_LOW, TRUCK } from "../store/samples.ts";
import { testDeps } from "../support/deps.ts";
import { attribute, formFields, formsIn } from "../support/page-form.ts";
import { readSource, sourceFiles } from "../support/sources.ts";

/** `FUZZ_RUNS=20000 npm test -- fuzz` for a long run; `FUZZ_SEED` for another one. */
const RUNS = Number(process.env.FUZZ_RUNS ?? 2000);
const SEED = Number(process.env.FUZZ_SEED ?? 20_260_501);

/** Stands in every text that is made up here, so that it can be found where no typed text may be. */
const MARK = "zq7'";
/** In place of a key in an address. */
const SECRET = "a".repeat(43);
const NASTY = [
  ...["", " ", "\u0000", `${MARK}\u0000`, "\r\nSet-Cookie: a=b", `${MARK}"; DROP TABLE vehicles; --`],
  ...[`${MARK}') OR 1=1 --`, `<script>${MARK}</script>`, `"><img src=x onerror=${MARK}>`, "{{7*7}}", "%00", "%"],
  ...["__proto__", "constructor", "\ud800", "\u202ereversed", "🧊".repeat(300), MARK.repeat(2000)],
  ...["-1", "0", "1e309", "NaN", "Infinity", "9007199254740993", "0x10", "1,5", "1.250", "٣", "１２ oz", "12 oz", "-0"],
  ...["2024-02-30", "0000-00-00", "9999-12-31", "last summer", "6/5/24", "../../etc/passwd", "//elsewhere.example"],
  ...["https://elsewhere.example/", "/\\elsewhere.example", "null", "undefined", "[]", "true", "=1+1", "@SUM(1)"],
];
const nasty = fc.oneof({ weight: 4, arbitrary: fc.constantFrom(...NASTY) }, { weight: 1, arbitrary: fc.string() });
/** Any JSON, in parts of it one of ours. */
const nastyJson = fc.oneof(nasty, fc.jsonValue({ maxDepth: 2 }), fc.double(), fc.constant(null));

interface Watched {
  sql: Sql;
  statements: Set<string>;
}

/** A database that remembers the text of each statement. */
function watched(sql: Sql): Watched {
  const statements = new Set<string>();
  const seen = (statement: Statement) => statements.add(statement.sql);
  return {
    statements,
    sql: {
      place: sql.place,
      all: (text, params) => {
        statements.add(text);
        return sql.all(text, params);
      },
      batch: (batch) => {
        batch.forEach(seen);
        return sql.batch(batch);
      },
    },
  };
}

/** The application as it is served to this machine alone, where everything is open. */
async function subject() {
  const database = await openDatabase(":memory:");
  const now = testClock();
  await ensureLocalWorkspace({ sql: database, now });
  const { sql, statements } = watched(database);
  const unexpected: unknown[] = [];
  const deps = testDeps({ sql: () => sql, random, reportError: (error) => unexpected.push(error) });
  const logged: string[] = [];
  const app = createApp(deps, (edge) => edge.use(requestLog((line) => logged.push(line))));
  const as = { role: "owner", actor: "local" } as const;
  const store = workspaceStore({ sql: database, workspaceId: LOCAL_WORKSPACE, ...as, now, random });

  /** Records of every kind, new each time: what is made up may throw away the last ones. */
  async function seeded() {
    const { id } = await store.vehicles.create(TRUCK);
    const quote = await store.quotes.create(id, CONTENT);
    const books = await store.priceBooks.list();
    const book = books[0] ?? (await store.priceBooks.create(RETAIL_BOOK));
    const lines = {
      "charge-log": (await store.chargeLog.add(id, CAN)).id,
      findings: (await store.findings.add(id, DYE_CLEAN)).id,
      readings: (await store.readings.add(id, READ_LOW)).id,
      notes: (await store.notes.add(id, { body: "Rattles" })).id,
    };
    return { id, quote: quote.id, book: book.id, lines };
  }

  /** How many rows each table with records has: what is refused leaves them as they are. */
  async function counted(): Promise<string> {
    const tables = await database.all<{ name: string }>("SELECT name FROM sqlite_master WHERE type = 'table'");
    const kept = tables.map(({ name }) => name).filter((name) => !PASSING.test(name));
    const counts = `SELECT ${kept.map((name) => `(SELECT count(*) FROM "${name}") AS "${name}"`).join(", ")}`;
    return JSON.stringify(await database.all(counts));
  }
  return { app, statements, unexpected, logged, seeded, counted };
}

/** What a refused request may leave a row in: answers that were computed, and the engine's own tables. */
const PASSING = /^(?:assessments|fleet_|sessions|sqlite_|d1_)/;

type Ids = Awaited<ReturnType<Awaited<ReturnType<typeof subject>>["seeded"]>>;

function addressOf(path: string, ids: Ids): string {
  const ledger = /\/([\w-]+)\/:(?:line|entry)/.exec(path)?.[1] ?? "";
  return path
    .replace(/:file\{[^}]*\}/, `${SECRET}.ics`)
    .replace(/:(?:line|entry)/, ids.lines[ledger as keyof Ids["lines"]] ?? "x")
    .replace(":quote", ids.quote)
    .replace(":id", path.startsWith("/prices/") ? ids.book : ids.id)
    .replace(/:[a-z_]+(?:\{[^}]*\})?/g, SECRET);
}

test(`no request, whatever is in it, breaks anything: ${RUNS} made up ones`, { timeout: 600_000 }, async () => {
  const { app, statements, unexpected, logged, seeded, counted } = await subject();
  let ids = await seeded();
  const routes = app.routes.filter(({ method }) => method !== "ALL");
  const forms = await formsOfPages();
  let refused = 0;
  let taken = 0;
  let done = 0;
  const asked = new Set<string>();

  await fc.assert(
    fc.asyncProperty(
      fc.nat(routes.length - 1),
      fc.array(fc.tuple(fc.nat(), nasty), { minLength: 1, maxLength: 4 }),
      fc.dictionary(fc.string(), nastyJson, { maxKeys: 4 }),
      fc.nat({ max: 99 }),
      async (chosen, changes, json, luck) => {
        // One after the other for half of them, so that none is left out.
        const { method, path } = routes[done % 2 === 0 ? (done / 2) % routes.length : chosen]!;
        asked.add(`${method} ${path}`);
        if (done++ % 200 === 0) ids = await seeded();
        const address =
          luck < 85 ? addressOf(path, ids) : path.replace(/:[^/]+/g, encodeURIComponent(changes[0]![1].toWellFormed()));
        const before = await counted();
        const answer = await app.request(withQuery(address, method, changes, luck), askOf(method, path, changes, json));
        await answer.arrayBuffer();
        expect([method, path, answer.status < 500 ? "answered" : answer.status, unexpected]).toEqual([
          method,
          path,
          "answered",
          [],
        ]);
        if (answer.status < 400) taken++;
        else refused++;
        if (answer.status >= 400) expect([method, path, await counted()]).toEqual([method, path, before]);
      },
    ),
    { numRuns: RUNS, seed: SEED, endOnFailure: true },
  );

  if (RUNS >= 2 * routes.length)
    expect(routes.filter(({ method, path }) => !asked.has(`${method} ${path}`))).toEqual([]);
  // Both have to happen often for this to say anything.
  expect(Math.min(refused, taken)).toBeGreaterThan(RUNS / 10);
  expect([...statements].filter((text) => text.includes("zq7"))).toEqual([]);
  expect(valuesNotOurs(statements)).toEqual([]);
  // A line for each request says its pattern: nothing that was typed, no key, no id.
  expect(logged.length).toBeGreaterThanOrEqual(RUNS);
  const told = [MARK, SECRET, ...Object.values(ids.lines), ids.id, ids.quote];
  expect(logged.filter((line) => told.some((text) => line.includes(text)))).toEqual([]);

  /** The forms that pages send here, with what stands in them, by the pattern of where they go. */
  async function formsOfPages(): Promise<Map<string, URLSearchParams[]>> {
    const found = new Map<string, URLSearchParams[]>();
    for (const { method, path } of routes) {
      if (method !== "GET") continue;
      const answer = await app.request(addressOf(path, ids));
      if (!(answer.headers.get("Content-Type") ?? "").startsWith("text/html")) continue;
      for (const form of formsIn(await answer.text())) {
        const action = (attribute(form, "action") ?? addressOf(path, ids)).split("?")[0]!;
        const kept = found.get(action) ?? [];
        if (kept.length < 5) found.set(action, [...kept, formFields(form)]);
      }
    }
    return found;
  }

  function fieldsFor(path: string, changes: [number, string][]): URLSearchParams {
    const known = forms.get(addressOf(path, ids)) ?? forms.get(path) ?? [];
    const fields = new URLSearchParams(known[changes[0]![0] % Math.max(1, known.length)]);
    const names = [...new Set(fields.keys()), "do", "back", "q"];
    for (const [at, value] of changes) {
      const name = names[at % names.length]!;
      if (at % 7 === 0) fields.append(name, value);
      else if (at % 11 === 0) fields.delete(name);
      else fields.set(name, value);
    }
    return fields;
  }

  function withQuery(address: string, method: string, changes: [number, string][], luck: number): string {
    if (method !== "GET" || luck % 4 === 0) return address;
    return `${address}?${fieldsFor(address, changes)}`;
  }

  function askOf(method: string, path: string, changes: [number, string][], json: object): RequestInit {
    const headers: Record<string, string> = { "Sec-Fetch-Site": "same-origin" };
    if (changes[0]![0] % 5 === 0) headers["HX-Request"] = "true";
    if (method === "GET") return { method, headers };
    if (path.startsWith("/api/")) {
      const sample = SAMPLES.find(([start]) => path.includes(start))?.[1] ?? {};
      const body = JSON.stringify({ ...sample, ...json, ...Object.fromEntries(changedIn(sample, changes)) });
      return { method, headers: { ...headers, "Content-Type": "application/json", "If-Match": '"1"' }, body };
    }
    if (changes[0]![0] % 3 > 0) return { method, headers, body: fieldsFor(path, changes) };
    const form = new FormData();
    for (const [name, value] of fieldsFor(path, changes)) form.append(name, value);
    form.append("file", new File([changes.map(([, value]) => value).join(",")], "a.csv", { type: "text/csv" }));
    return { method, headers, body: form };
  }
});

const SAMPLES: [string, object][] = [
  ["charge-log", CAN],
  ["findings", DYE_CLEAN],
  ["readings", READ_LOW],
  ["notes", { body: "Rattles" }],
  ["assess", { as_of: "2026-05-01", vehicle: { refrigerant: "R-134a", nameplate_g: 500 }, log: [CAN] }],
  ["vehicles", TRUCK],
];

function changedIn(sample: object, changes: [number, string][]): [string, string][] {
  const names = Object.keys(sample);
  return names.length === 0 ? [] : changes.map(([at, value]) => [names[at % names.length]!, value]);
}

/** Texts and numbers that stand in statements and in no source of ours: whatever comes from outside is bound. */
function valuesNotOurs(statements: ReadonlySet<string>): string[] {
  const ours = sourceFiles("src", "data").map(readSource).join("\n");
  const values = new Set([...statements].flatMap((text) => text.match(/'(?:[^']|'')*'|(?<![\w.$])\d[\d.]*/g) ?? []));
  // A word of ours stands in double quotes there, or as a name of a field.
  const word = (value: string) => value.replace(/^'(?:\$\.)?|'$/g, "");
  const isOurs = (value: string) => [value, `"${word(value)}"`, `${word(value)}:`].some((text) => ours.includes(text));
  return [...values].filter((value) => !isOurs(value));
}
