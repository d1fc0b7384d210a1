import { describe, expect, test } from "vitest";
import { assess } from "../../../src/core/assess.ts";
import { vehicleRequest } from "../../../src/web/vehicle-answer.ts";
import { newStore } from "../../store/engines.ts";
import { CAN, DYE_CLEAN, TRUCK } from "../../store/samples.ts";
import { browser, linksOnNode, linksRuntimes } from "../../support/links-app.ts";
import { FORM, SettingsDesk } from "./settings-desk.ts";

const SAME_ORIGIN = { "Sec-Fetch-Site": "same-origin" };

describe.each(linksRuntimes)("settings on $name", ({ start }) => {
  const desk = new SettingsDesk(start);

  /** Sends a file as a browser does (RFC 7578). */
  const upload = (content: string) =>
    desk.app.request("/settings/import", {
      method: "POST",
      headers: { ...desk.headers, "Content-Type": "multipart/form-data; boundary=part-7d31a0e9" },
      body: `--part-7d31a0e9\r\nContent-Disposition: form-data; name="file"; filename="a.json"\r\nContent-Type: application/json\r\n\r\n${content}\r\n--part-7d31a0e9--\r\n`,
    });
  const hidden = (text: string, name: string) => new RegExp(`name="${name}" value="([^"]*)"`).exec(text)?.[1] ?? "";

  describe("records", () => {
    async function withRecords() {
      const truck = await desk.store.vehicles.create(TRUCK, {
        charge_log: [CAN],
        findings: [DYE_CLEAN],
        notes: [{ body: "x" }],
      });
      const [line] = await desk.store.chargeLog.list(truck.id);
      await desk.store.chargeLog.correct(line!.id, 1, { ...CAN, added_g: 300 });
      await desk.post("/settings", { ...FORM, version: "1" });
      return truck;
    }

    test("go out whole and come back in, with identical answers", async () => {
      const truck = await withRecords();
      const file = await desk.app.request("/settings/export.json", { headers: desk.headers });
      expect(file.headers.get("Content-Type")).toBe("application/json");
      expect(file.headers.get("Content-Disposition")).toMatch(
        /^attachment; filename="seepwise-\d{4}-\d\d-\d\d\.json"$/,
      );
      const exported = await file.text();

      const empty = await newStore(desk.app.sql);
      desk.headers = { ...(await browser(desk.app, empty, "editor")).headers, ...SAME_ORIGIN };
      const report = await (await upload(exported)).text();
      expect(report).toContain("5 new things to import");
      expect(report).toContain("The settings of the file are taken too");
      expect(await empty.vehicles.count()).toBe(0);
      const agreed = await desk.post("/settings/import/confirm", { packed: hidden(report, "packed") });
      expect([agreed.status, agreed.headers.get("Location")]).toEqual([303, "/settings/records?vehicles=1&lines=4"]);
      expect(await desk.page("/settings/records?vehicles=1&lines=4")).toContain("Imported: 1 new vehicle, 4 new lines");

      const [ours, theirs] = [await desk.store.record(truck.id), await empty.record(truck.id)];
      expect(theirs.charge_log).toEqual(ours.charge_log);
      const answer = (record: typeof ours) => assess(vehicleRequest(record, "2026-05-01"));
      expect(answer(theirs)).toEqual(answer(ours));
      const again = await (await upload(exported)).text();
      expect(again).toContain("Nothing to import: all of it is here already");
    });

    test("that differ stay, unless the file's word about the vehicle is taken", async () => {
      const truck = await withRecords();
      const exported = await desk.page("/settings/export.json");
      await desk.store.vehicles.update(truck.id, 1, { ...TRUCK, label: "Truck 8" });
      const report = await (await upload(exported)).text();
      expect(report).toContain("These records differ from the file");
      expect(report).toContain("Truck 8");
      await desk.post("/settings/import/confirm", { packed: hidden(report, "packed") });
      expect((await desk.store.vehicles.get(truck.id)).label).toBe("Truck 8");
      await desk.post("/settings/import/confirm", { packed: hidden(report, "packed"), take_vehicles: "yes" });
      expect((await desk.store.vehicles.get(truck.id)).label).toBe("Truck 7");
    });

    test("go out as a table", async () => {
      await withRecords();
      const file = await desk.app.request("/settings/charge-log.csv", { headers: desk.headers });
      expect(file.headers.get("Content-Type")).toMatch(/^text\/csv; charset=utf-8/);
      const lines = (await file.text()).split("\r\n");
      expect(lines[0]).toMatch(
        /^vehicle_id,vehicle,refrigerant,nameplate_g,date,date_within_days,cooling,recovered_g,added_g,/,
      );
      expect(lines[1]).toMatch(/,Truck 7,R-1234yf,1234.5,2026-04-20,,weak,,300,cans,/);
      expect(lines).toHaveLength(3);
    });

    test.each([
      ["nothing", "", "Choose the exported file"],
      ["what is no JSON", "Van 2;650", "it is not JSON"],
      ["other JSON", '{"vehicles":[]}', "This is not an exported workspace"],
      ["a file of a newer Seepwise", '{"format":"seepwise-workspace","version":99}', "exported by a newer Seepwise"],
    ])("from a file with %s are refused with what is wrong", async (_what, content, message) => {
      const answer = await upload(content);
      expect([answer.status, await answer.text()]).toEqual([422, expect.stringContaining(message)]);
    });

    test("from a form that was tampered with are refused", async () => {
      for (const packed of ["", "%%%", "AAAA", "H4sIAAAAAAAA"]) {
        const answer = await desk.post("/settings/import/confirm", { packed });
        expect([400, 422]).toContain(answer.status);
      }
      expect(await desk.store.vehicles.count()).toBe(0);
    });
  });
});

describe("a file of more than 256 KiB", () => {
  const boundary = { "Content-Type": "multipart/form-data; boundary=part-7d31a0e9" };
  const body = (bytes: number) =>
    `--part-7d31a0e9\r\nContent-Disposition: form-data; name="file"; filename="a.json"\r\n\r\n${" ".repeat(bytes)}[]\r\n--part-7d31a0e9--\r\n`;

  test("is read where files are sent in, up to 64 MiB, and nowhere else", async () => {
    const app = await linksOnNode();
    const store = await newStore(app.sql);
    const headers = { ...(await browser(app, store, "editor")).headers, ...SAME_ORIGIN, ...boundary };
    const status = async (path: string, bytes: number) =>
      (await app.request(path, { method: "POST", headers, body: body(bytes) })).status;
    expect(await status("/settings/import", 1_000_000)).toBe(422);
    expect(await status("/settings/import", 68_000_000)).toBe(413);
    expect(await status("/settings", 1_000_000)).toBe(413);
  });

  test("is not read for someone without access", async () => {
    const app = await linksOnNode();
    const headers = { ...SAME_ORIGIN, ...boundary };
    const answer = await app.request("/settings/import", { method: "POST", headers, body: body(68_000_000) });
    expect(answer.status).toBe(401);
  });

  test("that unpacks to more than 64 MiB is refused", async () => {
    const app = await linksOnNode();
    const store = await newStore(app.sql);
    const headers = { ...(await browser(app, store, "editor")).headers, ...SAME_ORIGIN };
    const bomb = new Blob([" ".repeat(70_000_000)]).stream().pipeThrough(new CompressionStream("gzip"));
    const packed = Buffer.from(await new Response(bomb).arrayBuffer()).toString("base64url");
    const answer = await app.request("/settings/import/confirm", {
      method: "POST",
      headers: { ...headers, "Content-Type": "application/x-www-form-urlencoded" },
      body: `packed=${packed}`,
    });
    expect(answer.status).toBe(413);
  });
});
