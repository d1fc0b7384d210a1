import { describe, expect, test } from "vitest";
import { linksRuntimes } from "../../support/links-app.ts";
import { ApiDesk, CAN, DYE_CLEAN } from "./api-desk.ts";

const READ_LOW = { date: "2026-04-28", ambient_c: 29.5, low_kpa: 204.7, high_kpa: 928.7, clutch: "cycles-fast" };

describe.each(linksRuntimes)("the records as JSON on $name", ({ start }) => {
  const desk = new ApiDesk(start);

  describe.each([
    { ledger: "charge-log", one: CAN, other: { ...CAN, added_g: 300, note: "half a can" } },
    { ledger: "findings", one: DYE_CLEAN, other: { ...DYE_CLEAN, location: "hose", result: "leak" } },
    { ledger: "readings", one: READ_LOW, other: { date: "2026-04-28", ambient_c: 30, vent_c: 9 } },
    { ledger: "notes", one: { body: "hissed" }, other: { body: "hissed on the left" } },
  ])("the $ledger", ({ ledger, one, other }) => {
    async function withEntry() {
      const { id } = await desk.newVan();
      const entries = `/api/vehicles/${id}/${ledger}`;
      const added = await desk.post(entries, one);
      return { id, entries, added, path: `${entries}/${added.body.id}` };
    }
    const seen = (version: number) => ({ "If-Match": `"${version}"` });

    test("takes an entry and gives it back", async () => {
      const { id, entries, added, path } = await withEntry();
      expect(added.status).toBe(201);
      expect(added.body).toMatchObject({ ...one, vehicle_id: id, version: 1, change: "added", number: 1 });
      expect(added.headers.get("Location")).toBe(path);
      expect((await desk.get(path)).body).toEqual(added.body);
      expect((await desk.get(entries)).body).toEqual({ items: [added.body], next: null });
    });

    test("keeps what was corrected, removed and undone", async () => {
      const { id, entries, added, path } = await withEntry();
      const corrected = await desk.ask("PUT", path, other, seen(1));
      expect([corrected.status, corrected.headers.get("ETag")]).toEqual([200, '"2"']);
      expect(corrected.body).toMatchObject({ ...other, change: "corrected" });
      const undone = await desk.ask("POST", `${path}/undo`, undefined, seen(2));
      expect(undone.body).toMatchObject({ ...one, version: 3, change: "restored" });
      const removed = await desk.ask("DELETE", path, undefined, seen(3));
      expect(removed.body).toMatchObject({ version: 4, change: "removed" });
      expect((await desk.get(entries)).body.items).toEqual([]);
      const all = [added.body, corrected.body, undone.body, removed.body];
      expect((await desk.get(`${path}/versions`)).body.items).toEqual(all);
      const newest = await desk.get(`/api/vehicles/${id}/history/${ledger}?limit=3`);
      expect(newest.body.items).toEqual(all.toReversed().slice(0, 3));
      const rest = await desk.get(
        `/api/vehicles/${id}/history/${ledger}?after=${encodeURIComponent(newest.body.next)}`,
      );
      expect(rest.body).toEqual({ items: [added.body], next: null });
    });

    test("is not changed by who saw another version, or none", async () => {
      const { path } = await withEntry();
      const corrected = await desk.ask("PUT", path, other, seen(1));
      for (const [method, to, body] of [
        ["PUT", path, one],
        ["DELETE", path, undefined],
        ["POST", `${path}/undo`, undefined],
      ] as const) {
        expect((await desk.ask(method, to, body, seen(1))).status).toBe(412);
        expect((await desk.ask(method, to, body, seen(7))).status).toBe(412);
        expect((await desk.ask(method, to, body)).status).toBe(428);
      }
      expect((await desk.get(path)).body).toEqual(corrected.body);
    });

    test("has no entry of another vehicle", async () => {
      const { added } = await withEntry();
      const elsewhere = `/api/vehicles/${(await desk.newVan()).id}/${ledger}/${added.body.id}`;
      expect((await desk.get(elsewhere)).status).toBe(404);
      expect((await desk.get(`${elsewhere}/versions`)).status).toBe(404);
      expect((await desk.ask("PUT", elsewhere, other, seen(1))).status).toBe(404);
      expect((await desk.ask("DELETE", elsewhere, undefined, seen(1))).status).toBe(404);
      expect((await desk.ask("POST", `${elsewhere}/undo`, undefined, seen(1))).status).toBe(404);
      expect((await desk.get("/api/vehicles/none/charge-log")).status).toBe(404);
      expect((await desk.post(`/api/vehicles/none/${ledger}`, one)).status).toBe(404);
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
    const { id } = await desk.newVan();
    const answer = await desk.post(`/api/vehicles/${id}/${ledger}`, body);
    expect([answer.status, answer.body.error.issues]).toEqual([422, [{ path, message: expect.any(String) }]]);
  });

  test("right-to-left text, emoji and the longest note come back as they were sent", async () => {
    const { id } = await desk.newVan({ label: "שלום 👩🏽‍🔧" });
    expect((await desk.get(`/api/vehicles/${id}`)).body.label).toBe("שלום 👩🏽‍🔧");
    const body = "👩🏽‍🔧".repeat(5000);
    expect((await desk.post(`/api/vehicles/${id}/notes`, { body })).body.body).toBe(body);
  });

  test("what is not JSON, or does not say so, is not read", async () => {
    for (const headers of [{ "Content-Type": "application/json" }, { "Content-Type": "text/plain" }, {}]) {
      const answer = await desk.app.request("/api/vehicles", {
        method: "POST",
        headers: { ...desk.key, ...headers },
        body: "{",
      });
      expect(answer.status).toBe(400);
    }
  });

  test("nobody without a key is let in, and is told which kind is asked for", async () => {
    const answer = await desk.app.request("/api/vehicles");
    expect([answer.status, answer.headers.get("WWW-Authenticate")]).toEqual([401, "Bearer"]);
  });
});
