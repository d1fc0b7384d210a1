import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import type { Issue } from "../../src/core/problem.ts";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import { settingsOf } from "../../src/store/workspaces.ts";
import { newStore } from "../store/engines.ts";
import { bearer, type LinksApp, linksRuntimes } from "../support/links-app.ts";

const VAN = { label: "Van 2", refrigerant: "R-134a", nameplate_g: 650 };
const CAN = { date: "2026-04-20", cooling: "weak", added_g: 340, added_by: "cans" };
const READ_LOW = { date: "2026-04-28", ambient_c: 29.5, low_kpa: 204.7, high_kpa: 928.7, clutch: "cycles-fast" };
const DYE_CLEAN = { date: "2026-04-25", test: "dye", location: "anywhere", result: "clean" };

/** What an answer may have in it; which of it is there, the tests say. */
interface Body {
  id: string;
  label: string;
  version: number;
  body: string;
  archived_at: string | null;
  items: Body[];
  next: string;
  not_offered_because: string | null;
  offered: boolean;
  options: Body[];
  error: { message: string; issues: Issue[] };
}

describe.each(linksRuntimes)("the records as JSON on $name", ({ start }) => {
  let app: LinksApp;
  let store: WorkspaceStore;
  let key: Record<string, string>;
  beforeAll(async () => {
    app = await start();
  });
  beforeEach(async () => {
    store = await newStore(app.sql);
    key = (await bearer(store, "editor")).headers;
  });
  afterAll(() => app.close());

  interface Told {
    status: number;
    headers: Headers;
    body: Body;
  }

  async function ask(
    method: string,
    path: string,
    body?: unknown,
    headers: Record<string, string> = {},
  ): Promise<Told> {
    const answer = await app.request(path, {
      method,
      headers: { ...key, ...(body === undefined ? {} : { "Content-Type": "application/json" }), ...headers },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    });
    return { status: answer.status, headers: answer.headers, body: (await answer.json()) as Body };
  }
  const get = (path: string) => ask("GET", path);
  const post = (path: string, body: unknown, headers = {}) => ask("POST", path, body, headers);
  const newVan = async (changes: object = {}) => (await post("/api/vehicles", { ...VAN, ...changes })).body;

  describe("vehicles", () => {
    test("are added, and read back with everything that was said and null for the rest", async () => {
      const added = await post("/api/vehicles", VAN);
      expect(added.status).toBe(201);
      expect(added.body).toMatchObject({ ...VAN, climate: null, plan: {}, archived_at: null, version: 1 });
      expect(added.headers.get("Location")).toBe(`/api/vehicles/${added.body.id}`);
      expect(added.headers.get("ETag")).toBe('"1"');
      const read = await get(added.headers.get("Location")!);
      expect([read.status, read.body, read.headers.get("ETag")]).toEqual([200, added.body, '"1"']);
      expect(read.headers.get("Cache-Control")).toBe("no-store");
    });

    test("are added with what is known already, or not at all", async () => {
      const records = { charge_log: [CAN], findings: [DYE_CLEAN], notes: [{ body: "hissed" }] };
      const { id } = await newVan(records);
      expect(await store.chargeLog.list(id)).toMatchObject([CAN]);
      expect(await store.findings.list(id)).toMatchObject([DYE_CLEAN]);
      expect(await store.notes.list(id)).toMatchObject([{ body: "hissed" }]);
      const wrong = await post("/api/vehicles", { ...VAN, charge_log: [CAN, { ...CAN, added_g: 1951 }] });
      expect([wrong.status, wrong.body.error.issues]).toEqual([
        422,
        [{ path: "charge_log.1.added_g", message: expect.stringContaining("three times the nameplate charge") }],
      ]);
      expect(await store.vehicles.count()).toBe(1);
    });

    test("are listed page by page, and found by words, group and depot", async () => {
      for (const label of ["Van 1", "Van 2", "Van 10"]) await newVan({ label, fleet_group: "Vans", depot: "North" });
      await newVan({ label: "Bus", depot: "South" });
      const labels = async (query: string) =>
        (await get(`/api/vehicles?${query}`)).body.items.map(({ label }) => label);
      const first = await get("/api/vehicles?limit=3");
      expect(first.body.items).toHaveLength(3);
      expect(await labels(`limit=3&after=${encodeURIComponent(first.body.next)}`)).toEqual(["Van 10"]);
      expect(await labels("")).toEqual(["Bus", "Van 1", "Van 2", "Van 10"]);
      expect(await labels("search=VAN+10")).toEqual(["Van 10"]);
      expect(await labels("fleet_group=Vans&depot=South")).toEqual([]);
      expect(await labels("depot=South")).toEqual(["Bus"]);
    });

    test("are replaced by who saw their version, and by nobody else", async () => {
      const { id } = await newVan();
      const path = `/api/vehicles/${id}`;
      const changed = await ask("PUT", path, { ...VAN, label: "Van 3" }, { "If-Match": '"1"' });
      expect([changed.status, changed.body.label, changed.headers.get("ETag")]).toEqual([200, "Van 3", '"2"']);
      const late = await ask("PUT", path, { ...VAN, label: "Van 4" }, { "If-Match": '"1"' });
      expect([late.status, late.body.error.message]).toEqual([
        412,
        expect.stringContaining("Someone else changed this"),
      ]);
      const unseen = await ask("PUT", path, { ...VAN, label: "Van 5" });
      expect([unseen.status, unseen.body.error.issues[0]!.path]).toEqual([428, "If-Match"]);
      expect((await get(path)).body).toEqual(changed.body);
    });

    test.each(["*", "1", '"0"', 'W/"1"', '"1", "2"', '"x"'])("If-Match: %s names no version", async (tag) => {
      const { id } = await newVan();
      expect((await ask("PUT", `/api/vehicles/${id}`, VAN, { "If-Match": tag })).status).toBe(428);
    });

    test("are archived and put back", async () => {
      const { id } = await newVan();
      const archived = await ask("PUT", `/api/vehicles/${id}/archival`, undefined, { "If-Match": '"1"' });
      expect([archived.status, archived.body.version]).toEqual([200, 2]);
      expect((await get("/api/vehicles")).body.items).toEqual([]);
      expect((await get("/api/vehicles?archived=true")).body.items).toEqual([archived.body]);
      const back = await ask("DELETE", `/api/vehicles/${id}/archival`, undefined, { "If-Match": '"2"' });
      expect([back.status, back.body.archived_at]).toEqual([200, null]);
    });

    test.each([
      ["nothing", {}, ["label", "nameplate_g", "refrigerant"]],
      ["a blank name", { ...VAN, label: "  " }, ["label"]],
      ["a name over 120 characters", { ...VAN, label: "x".repeat(121) }, ["label"]],
      ["a climate that is none", { ...VAN, climate: "mild" }, ["climate"]],
      ["an unknown field", { ...VAN, wheels: 4 }, ["wheels"]],
      ["a charge of 99 g", { ...VAN, nameplate_g: 99 }, ["nameplate_g"]],
      ["eleven months", { ...VAN, monthly_mean_c: Array(11).fill(10) }, ["monthly_mean_c"]],
      ["a price below nothing", { ...VAN, prices: { can_price: -1 } }, ["prices.can_price"]],
      ["a list", [VAN], [""]],
    ])("with %s are refused, and it says where", async (_what, body, paths) => {
      const answer = await post("/api/vehicles", body);
      expect(answer.status).toBe(422);
      expect(new Set(answer.body.error.issues.map(({ path }) => path))).toEqual(new Set(paths));
    });

    test.each(["limit=0", "limit=201", "limit=1.5", "limit=x", "archived=yes", "after=x"])(
      "the query %s is refused",
      async (query) => {
        expect((await get(`/api/vehicles?${query}`)).status).toBe(422);
      },
    );
  });

  describe("the same change arriving twice", () => {
    test("is made once", async () => {
      const headers = { "Idempotency-Key": '"6f1c7d6e-a"' };
      const [first, second] = [await post("/api/vehicles", VAN, headers), await post("/api/vehicles", VAN, headers)];
      expect([second.status, second.body]).toEqual([201, first.body]);
      expect(await store.vehicles.count()).toBe(1);
      const entry = `/api/vehicles/${first.body.id}/charge-log`;
      const lines = [
        await post(entry, CAN, { "Idempotency-Key": "b" }),
        await post(entry, CAN, { "Idempotency-Key": "b" }),
      ];
      expect(lines[1]!.body).toEqual(lines[0]!.body);
      expect(await store.chargeLog.list(first.body.id)).toHaveLength(1);
    });

    test("with something else in it is refused", async () => {
      const headers = { "Idempotency-Key": "a" };
      await post("/api/vehicles", VAN, headers);
      expect((await post("/api/vehicles", { ...VAN, label: "Van 3" }, headers)).status).toBe(409);
    });

    test.each([" ", "x".repeat(65), "a b", "é"])("is not known by the key %j", async (idempotency_key) => {
      const answer = await post("/api/vehicles", VAN, { "Idempotency-Key": encodeURI(idempotency_key) });
      expect([answer.status, answer.body.error.issues[0]!.path]).toEqual([422, "Idempotency-Key"]);
    });
  });

  describe.each([
    { ledger: "charge-log", one: CAN, other: { ...CAN, added_g: 300, note: "half a can" } },
    { ledger: "findings", one: DYE_CLEAN, other: { ...DYE_CLEAN, location: "hose", result: "leak" } },
    { ledger: "readings", one: READ_LOW, other: { date: "2026-04-28", ambient_c: 30, vent_c: 9 } },
    { ledger: "notes", one: { body: "hissed" }, other: { body: "hissed on the left" } },
  ])("the $ledger", ({ ledger, one, other }) => {
    async function withEntry() {
      const { id } = await newVan();
      const entries = `/api/vehicles/${id}/${ledger}`;
      const added = await post(entries, one);
      return { id, entries, added, path: `${entries}/${added.body.id}` };
    }
    const seen = (version: number) => ({ "If-Match": `"${version}"` });

    test("takes an entry and gives it back", async () => {
      const { id, entries, added, path } = await withEntry();
      expect(added.status).toBe(201);
      expect(added.body).toMatchObject({ ...one, vehicle_id: id, version: 1, change: "added", number: 1 });
      expect(added.headers.get("Location")).toBe(path);
      expect((await get(path)).body).toEqual(added.body);
      expect((await get(entries)).body).toEqual({ items: [added.body], next: null });
    });

    test("keeps what was corrected, removed and undone", async () => {
      const { id, entries, added, path } = await withEntry();
      const corrected = await ask("PUT", path, other, seen(1));
      expect([corrected.status, corrected.headers.get("ETag")]).toEqual([200, '"2"']);
      expect(corrected.body).toMatchObject({ ...other, change: "corrected" });
      const undone = await ask("POST", `${path}/undo`, undefined, seen(2));
      expect(undone.body).toMatchObject({ ...one, version: 3, change: "restored" });
      const removed = await ask("DELETE", path, undefined, seen(3));
      expect(removed.body).toMatchObject({ version: 4, change: "removed" });
      expect((await get(entries)).body.items).toEqual([]);
      const all = [added.body, corrected.body, undone.body, removed.body];
      expect((await get(`${path}/versions`)).body.items).toEqual(all);
      const newest = await get(`/api/vehicles/${id}/history/${ledger}?limit=3`);
      expect(newest.body.items).toEqual(all.toReversed().slice(0, 3));
      const rest = await get(`/api/vehicles/${id}/history/${ledger}?after=${encodeURIComponent(newest.body.next)}`);
      expect(rest.body).toEqual({ items: [added.body], next: null });
    });

    test("is not changed by who saw another version, or none", async () => {
      const { path } = await withEntry();
      const corrected = await ask("PUT", path, other, seen(1));
      for (const [method, to, body] of [
        ["PUT", path, one],
        ["DELETE", path, undefined],
        ["POST", `${path}/undo`, undefined],
      ] as const) {
        expect((await ask(method, to, body, seen(1))).status).toBe(412);
        expect((await ask(method, to, body, seen(7))).status).toBe(412);
        expect((await ask(method, to, body)).status).toBe(428);
      }
      expect((await get(path)).body).toEqual(corrected.body);
    });

    test("has no entry of another vehicle", async () => {
      const { added } = await withEntry();
      const elsewhere = `/api/vehicles/${(await newVan()).id}/${ledger}/${added.body.id}`;
      expect((await get(elsewhere)).status).toBe(404);
      expect((await get(`${elsewhere}/versions`)).status).toBe(404);
      expect((await ask("PUT", elsewhere, other, seen(1))).status).toBe(404);
      expect((await ask("DELETE", elsewhere, undefined, seen(1))).status).toBe(404);
      expect((await ask("POST", `${elsewhere}/undo`, undefined, seen(1))).status).toBe(404);
      expect((await get("/api/vehicles/none/charge-log")).status).toBe(404);
      expect((await post(`/api/vehicles/none/${ledger}`, one)).status).toBe(404);
    });
  });

  test.each([
    ["charge-log", { ...CAN, date: "2026-02-29" }, "date"],
    ["charge-log", { ...CAN, date: "2199-01-01" }, "date"],
    ["charge-log", { ...CAN, date: "1979-12-31" }, "date"],
    ["charge-log", { ...CAN, added_g: 1950.1 }, "added_g"],
    ["charge-log", { ...CAN, recovered_g: -1 }, "recovered_g"],
    ["charge-log", { ...CAN, note: "x".repeat(2001) }, "note"],
    ["charge-log", { ...CAN, dye: "yes" }, "dye"],
    ["charge-log", { ...CAN, amount: 340 }, "amount"],
    ["findings", { ...DYE_CLEAN, result: "leak" }, "location"],
    ["findings", { ...DYE_CLEAN, date: "2199-01-01" }, "date"],
    ["findings", { ...DYE_CLEAN, dye: "added" }, "dye"],
    ["charge-log", { ...CAN, cans_opened: 0.5 }, "cans_opened"],
    ["charge-log", { ...CAN, deposit_return_by: "soon" }, "deposit_return_by"],
    ["readings", { date: "2026-04-28" }, "ambient_c"],
    ["readings", { ...READ_LOW, date: "2199-01-01" }, "date"],
    ["readings", { ...READ_LOW, low_kpa: -1 }, "low_kpa"],
    ["readings", { ...READ_LOW, clutch: "maybe" }, "clutch"],
    ["readings", { ...READ_LOW, refrigerant: "R-134a" }, "refrigerant"],
    ["notes", { body: "" }, "body"],
    ["notes", { body: "x".repeat(20_001) }, "body"],
    ["notes", {}, "body"],
  ])("%s: %o is refused at %s", async (ledger, body, path) => {
    const { id } = await newVan();
    const answer = await post(`/api/vehicles/${id}/${ledger}`, body);
    expect([answer.status, answer.body.error.issues]).toEqual([422, [{ path, message: expect.any(String) }]]);
  });

  test("right-to-left text, emoji and the longest note come back as they were sent", async () => {
    const { id } = await newVan({ label: "שלום 👩🏽‍🔧" });
    expect((await get(`/api/vehicles/${id}`)).body.label).toBe("שלום 👩🏽‍🔧");
    const body = "👩🏽‍🔧".repeat(5000);
    expect((await post(`/api/vehicles/${id}/notes`, { body })).body.body).toBe(body);
  });

  describe("what the model says about a vehicle", () => {
    const log = [{ ...CAN, date: "2024-06-14" }, CAN];

    const GENERAL_PRICES = { currency: "USD", book: null, wanted: null, left_out: null };

    test("is what it says to the same question asked without a record", async () => {
      const { id } = await newVan({ charge_log: log, findings: [DYE_CLEAN], plan: { keep_years: 3 } });
      const answer = await get(`/api/vehicles/${id}/assessment?as_of=2026-05-01`);
      const question = { as_of: "2026-05-01", vehicle: { refrigerant: "R-134a", nameplate_g: 650 } };
      const asked = await post("/api/assess", { ...question, log, findings: [DYE_CLEAN], plan: { keep_years: 3 } });
      expect([answer.status, answer.body]).toEqual([200, { ...asked.body, prices_used: GENERAL_PRICES }]);
    });

    test("takes the workspace's climate, numbers and the rules of its place", async () => {
      const current = await store.settings.get();
      const changes = { climate: "hot-desert", plan: { service: "shop" as const }, place: "us-wi" };
      await store.settings.update({ ...settingsOf(current), ...changes }, current.version);
      const { id } = await newVan({ charge_log: log });
      const { body } = await get(`/api/vehicles/${id}/assessment?as_of=2026-05-01`);
      // Wis. Admin. Code ATCP 136.16: no refrigerant into a leaking system.
      const of = (option: string) => body.options.find(({ id }) => id === option)!;
      expect([of("top-off").not_offered_because, of("repair").offered]).toEqual(["rule", true]);
      const monthly_mean_c = [13.0, 15.7, 17.3, 23.7, 27.3, 34.0, 35.6, 33.8, 30.4, 24.8, 18.0, 11.7];
      const asked = await post("/api/assess", {
        as_of: "2026-05-01",
        vehicle: { refrigerant: "R-134a", nameplate_g: 650, monthly_mean_c },
        log,
        plan: { service: "shop", barred: ["top-off", "dye-test"] },
      });
      expect(body).toEqual({ ...asked.body, prices_used: GENERAL_PRICES });
    });

    test.each(["2026-02-29", "1989-12-31", "2100-01-02", "tomorrow"])("is not asked of the day %s", async (as_of) => {
      const { id } = await newVan();
      expect((await get(`/api/vehicles/${id}/assessment?as_of=${as_of}`)).status).toBe(422);
    });
  });

  test("what is not JSON, or does not say so, is not read", async () => {
    for (const headers of [{ "Content-Type": "application/json" }, { "Content-Type": "text/plain" }, {}]) {
      const answer = await app.request("/api/vehicles", { method: "POST", headers: { ...key, ...headers }, body: "{" });
      expect(answer.status).toBe(400);
    }
  });

  test("nobody without a key is let in, and is told which kind is asked for", async () => {
    const answer = await app.request("/api/vehicles");
    expect([answer.status, answer.headers.get("WWW-Authenticate")]).toEqual([401, "Bearer"]);
  });
});
