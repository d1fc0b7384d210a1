import { describe, expect, test } from "vitest";
import { linksRuntimes } from "../../support/links-app.ts";
import { ApiDesk, CAN, DYE_CLEAN, VAN } from "./api-desk.ts";

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
});
