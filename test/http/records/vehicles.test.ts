import { describe, expect, test } from "vitest";
import { settingsOf } from "../../../src/store/workspaces.ts";
import { linksRuntimes } from "../../support/links-app.ts";
import { ApiDesk, VAN } from "./api-desk.ts";

const CAN = { date: "2026-04-20", cooling: "weak", added_g: 340, added_by: "cans" };

const DYE_CLEAN = { date: "2026-04-25", test: "dye", location: "anywhere", result: "clean" };

describe.each(linksRuntimes)("the records as JSON on $name", ({ start }) => {
  const desk = new ApiDesk(start);

  describe("vehicles", () => {
    test("are added, and read back with everything that was said and null for the rest", async () => {
      const added = await desk.post("/api/vehicles", VAN);
      expect(added.status).toBe(201);
      expect(added.body).toMatchObject({ ...VAN, climate: null, plan: {}, archived_at: null, version: 1 });
      expect(added.headers.get("Location")).toBe(`/api/vehicles/${added.body.id}`);
      expect(added.headers.get("ETag")).toBe('"1"');
      const read = await desk.get(added.headers.get("Location")!);
      expect([read.status, read.body, read.headers.get("ETag")]).toEqual([200, added.body, '"1"']);
      expect(read.headers.get("Cache-Control")).toBe("no-store");
    });

    test("are added with what is known already, or not at all", async () => {
      const records = { charge_log: [CAN], findings: [DYE_CLEAN], notes: [{ body: "hissed" }] };
      const { id } = await desk.newVan(records);
      expect(await desk.store.chargeLog.list(id)).toMatchObject([CAN]);
      expect(await desk.store.findings.list(id)).toMatchObject([DYE_CLEAN]);
      expect(await desk.store.notes.list(id)).toMatchObject([{ body: "hissed" }]);
      const wrong = await desk.post("/api/vehicles", { ...VAN, charge_log: [CAN, { ...CAN, added_g: 1951 }] });
      expect([wrong.status, wrong.body.error.issues]).toEqual([
        422,
        [{ path: "charge_log.1.added_g", message: expect.stringContaining("three times the nameplate charge") }],
      ]);
      expect(await desk.store.vehicles.count()).toBe(1);
    });

    test("are listed page by page, and found by words, group and depot", async () => {
      for (const label of ["Van 1", "Van 2", "Van 10"])
        await desk.newVan({ label, fleet_group: "Vans", depot: "North" });
      await desk.newVan({ label: "Bus", depot: "South" });
      const labels = async (query: string) =>
        (await desk.get(`/api/vehicles?${query}`)).body.items.map(({ label }) => label);
      const first = await desk.get("/api/vehicles?limit=3");
      expect(first.body.items).toHaveLength(3);
      expect(await labels(`limit=3&after=${encodeURIComponent(first.body.next)}`)).toEqual(["Van 10"]);
      expect(await labels("")).toEqual(["Bus", "Van 1", "Van 2", "Van 10"]);
      expect(await labels("search=VAN+10")).toEqual(["Van 10"]);
      expect(await labels("fleet_group=Vans&depot=South")).toEqual([]);
      expect(await labels("depot=South")).toEqual(["Bus"]);
    });

    test("are replaced by who saw their version, and by nobody else", async () => {
      const { id } = await desk.newVan();
      const path = `/api/vehicles/${id}`;
      const changed = await desk.ask("PUT", path, { ...VAN, label: "Van 3" }, { "If-Match": '"1"' });
      expect([changed.status, changed.body.label, changed.headers.get("ETag")]).toEqual([200, "Van 3", '"2"']);
      const late = await desk.ask("PUT", path, { ...VAN, label: "Van 4" }, { "If-Match": '"1"' });
      expect([late.status, late.body.error.message]).toEqual([
        412,
        expect.stringContaining("Someone else changed this"),
      ]);
      const unseen = await desk.ask("PUT", path, { ...VAN, label: "Van 5" });
      expect([unseen.status, unseen.body.error.issues[0]!.path]).toEqual([428, "If-Match"]);
      expect((await desk.get(path)).body).toEqual(changed.body);
    });

    test.each(["*", "1", '"0"', 'W/"1"', '"1", "2"', '"x"'])("If-Match: %s names no version", async (tag) => {
      const { id } = await desk.newVan();
      expect((await desk.ask("PUT", `/api/vehicles/${id}`, VAN, { "If-Match": tag })).status).toBe(428);
    });

    test("are archived and put back", async () => {
      const { id } = await desk.newVan();
      const archived = await desk.ask("PUT", `/api/vehicles/${id}/archival`, undefined, { "If-Match": '"1"' });
      expect([archived.status, archived.body.version]).toEqual([200, 2]);
      expect((await desk.get("/api/vehicles")).body.items).toEqual([]);
      expect((await desk.get("/api/vehicles?archived=true")).body.items).toEqual([archived.body]);
      const back = await desk.ask("DELETE", `/api/vehicles/${id}/archival`, undefined, { "If-Match": '"2"' });
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
      const answer = await desk.post("/api/vehicles", body);
      expect(answer.status).toBe(422);
      expect(new Set(answer.body.error.issues.map(({ path }) => path))).toEqual(new Set(paths));
    });

    test.each(["limit=0", "limit=201", "limit=1.5", "limit=x", "archived=yes", "after=x"])(
      "the query %s is refused",
      async (query) => {
        expect((await desk.get(`/api/vehicles?${query}`)).status).toBe(422);
      },
    );
  });

  describe("the same change arriving twice", () => {
    test("is made once", async () => {
      const headers = { "Idempotency-Key": '"6f1c7d6e-a"' };
      const [first, second] = [
        await desk.post("/api/vehicles", VAN, headers),
        await desk.post("/api/vehicles", VAN, headers),
      ];
      expect([second.status, second.body]).toEqual([201, first.body]);
      expect(await desk.store.vehicles.count()).toBe(1);
      const entry = `/api/vehicles/${first.body.id}/charge-log`;
      const lines = [
        await desk.post(entry, CAN, { "Idempotency-Key": "b" }),
        await desk.post(entry, CAN, { "Idempotency-Key": "b" }),
      ];
      expect(lines[1]!.body).toEqual(lines[0]!.body);
      expect(await desk.store.chargeLog.list(first.body.id)).toHaveLength(1);
    });

    test("with something else in it is refused", async () => {
      const headers = { "Idempotency-Key": "a" };
      await desk.post("/api/vehicles", VAN, headers);
      expect((await desk.post("/api/vehicles", { ...VAN, label: "Van 3" }, headers)).status).toBe(409);
    });

    test.each([" ", "x".repeat(65), "a b", "é"])("is not known by the key %j", async (idempotency_key) => {
      const answer = await desk.post("/api/vehicles", VAN, { "Idempotency-Key": encodeURI(idempotency_key) });
      expect([answer.status, answer.body.error.issues[0]!.path]).toEqual([422, "Idempotency-Key"]);
    });
  });

  describe("what the model says about a vehicle", () => {
    const log = [{ ...CAN, date: "2024-06-14" }, CAN];

    const GENERAL_PRICES = { currency: "USD", book: null, wanted: null, left_out: null };

    test("is what it says to the same question asked without a record", async () => {
      const { id } = await desk.newVan({ charge_log: log, findings: [DYE_CLEAN], plan: { keep_years: 3 } });
      const answer = await desk.get(`/api/vehicles/${id}/assessment?as_of=2026-05-01`);
      const question = { as_of: "2026-05-01", vehicle: { refrigerant: "R-134a", nameplate_g: 650 } };
      const asked = await desk.post("/api/assess", {
        ...question,
        log,
        findings: [DYE_CLEAN],
        plan: { keep_years: 3 },
      });
      expect([answer.status, answer.body]).toEqual([200, { ...asked.body, prices_used: GENERAL_PRICES }]);
    });

    test("takes the workspace's climate, numbers and the rules of its place", async () => {
      const current = await desk.store.settings.get();
      const changes = { climate: "hot-desert", plan: { service: "shop" as const }, place: "us-wi" };
      await desk.store.settings.update({ ...settingsOf(current), ...changes }, current.version);
      const { id } = await desk.newVan({ charge_log: log });
      const { body } = await desk.get(`/api/vehicles/${id}/assessment?as_of=2026-05-01`);
      // Wis. Admin. Code ATCP 136.16: no refrigerant into a leaking system.
      const of = (option: string) => body.options.find(({ id }) => id === option)!;
      expect([of("top-off").not_offered_because, of("repair").offered]).toEqual(["rule", true]);
      const monthly_mean_c = [13.0, 15.7, 17.3, 23.7, 27.3, 34.0, 35.6, 33.8, 30.4, 24.8, 18.0, 11.7];
      const asked = await desk.post("/api/assess", {
        as_of: "2026-05-01",
        vehicle: { refrigerant: "R-134a", nameplate_g: 650, monthly_mean_c },
        log,
        plan: { service: "shop", barred: ["top-off", "dye-test"] },
      });
      expect(body).toEqual({ ...asked.body, prices_used: GENERAL_PRICES });
    });

    test.each(["2026-02-29", "1989-12-31", "2100-01-02", "tomorrow"])("is not asked of the day %s", async (as_of) => {
      const { id } = await desk.newVan();
      expect((await desk.get(`/api/vehicles/${id}/assessment?as_of=${as_of}`)).status).toBe(422);
    });
  });
});
