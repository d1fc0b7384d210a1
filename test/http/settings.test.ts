import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { assess } from "../../src/core/assess.ts";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import { vehicleRequest } from "../../src/web/vehicle-answer.ts";
import { newStore } from "../store/engines.ts";
import { CAN, DYE_CLEAN, TRUCK, VAN } from "../store/samples.ts";
import { browser, type LinksApp, linksOnNode, linksRuntimes } from "../support/links-app.ts";

const SAME_ORIGIN = { "Sec-Fetch-Site": "same-origin" };

/** The settings as their form sends them. */
const FORM = {
  name: "Garage",
  mass_unit: "g",
  temperature_unit: "C",
  pressure_unit: "bar-gauge",
  currency: "EUR",
  place: "us-wi",
  climate: "hot-desert",
  means: "",
  time_zone: "Europe/Berlin",
};

describe.each(linksRuntimes)("settings on $name", ({ start }) => {
  let app: LinksApp;
  let store: WorkspaceStore;
  let headers: Record<string, string>;
  beforeAll(async () => {
    app = await start();
  });
  beforeEach(async () => {
    store = await newStore(app.sql);
    headers = { ...(await browser(app, store, "owner")).headers, ...SAME_ORIGIN };
  });
  afterAll(() => app.close());

  const page = async (path: string) => (await app.request(path, { headers })).text();
  const post = (path: string, form: Record<string, string>) =>
    app.request(path, {
      method: "POST",
      headers: { ...headers, "Content-Type": "application/x-www-form-urlencoded" },
      body: String(new URLSearchParams(form)),
    });
  /** Sends a file as a browser does (RFC 7578). */
  const upload = (content: string) =>
    app.request("/settings/import", {
      method: "POST",
      headers: { ...headers, "Content-Type": "multipart/form-data; boundary=part-7d31a0e9" },
      body: `--part-7d31a0e9\r\nContent-Disposition: form-data; name="file"; filename="a.json"\r\nContent-Type: application/json\r\n\r\n${content}\r\n--part-7d31a0e9--\r\n`,
    });
  const hidden = (text: string, name: string) => new RegExp(`name="${name}" value="([^"]*)"`).exec(text)?.[1] ?? "";

  describe("units and place", () => {
    test("are saved, and what the form does not ask for stays", async () => {
      const before = await store.settings.get();
      await store.settings.update({ ...before, plan: { floor_months: 9 } }, 1);
      const answer = await post("/settings", { ...FORM, version: "2" });
      expect([answer.status, answer.headers.get("Location")]).toEqual([303, "/settings?saved=1"]);
      expect(await store.settings.get()).toMatchObject({
        ...{ name: "Garage", mass_unit: "g", temperature_unit: "C", pressure_unit: "bar-gauge", currency: "EUR" },
        ...{ place: "us-wi", climate: "hot-desert", monthly_mean_c: null, time_zone: "Europe/Berlin" },
        plan: { floor_months: 9 },
        version: 3,
      });
      expect(await page("/settings?saved=1")).toContain("Saved.");
    });

    test("nobody said where: no rules, no climate", async () => {
      await post("/settings", { ...FORM, place: "elsewhere", climate: "", version: "1" });
      expect(await store.settings.get()).toMatchObject({ place: null, climate: null, monthly_mean_c: null });
    });

    test("own monthly means are read in the chosen unit, and stay exact when nobody touches them", async () => {
      const means = "13 15.7 17,3 23.7; 27.3 34 35.6, 33.8 30.4 24.8 18 -0.5";
      await post("/settings", { ...FORM, climate: "own", means, version: "1" });
      const monthly_mean_c = [13, 15.7, 17.3, 23.7, 27.3, 34, 35.6, 33.8, 30.4, 24.8, 18, -0.5];
      expect((await store.settings.get()).monthly_mean_c).toEqual(monthly_mean_c);
      const shown = "55.4 60.3 63.1 74.7 81.1 93.2 96.1 92.8 86.7 76.6 64.4 31.1";
      await post("/settings", { ...FORM, temperature_unit: "F", climate: "own", means: shown, version: "2" });
      expect((await store.settings.get()).monthly_mean_c).toEqual(monthly_mean_c);
      expect(await page("/settings")).toContain(`value="${shown}"`);
    });

    test.each([
      ["name", " ", "Enter a name of 1 to 120 characters"],
      ["name", "x".repeat(121), "Enter a name of 1 to 120 characters"],
      ["mass_unit", "kg", "Choose how masses are shown"],
      ["temperature_unit", "K", "Choose °F or °C"],
      ["pressure_unit", "", "Choose what your gauges show"],
      ["currency", "ABC", "Choose the currency"],
      ["place", "mars", "Choose where the vehicles are"],
      ["climate", "mild", "Choose the climate, or leave it not said"],
      ["time_zone", "Mars/Base", "Choose the time zone"],
    ])("%s: %j is put right, with everything as it was typed", async (field, value, message) => {
      const answer = await post("/settings", { ...FORM, [field]: value, version: "1" });
      const text = await answer.text();
      expect(answer.status).toBe(422);
      expect(text).toContain(`<a href="#${field}">${message}</a>`);
      expect(text).toContain(field === "time_zone" ? 'value="EUR" selected' : 'value="Europe/Berlin" selected');
      expect((await store.settings.get()).version).toBe(1);
    });

    test.each([
      ["1 2 3", "these are 3"],
      ["1 2 3 4 5 6 7 8 9 10 11 mild", "Check “mild”"],
      ["1 2 3 4 5 6 7 8 9 10 11 51", "Check “51”"],
      ["", "these are 0"],
    ])("own means %j are put right", async (means, message) => {
      const answer = await post("/settings", { ...FORM, climate: "own", means, version: "1" });
      expect([answer.status, await answer.text()]).toEqual([422, expect.stringContaining(message)]);
    });

    test("saved by someone else in the meantime: says what is set now, keeps what was typed, and saves it when sent again", async () => {
      await post("/settings", { ...FORM, name: "Yard", version: "1" });
      const late = await post("/settings", { ...FORM, currency: "CAD", version: "1" });
      const text = await late.text();
      expect(late.status).toBe(409);
      expect(text).toContain('<dt>The name is now</dt><dd dir="auto">Yard</dd>');
      expect(text).toContain('value="CAD" selected');
      expect(hidden(text, "version")).toBe("2");
      expect((await post("/settings", { ...FORM, currency: "CAD", version: "2" })).status).toBe(303);
      expect(await store.settings.get()).toMatchObject({ name: "Garage", currency: "CAD", version: 3 });
    });

    test("the same press arriving twice saves once", async () => {
      for (let press = 0; press < 2; press += 1)
        expect((await post("/settings", { ...FORM, version: "1", submit_key: "press" })).status).toBe(303);
      expect((await store.settings.get()).version).toBe(2);
    });
  });

  describe("who gets in", () => {
    const made = async (form: Record<string, string>) => {
      const answer = await post("/settings/access", { submit_key: "press", ...form });
      expect([answer.status, answer.headers.get("Cache-Control")]).toEqual([200, "no-store"]);
      return /id="secret" value="([^"]*)"/.exec(await answer.text())?.[1] ?? "";
    };

    test("a link is shown once, lets in who opens it, and is listed without its key", async () => {
      const secret = await made({ purpose: "link", label: "Sam’s phone", role: "editor" });
      expect(secret).toMatch(/^https?:\/\/[^/]+\/access\/[\w-]{43,86}$/);
      const opened = await app.request(new URL(secret).pathname, { method: "POST", headers: SAME_ORIGIN });
      expect(opened.status).toBe(303);
      const list = await page("/settings/access");
      expect(list).toContain("Sam’s phone");
      expect(list).toContain("(this browser)");
      expect(list).not.toContain(secret.split("/").at(-1));
    });

    test("a key opens the API in its role, a calendar link the calendar", async () => {
      const key = await made({ purpose: "api", label: "script", role: "viewer" });
      const bearer = { Authorization: `Bearer ${key}`, "Content-Type": "application/json" };
      expect((await app.request("/api/vehicles", { headers: bearer })).status).toBe(200);
      const sent = { method: "POST", headers: bearer, body: JSON.stringify(VAN) };
      expect((await app.request("/api/vehicles", sent)).status).toBe(403);
      const calendar = await made({ purpose: "feed", label: "workshop", submit_key: "another" });
      expect((await app.request(new URL(calendar).pathname)).status).toBe(200);
    });

    test("the same press arriving twice leaves the key that was shown last", async () => {
      const keys = [];
      for (let press = 0; press < 2; press += 1)
        keys.push(await made({ purpose: "api", label: "script", role: "viewer" }));
      const status = async (key: string) =>
        (await app.request("/api/vehicles", { headers: { Authorization: `Bearer ${key}` } })).status;
      expect([await status(keys[0]!), await status(keys[1]!)]).toEqual([401, 200]);
    });

    test("revoked, it is out at once, and stays in the list as revoked", async () => {
      const key = await made({ purpose: "api", label: "script", role: "viewer" });
      const { id } = (await store.accessKeys.list()).find(({ purpose }) => purpose === "api")!;
      const answer = await post(`/settings/access/${id}/revocation`, {});
      expect([answer.status, answer.headers.get("Location")]).toEqual([303, "/settings/access"]);
      expect((await app.request("/api/vehicles", { headers: { Authorization: `Bearer ${key}` } })).status).toBe(401);
      expect(await page("/settings/access")).toContain("Revoked (1)");
    });

    test("the last owner's link stays", async () => {
      const { id } = (await store.accessKeys.list()).find(({ purpose }) => purpose === "link")!;
      const answer = await post(`/settings/access/${id}/revocation`, {});
      expect([answer.status, await answer.text()]).toEqual([403, expect.stringContaining("the last owner")]);
    });

    test.each([
      [{ purpose: "link", label: "", role: "viewer" }, "link-label"],
      [{ purpose: "api", label: "x".repeat(121), role: "viewer" }, "api-label"],
      [{ purpose: "api", label: "script" }, "api-role"],
      [{ purpose: "link", label: "Sam", role: "god" }, "link-role"],
    ])("%o is put right at its field", async (form, field) => {
      const answer = await post("/settings/access", form);
      expect([answer.status, await answer.text()]).toEqual([422, expect.stringContaining(`<a href="#${field}">`)]);
      expect(await store.accessKeys.list()).toHaveLength(1);
    });
  });

  describe("records", () => {
    async function withRecords() {
      const truck = await store.vehicles.create(TRUCK, {
        charge_log: [CAN],
        findings: [DYE_CLEAN],
        notes: [{ body: "x" }],
      });
      const [line] = await store.chargeLog.list(truck.id);
      await store.chargeLog.correct(line!.id, 1, { ...CAN, added_g: 300 });
      await post("/settings", { ...FORM, version: "1" });
      return truck;
    }

    test("go out whole and come back in, with identical answers", async () => {
      const truck = await withRecords();
      const file = await app.request("/settings/export.json", { headers });
      expect(file.headers.get("Content-Type")).toBe("application/json");
      expect(file.headers.get("Content-Disposition")).toMatch(
        /^attachment; filename="seepwise-\d{4}-\d\d-\d\d\.json"$/,
      );
      const exported = await file.text();

      const empty = await newStore(app.sql);
      headers = { ...(await browser(app, empty, "editor")).headers, ...SAME_ORIGIN };
      const report = await (await upload(exported)).text();
      expect(report).toContain("5 new things to import");
      expect(report).toContain("The settings of the file are taken too");
      expect(await empty.vehicles.count()).toBe(0);
      const agreed = await post("/settings/import/confirm", { packed: hidden(report, "packed") });
      expect([agreed.status, agreed.headers.get("Location")]).toEqual([303, "/settings/records?vehicles=1&lines=4"]);
      expect(await page("/settings/records?vehicles=1&lines=4")).toContain("Imported: 1 new vehicle, 4 new lines");

      const [ours, theirs] = [await store.record(truck.id), await empty.record(truck.id)];
      expect(theirs.charge_log).toEqual(ours.charge_log);
      const answer = (record: typeof ours) => assess(vehicleRequest(record, "2026-05-01"));
      expect(answer(theirs)).toEqual(answer(ours));
      const again = await (await upload(exported)).text();
      expect(again).toContain("Nothing to import: all of it is here already");
    });

    test("that differ stay, unless the file's word about the vehicle is taken", async () => {
      const truck = await withRecords();
      const exported = await page("/settings/export.json");
      await store.vehicles.update(truck.id, 1, { ...TRUCK, label: "Truck 8" });
      const report = await (await upload(exported)).text();
      expect(report).toContain("These records differ from the file");
      expect(report).toContain("Truck 8");
      await post("/settings/import/confirm", { packed: hidden(report, "packed") });
      expect((await store.vehicles.get(truck.id)).label).toBe("Truck 8");
      await post("/settings/import/confirm", { packed: hidden(report, "packed"), take_vehicles: "yes" });
      expect((await store.vehicles.get(truck.id)).label).toBe("Truck 7");
    });

    test("go out as a table", async () => {
      await withRecords();
      const file = await app.request("/settings/charge-log.csv", { headers });
      expect(file.headers.get("Content-Type")).toMatch(/^text\/csv; charset=utf-8/);
      const lines = (await file.text()).split("\r\n");
      expect(lines[0]).toMatch(/^vehicle_id,vehicle,refrigerant,nameplate_g,date,cooling,recovered_g,added_g,/);
      expect(lines[1]).toMatch(/,Truck 7,R-1234yf,1234.5,2026-04-20,weak,,300,cans,/);
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
        const answer = await post("/settings/import/confirm", { packed });
        expect([400, 422]).toContain(answer.status);
      }
      expect(await store.vehicles.count()).toBe(0);
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
