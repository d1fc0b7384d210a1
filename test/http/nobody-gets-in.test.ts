import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { RETAIL_BOOK } from "../../data/price-book.ts";
import { createApp } from "../../src/app.ts";
import { openDatabase } from "../../src/store/migrations.ts";
import type { Role } from "../../src/store/roles.ts";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import { workspaceStore } from "../../src/store/workspace-store.ts";
import { ensureLocalWorkspace, LOCAL_WORKSPACE } from "../../src/store/workspaces.ts";
import { newStore, random, testClock } from "../store/engines.ts";
import { acceptedQuote, INVOICE } from "../store/invoice-samples.ts";
import { CONTENT } from "../store/quote-samples.ts";
import { CAN, DYE_CLEAN, TRUCK } from "../store/samples.ts";
import { testDeps } from "../support/deps.ts";
import { bearer, browser, type LinksApp, linksRuntimes } from "../support/links-app.ts";
import type { Ask } from "../support/runtimes.ts";

/**
 * Who gets in where: every address of the application, with what it needs. An address that is not in this table fails
 * the test, so that nobody adds one without saying who may.
 *
 * `open`: everyone. `begin`: an editor, or someone without any access, who begins records of their own. `secret`: the
 * address itself is the key, and a guessed one is not found.
 */
type Needs = Role | "open" | "begin" | "secret";

const TABLE: Readonly<Record<string, Needs>> = {
  "GET /": "open",
  "GET /healthz": "open",
  "GET /readyz": "open",
  "GET /method": "open",
  "GET /readings": "open",
  "GET /rules": "open",
  "GET /top-off": "open",
  "GET /leak-tests": "open",
  "POST /api/assess": "open",
  "POST /api/readings": "open",
  "GET /api/openapi.json": "open",

  "GET /person": "open",

  "GET /access": "open",
  "POST /access": "open",
  "GET /access/:key": "secret",
  "POST /access/:key": "secret",
  "GET /feed/:file{[\\w-]+\\.ics}": "secret",
  "GET /q/:token": "secret",
  "POST /q/:token": "secret",

  "GET /shop": "viewer",
  "GET /follow-ups": "viewer",
  "POST /follow-ups": "editor",
  "POST /follow-ups/dismissals": "editor",
  "POST /follow-ups/reopenings": "editor",

  "GET /vehicles": "viewer",
  "POST /vehicles": "begin",
  "GET /vehicles/new": "editor",
  "GET /vehicles/for-entry": "editor",
  "POST /vehicles/new": "editor",
  "POST /vehicles/examples": "editor",
  "POST /vehicles/examples/removal": "editor",
  "GET /vehicles/:id": "viewer",
  "GET /vehicles/:id/sensitivity": "viewer",
  "GET /vehicles/:id/log/read-back": "editor",
  "GET /vehicles/:id/details": "editor",
  "POST /vehicles/:id/details": "editor",
  "POST /vehicles/:id/archive": "editor",
  "POST /vehicles/:id/unarchive": "editor",
  "POST /vehicles/:id/looks": "editor",
  ...pagesOf("log"),
  ...pagesOf("findings"),
  ...pagesOf("readings"),
  "GET /vehicles/:id/readings": "viewer",
  "GET /vehicles/:id/readings/:line": "viewer",
  ...pagesOf("notes"),
  "GET /vehicles/:id/reminders": "viewer",
  "GET /vehicles/:id/reminders.ics": "viewer",

  "GET /vehicles/:id/top-off": "viewer",

  "GET /fleet": "viewer",
  "GET /fleet.csv": "viewer",
  "GET /fleet/audit": "viewer",
  "GET /fleet/audit.csv": "viewer",
  "POST /fleet/audit/closing": "editor",
  "POST /fleet/audit/reopening": "editor",
  "GET /fleet/predictions": "viewer",
  "GET /fleet/predictions.csv": "viewer",
  "GET /fleet/predictions/progress": "viewer",
  "POST /fleet/predictions": "editor",
  "GET /fleet/budget": "viewer",
  "GET /fleet/budget.csv": "viewer",
  "GET /fleet/plan": "viewer",
  "GET /fleet/plan.csv": "viewer",
  "POST /fleet/plan": "editor",
  "POST /fleet/plan/again": "editor",
  "POST /fleet/plan/next": "editor",
  "POST /fleet/plan/orders/:id": "editor",
  "GET /fleet/compare": "viewer",
  "GET /fleet/change": "editor",
  "POST /fleet/change": "editor",
  "GET /fleet/progress": "viewer",
  "GET /fleet/terms": "viewer",
  "POST /fleet/terms": "editor",
  "POST /fleet/logged": "editor",
  "POST /fleet/cooled": "editor",
  "POST /fleet/locks": "editor",
  "POST /fleet/reckoning": "editor",
  "POST /fleet/reckoning/stop": "editor",
  "GET /fleet/import": "editor",
  "POST /fleet/import": "editor",
  "GET /fleet/import/example.csv": "open",
  "GET /fleet/import/example.xlsx": "open",
  "GET /fleet.xlsx": "viewer",
  "GET /fleet/import/:id": "editor",
  "GET /fleet/import/:id/refused.csv": "editor",
  "POST /fleet/import/:id/answers": "editor",
  "POST /fleet/import/:id/take": "editor",
  "POST /fleet/import/:id/back": "editor",
  "POST /fleet/import/:id/undo": "editor",

  "GET /customers": "viewer",
  "GET /customers/new": "editor",
  "POST /customers": "editor",
  "GET /customers/:id": "viewer",
  "GET /customers/:id/details": "editor",
  "POST /customers/:id/details": "editor",
  "GET /customers/:id/vehicles/new": "editor",
  "POST /customers/:id/vehicles": "editor",
  "GET /customers/:id/export.json": "viewer",
  "POST /customers/:id/erasure": "owner",
  "GET /vehicles/:id/particulars": "editor",
  "GET /vehicles/:id/particulars/customers": "editor",
  "POST /vehicles/:id/particulars": "editor",

  "GET /refrigerant": "viewer",
  "POST /refrigerant/cylinders": "editor",
  "GET /refrigerant/cylinders/:id": "viewer",
  "POST /refrigerant/cylinders/:id": "editor",
  "POST /refrigerant/cylinders/:id/moves": "editor",
  "POST /refrigerant/cylinders/:id/moves/:move/removal": "editor",
  "GET /refrigerant/years/:year": "viewer",
  "GET /refrigerant/years/:year/sheet.csv": "viewer",
  "GET /refrigerant/work/:log": "editor",
  "POST /refrigerant/work/:log": "editor",

  "GET /invoices": "viewer",
  "GET /invoices.csv": "viewer",
  "GET /invoices/:id": "viewer",
  "GET /invoices/:id/paper": "viewer",
  "POST /invoices/:id/payments": "editor",
  "POST /invoices/:id/payments/:payment/reversal": "editor",
  "POST /invoices/:id/credit-notes": "editor",
  "GET /vehicles/:id/quotes/:quote/work-order": "viewer",
  "GET /vehicles/:id/quotes/:quote/invoice": "editor",
  "POST /vehicles/:id/quotes/:quote/invoice": "editor",

  "GET /quotes": "viewer",
  "GET /quotes.csv": "viewer",
  "GET /vehicles/:id/quotes": "viewer",
  "POST /vehicles/:id/quotes": "editor",
  "GET /vehicles/:id/quotes/:quote": "viewer",
  "POST /vehicles/:id/quotes/:quote": "editor",
  "POST /vehicles/:id/quotes/:quote/sums": "editor",
  "GET /vehicles/:id/quotes/:quote/preview": "viewer",
  "POST /vehicles/:id/quotes/:quote/preview": "editor",
  "POST /vehicles/:id/quotes/:quote/send": "editor",
  "POST /vehicles/:id/quotes/:quote/discard": "editor",
  "POST /vehicles/:id/quotes/:quote/options": "editor",
  "POST /vehicles/:id/quotes/:quote/options/:option/removal": "editor",
  "POST /vehicles/:id/quotes/:quote/options/:option/renewal": "editor",
  "POST /vehicles/:id/quotes/:quote/options/:option/lines": "editor",
  "POST /vehicles/:id/quotes/:quote/options/:option/lines/:n/removal": "editor",
  "POST /vehicles/:id/quotes/:quote/options/:option/lines/:n/up": "editor",
  "POST /vehicles/:id/quotes/:quote/link": "editor",
  "POST /vehicles/:id/quotes/:quote/withdraw": "editor",
  "POST /vehicles/:id/quotes/:quote/answer": "editor",
  "POST /vehicles/:id/quotes/:quote/agreement": "editor",
  "POST /vehicles/:id/quotes/:quote/answer/removal": "editor",
  "POST /vehicles/:id/quotes/:quote/revise": "editor",
  "POST /vehicles/:id/quotes/:quote/work": "editor",

  "GET /prices": "viewer",
  "POST /prices": "editor",
  "POST /prices/import": "editor",
  "GET /prices/letterhead": "viewer",
  "POST /prices/letterhead": "editor",
  "POST /prices/letterhead/logo": "editor",
  "POST /prices/letterhead/logo/removal": "editor",
  "GET /prices/new": "editor",
  "POST /prices/new": "editor",
  "GET /prices/:id": "viewer",
  "POST /prices/:id": "editor",
  "POST /prices/:id/archive": "editor",
  "POST /prices/:id/restoration": "editor",
  "GET /prices/:id/book.csv": "viewer",

  "GET /settings": "viewer",
  "POST /settings": "editor",
  "GET /settings/access": "owner",
  "POST /settings/access": "owner",
  "POST /settings/access/:id/revocation": "owner",
  "GET /settings/webhook": "owner",
  "POST /settings/webhook": "owner",
  "POST /settings/webhook/secret": "owner",
  "POST /settings/webhook/test": "owner",
  "POST /settings/webhook/messages/:id/sending": "owner",
  "POST /settings/webhook/removal": "owner",
  "GET /settings/records": "viewer",
  "GET /settings/export.json": "viewer",
  "GET /settings/charge-log.csv": "viewer",
  "POST /settings/erase": "owner",
  "POST /settings/import": "editor",
  "POST /settings/import/confirm": "editor",

  "GET /api/customers": "viewer",
  "GET /api/customers/:id": "viewer",
  "GET /api/quotes": "viewer",
  "GET /api/quotes/:id": "viewer",
  "GET /api/invoices": "viewer",
  "GET /api/invoices/:id": "viewer",
  "GET /api/vehicles": "viewer",
  "POST /api/vehicles": "editor",
  "GET /api/vehicles/:id": "viewer",
  "PUT /api/vehicles/:id": "editor",
  "PUT /api/vehicles/:id/archival": "editor",
  "DELETE /api/vehicles/:id/archival": "editor",
  "GET /api/vehicles/:id/assessment": "viewer",
  ...apiOf("charge-log"),
  ...apiOf("findings"),
  "POST /api/fleet/records": "editor",
  "GET /api/fleet/answers": "viewer",
  "GET /api/fleet/predictions": "viewer",
  ...apiOf("readings"),
  ...apiOf("notes"),

  "POST /leave": "open", // last: it ends the session
};

function pagesOf(ledger: string): Record<string, Needs> {
  const path = `/vehicles/:id/${ledger}`;
  return {
    [`GET ${path}/new`]: "editor",
    [`GET ${path}/history`]: "viewer",
    [`GET ${path}/:line`]: "editor",
    [`POST ${path}`]: "editor",
    [`POST ${path}/:line/corrections`]: "editor",
    [`POST ${path}/:line/removals`]: "editor",
    [`POST ${path}/:line/undos`]: "editor",
  };
}

function apiOf(ledger: string): Record<string, Needs> {
  const path = `/api/vehicles/:id/${ledger}`;
  return {
    [`GET ${path}`]: "viewer",
    [`POST ${path}`]: "editor",
    [`GET /api/vehicles/:id/history/${ledger}`]: "viewer",
    [`GET ${path}/:entry`]: "viewer",
    [`GET ${path}/:entry/versions`]: "viewer",
    [`PUT ${path}/:entry`]: "editor",
    [`DELETE ${path}/:entry`]: "editor",
    [`POST ${path}/:entry/undo`]: "editor",
  };
}

test("every address of the application is in the table, and nothing else", () => {
  const routes = createApp(testDeps()).routes.filter(({ method }) => method !== "ALL");
  expect(new Set(Object.keys(TABLE))).toEqual(new Set(routes.map(({ method, path }) => `${method} ${path}`)));
});

/** The records that nobody else may see: their words stand nowhere else. */
const SECRET_WORDS = "Xylophone";
const READINGS = { date: "2026-04-24", ambient_c: 30, static_kpa: 500, note: SECRET_WORDS };

/** A workspace with one of everything, and the ids that stand in addresses. */
async function withEverything(store: WorkspaceStore, app: Pick<LinksApp, "request">, headers: Record<string, string>) {
  const truck = await store.vehicles.create({ ...TRUCK, label: SECRET_WORDS });
  const lines: Record<string, string> = {
    log: (await store.chargeLog.add(truck.id, CAN)).id,
    work: (await store.chargeLog.add(truck.id, CAN)).id,
    findings: (await store.findings.add(truck.id, DYE_CLEAN)).id,
    readings: (await store.readings.add(truck.id, READINGS)).id,
    notes: (await store.notes.add(truck.id, { body: SECRET_WORDS })).id,
  };
  lines["charge-log"] = lines.log!;
  const book = await store.priceBooks.create({ ...RETAIL_BOOK, name: `${SECRET_WORDS} ${truck.id}` });
  const key = await store.accessKeys.create("api", "viewer", SECRET_WORDS);
  const customer = await newCustomer(store);
  const bottle = { name: SECRET_WORDS, refrigerant: "R-134a", condition: "new", most_g: null, retired: false } as const;
  const cylinder = await store.refrigerantLog.create(bottle);
  const accepted = await acceptedQuote(store, customer);
  const invoice = await store.invoices.issue(
    accepted,
    { ...INVOICE, customer: { name: SECRET_WORDS, address: "" } },
    1,
  );
  const paid = { amount_minor: 1_00, paid_on: "2026-05-01", method: "cash" as const, note: SECRET_WORDS };
  const payment = await store.invoices.pay(invoice.id, paid);
  const billed = { invoice: invoice.id, payment: payment.id, quote: accepted.quote_id, vehicle: accepted.vehicle_id };
  return {
    message: await newMessage(store),
    vehicle: truck.id,
    lines,
    quote: await newQuote(store, truck.id),
    book: book.id,
    key: key.id,
    customer,
    billed,
    cylinder: cylinder.id,
    move: await newMove(store, cylinder.id),
    waiting: await waitingImport(app, headers),
    work_order: await newOrder(store),
  };
}
type Everything = Awaited<ReturnType<typeof withEverything>>;

async function newCustomer(store: WorkspaceStore): Promise<string> {
  return (await store.customers.create({ name: SECRET_WORDS, phone: "", email: "", address: "", note: "" })).id;
}

async function newQuote(store: WorkspaceStore, vehicle: string): Promise<string> {
  return (await store.quotes.create(vehicle, { ...CONTENT, customer: SECRET_WORDS })).id;
}

async function newMove(store: WorkspaceStore, cylinder: string): Promise<string> {
  const received = { kind: "received", date: "2026-01-05", amount_g: 1, note: SECRET_WORDS } as const;
  await store.refrigerantLog.addMove(cylinder, received);
  const [moved] = await store.refrigerantLog.lines(cylinder);
  return moved!.move_id ?? "";
}

async function newMessage(store: WorkspaceStore): Promise<string> {
  await store.webhooks.save("https://shop.example/messages", (await store.webhooks.get()).version);
  await store.webhooks.sendTest();
  const [message] = await store.webhooks.messages(1);
  return message!.id;
}

/** An order for a vehicle of its own: a vehicle has one a year. */
async function newOrder(store: WorkspaceStore): Promise<string> {
  const { id: vehicle_id } = await store.vehicles.create({ ...TRUCK, label: SECRET_WORDS });
  const terms = { budget: 900, aim: "cost" as const, shop: null, depots: [] };
  const planned = { vehicle_id, option: "repair" as const, price: 250, month: "2026-06", depot: SECRET_WORDS };
  const order = { ...planned, saves: 40, avoids_kg: 900, held: true, carried_from: null };
  const kept = await store.fleetPlans.find(2026);
  await store.fleetPlans.save({ year: 2026, terms, currency: "USD" }, [order], kept?.version ?? 0);
  return (await store.fleetPlans.orders(2026)).find((kept) => kept.vehicle_id === vehicle_id)!.id;
}

/** A file that was sent in and waits for the word. */
async function waitingImport(app: Pick<LinksApp, "request">, headers: Record<string, string>): Promise<string> {
  const example = await (await app.request("/fleet/import/example.csv")).text();
  const sent = await app.request("/fleet/import", {
    method: "POST",
    headers: { ...headers, "Sec-Fetch-Site": "same-origin", "Content-Type": "multipart/form-data; boundary=part" },
    body: `--part\r\nContent-Disposition: form-data; name="file"; filename="a.csv"\r\n\r\n${example}\r\n--part--\r\n`,
  });
  return sent.headers.get("Location")?.split("/").at(-1) ?? "";
}

/**
 * For an address after which what it is about may be gone: the ids with records of its own in place of the spent ones.
 */
async function forItsOwn(
  method: string,
  path: string,
  ids: Everything,
  { store, app, headers }: { store: WorkspaceStore; app: Pick<LinksApp, "request">; headers: Record<string, string> },
): Promise<Everything> {
  if (/:quote(?!\/(?:invoice|work-order))/.test(path) && method !== "GET")
    return { ...ids, quote: await newQuote(store, ids.vehicle) };
  if (path === "/customers/:id/erasure") return { ...ids, customer: await newCustomer(store) };
  if (path.startsWith("/settings/webhook/")) return { ...ids, message: await newMessage(store) };
  if (path.endsWith("/moves/:move/removal")) return { ...ids, move: await newMove(store, ids.cylinder) };
  if (path.startsWith("/fleet/import/:id")) return { ...ids, waiting: await waitingImport(app, headers) };
  // Let go, it is replaced when the next plan is saved.
  if (path === "/fleet/plan/orders/:id") return { ...ids, work_order: await newOrder(store) };
  return ids;
}

/** An address of the table with the ids of the records in it. */
function addressIn(path: string, ids: Everything): string {
  const ledger = /\/([\w-]+)\/:(?:line|entry)/.exec(path)?.[1] ?? "";
  const others = {
    "/customers/": ids.customer,
    "/api/customers/": ids.customer,
    "/api/quotes/": ids.quote,
    "/api/invoices/": ids.billed.invoice,
    "/invoices/": ids.billed.invoice,
    "/refrigerant/cylinders/": ids.cylinder,
    "/prices/": ids.book,
    "/settings/access/": ids.key,
    "/settings/webhook/": ids.message,
    "/fleet/import/": ids.waiting,
    "/fleet/plan/orders/": ids.work_order,
  };
  const of_accepted = /:quote\/(?:invoice|work-order)$/.test(path);
  if (of_accepted) return path.replace(":id", ids.billed.vehicle).replace(":quote", ids.billed.quote);
  const id = Object.entries(others).find(([start]) => path.startsWith(start))?.[1] ?? ids.vehicle;
  return path
    .replace(/:file\{.*\}/, `${"a".repeat(43)}.ics`)
    .replace(/:(?:key|token)/, "a".repeat(43))
    .replace(/:(?:line|entry)/, ids.lines[ledger] ?? "")
    .replace(":quote", ids.quote)
    .replace(":payment", ids.billed.payment)
    .replace(":move", ids.move)
    .replace(":year", "2026")
    .replace(":log", ids.lines.work ?? "")
    .replace(":option", "a")
    .replace(":n", "1")
    .replace(":id", id);
}

/** What is sent along: as much as it takes to get as far as the record. */
function askOf(method: string, path: string, headers: Record<string, string>) {
  if (method === "GET") return { method, headers };
  if (path.startsWith("/api/")) {
    const ledger = path.split("/")[4] ?? "";
    const bodies: Record<string, object> = {
      "charge-log": CAN,
      findings: DYE_CLEAN,
      readings: READINGS,
      notes: { body: "x" },
    };
    const { label, refrigerant, nameplate_g } = TRUCK;
    const body = JSON.stringify(bodies[ledger] ?? { label, refrigerant, nameplate_g });
    return { method, headers: { ...headers, "Content-Type": "application/json", "If-Match": '"1"' }, body };
  }
  const fields = {
    version: "1",
    submit_key: String(Math.random()).slice(2),
    ...{ when: "2026-04-20", cooling: "weak", test: "dye", location: "hose", result: "leak", body: "x" },
    ...{ label: "x", refrigerant: "R-134a", nameplate: "650 g" },
    ...{ customer: "x", keep_years: "5", book: "retail" },
    ...{ name: "x", from: "retail" },
  };
  const form = { "Content-Type": "application/x-www-form-urlencoded", "Sec-Fetch-Site": "same-origin" };
  return { method, headers: { ...headers, ...form }, body: String(new URLSearchParams(fields)) };
}

const VISITORS = ["nobody", "another owner", "viewer", "editor", "owner", "revoked"] as const;
type Visitor = (typeof VISITORS)[number];

/**
 * What an address says to a visitor: a refusal, or null for what lies behind it, whatever it makes of what was sent.
 */
function refusal(needs: Needs, path: string, visitor: Visitor, how: "cookie" | "key"): number | null {
  if (needs === "open") return null;
  if (needs === "secret") return 404;
  // A browser whose session has ended is nobody's; a key that was revoked is refused wherever a key is looked at.
  if (visitor === "nobody" || visitor === "revoked")
    return needs === "begin" && (visitor === "nobody" || how === "cookie") ? null : 401;
  // Their own records are theirs; ids of others are not found.
  if (visitor === "another owner") return path.includes(":") && !SAME_EITHER_WAY.has(path) ? 404 : null;
  const least: Role = needs === "begin" ? "editor" : needs;
  const rank: readonly Visitor[] = ["viewer", "editor", "owner"];
  return rank.indexOf(visitor) < rank.indexOf(least) ? 403 : null;
}

/**
 * Throwing something away that is not there is done, so that a button may be pressed twice; it answers the same to a
 * guess.
 */
const SAME_EITHER_WAY: ReadonlySet<string> = new Set([
  "/fleet/import/:id/back",
  "/refrigerant/years/:year",
  "/refrigerant/years/:year/sheet.csv",
]);

const REFUSALS = [401, 403, 404];

/** What a form of another site may send without asking first (HTML Standard, "enctype"). */
const TYPES_OF_FORMS = ["application/x-www-form-urlencoded", "multipart/form-data; boundary=x", "text/plain"];

describe.each(linksRuntimes)("nobody gets in on $name", ({ name, start }) => {
  let app: LinksApp;
  let store: WorkspaceStore;
  let ids: Everything;
  /** The headers of each visitor, with a cookie and with a key. */
  let visitors: Record<"cookie" | "key", Record<Visitor, Record<string, string>>>;
  beforeAll(async () => {
    app = await start();
    store = await newStore(app.sql);
    const elsewhere = await newStore(app.sql);
    type Enter = (of: WorkspaceStore, role: Role) => Promise<{ id: string; headers: Record<string, string> }>;
    const made = async (how: Enter) => {
      const gone = await how(store, "owner");
      const all = {
        nobody: {},
        "another owner": (await how(elsewhere, "owner")).headers,
        viewer: (await how(store, "viewer")).headers,
        editor: (await how(store, "editor")).headers,
        owner: (await how(store, "owner")).headers,
        revoked: gone.headers,
      };
      await store.accessKeys.revoke(gone.id);
      return all;
    };
    visitors = { cookie: await made((of, role) => browser(app, of, role)), key: await made(bearer) };
    ids = await withEverything(store, app, visitors.key.owner);
  });
  afterAll(() => app.close());
  // One file waits in a workspace, and those who may send one in replace it.
  beforeEach(async () => {
    ids = { ...ids, waiting: await waitingImport(app, visitors.key.owner) };
  });

  const everything = async () => {
    const { exported_at, ...document } = await store.transfer.export();
    const [quotes, books, keys] = await Promise.all([
      store.quotes.recent(),
      store.priceBooks.list(),
      store.accessKeys.list(),
    ]);
    const unused = keys.map(({ last_used_at, ...key }) => key);
    const waiting = await store.imports.get(ids.waiting);
    return { document, quotes, books, keys: unused, waiting };
  };

  // What a cookie opens on Workers, access.test.ts shows; the routes are the same.
  describe.each(name === "Node" ? (["cookie", "key"] as const) : (["key"] as const))("with a %s", (how) => {
    test.each(VISITORS.filter((visitor) => visitor !== "editor" && visitor !== "owner"))(
      "%s is kept out of everything that is not theirs, and changes nothing",
      async (visitor) => {
        const before = await everything();
        const wrong: unknown[] = [];
        for (const [route, needs] of Object.entries(TABLE)) {
          const [method, path] = route.split(" ") as [string, string];
          const answer = await app.request(addressIn(path, ids), askOf(method, path, visitors[how][visitor]));
          const expected = refusal(needs, path, visitor, how);
          const fits = expected === null ? !REFUSALS.includes(answer.status) : answer.status === expected;
          if (!fits || answer.status >= 500) wrong.push([route, answer.status, expected]);
          const text = await answer.text();
          if (visitor !== "viewer" && text.includes(SECRET_WORDS)) wrong.push([route, "tells"]);
        }
        expect(wrong).toEqual([]);
        expect(await everything()).toEqual(before);
      },
    );

    test.each(["editor", "owner"] as const)(
      "the %s is let in everywhere that they may be, and nowhere else",
      async (visitor) => {
        const wrong: unknown[] = [];
        for (const [route, needs] of Object.entries(TABLE)) {
          const [method, path] = route.split(" ") as [string, string];
          const expected = refusal(needs, path, visitor, how);
          const own = { store, app, headers: visitors.key.owner };
          const found = expected === null ? await forItsOwn(method, path, ids, own) : ids;
          const answer = await app.request(addressIn(path, found), askOf(method, path, visitors[how][visitor]));
          const fits = expected === null ? !REFUSALS.includes(answer.status) : answer.status === expected;
          if (!fits || answer.status >= 500) wrong.push([route, answer.status, expected]);
        }
        expect(wrong).toEqual([]);
      },
    );
  });

  test("a form of another site changes nothing, whoever the browser belongs to", async () => {
    const before = await everything();
    const wrong: unknown[] = [];
    for (const route of Object.keys(TABLE)) {
      const [method, path] = route.split(" ") as [string, string];
      if (method === "GET") continue;
      for (const type of TYPES_OF_FORMS) {
        const ask = askOf(method, path, visitors.cookie.owner);
        const elsewhere = { "Sec-Fetch-Site": "cross-site", Origin: "https://elsewhere.example", "Content-Type": type };
        const answer = await app.request(addressIn(path, ids), { ...ask, headers: { ...ask.headers, ...elsewhere } });
        if (answer.status !== 403) wrong.push([route, type, answer.status]);
      }
    }
    expect(wrong).toEqual([]);
    expect(await everything()).toEqual(before);
  });
});

describe("on this machine alone", () => {
  /** The application as `npm start` serves it, with everything in its workspace. */
  async function local() {
    const sql = await openDatabase(":memory:");
    const now = testClock();
    await ensureLocalWorkspace({ sql, now });
    const served = createApp(testDeps({ sql: () => sql, random }));
    const app = { request: async (path: string, ask?: Ask) => served.request(path, ask) };
    const owner = { role: "owner", actor: "local" } as const;
    const store = workspaceStore({ sql, workspaceId: LOCAL_WORKSPACE, ...owner, now, random });
    return { app, store };
  }

  test("everything is open to the one who sits there, without signing in", async () => {
    const { app, store } = await local();
    const ids = await withEverything(store, app, {});
    const wrong: unknown[] = [];
    for (const [route, needs] of Object.entries(TABLE)) {
      const [method, path] = route.split(" ") as [string, string];
      const found = await forItsOwn(method, path, ids, { store, app, headers: {} });
      const answer = await app.request(addressIn(path, found), askOf(method, path, {}));
      if (needs === "secret" ? answer.status !== 404 : REFUSALS.includes(answer.status) || answer.status >= 500)
        wrong.push([route, answer.status]);
      if (answer.headers.get("Set-Cookie")?.includes("__Host-seepwise=") && route !== "POST /leave")
        wrong.push([route, "sets a cookie"]);
    }
    expect(wrong).toEqual([]);
  });

  test("a page elsewhere, open in the same browser, changes nothing", async () => {
    const { app, store } = await local();
    const ids = await withEverything(store, app, {});
    const before = JSON.stringify((await store.transfer.export()).vehicles);
    for (const route of Object.keys(TABLE)) {
      const [method, path] = route.split(" ") as [string, string];
      if (method === "GET") continue;
      const ask = askOf(method, path, {});
      // What a browser sends without asking this server first (Fetch Standard, "CORS-safelisted request-header").
      const headers = {
        "Sec-Fetch-Site": "cross-site",
        Origin: "https://elsewhere.example",
        "Content-Type": "text/plain",
      };
      const answer = await app.request(addressIn(path, ids), { ...ask, method: "POST", headers });
      expect([403, 404, 405], route).toContain(answer.status);
    }
    expect(JSON.stringify((await store.transfer.export()).vehicles)).toBe(before);
  });
});
