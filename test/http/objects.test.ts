import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import { objectOf, placeOf } from "../../src/object-place.ts";
import { passOn, type WorkspaceStub } from "../../src/worker-app.ts";
import { newStore } from "../store/engines.ts";
import { fleetCsv } from "../support/fleet-csv.ts";
import { browser, cookieOf, type LinksApp, linksOnWorkers, SAME_ORIGIN } from "../support/links-app.ts";
import { unsecured } from "../support/secured.ts";
import { bindings, newObject, objectAt } from "../support/worker.ts";

const QUESTION = "refrigerant=R-134a&nameplate=23+oz&today=weak&keep=5&service=diy&label=Van";
const HEX = "0123456789abcdef".repeat(4);

describe("which object a request is for", () => {
  const place = placeOf(HEX);
  const key = place + "k".repeat(43);
  const of = (path: string, headers: Record<string, string> = {}) =>
    objectOf(new Request(`https://seepwise.test${path}`, { headers }));

  test("is read from the key in the address, else the program's key, else the browser's session", () => {
    const other = `${placeOf("f".repeat(64))}${"k".repeat(43)}`;
    for (const path of [`/q/${key}`, `/access/${key}`, `/feed/${key}.ics`])
      expect(of(path, { Cookie: `__Host-seepwise=${other}` })).toBe(HEX);
    expect(of("/api/v1/vehicles", { Authorization: `Bearer ${key}`, Cookie: `__Host-seepwise=${other}` })).toBe(HEX);
    expect(of("/vehicles", { Cookie: `a=b; __Host-seepwise=${key}` })).toBe(HEX);
  });

  test.each(["", "k".repeat(43), "k".repeat(85), "k".repeat(87), `${"k".repeat(85)}!`])("is none for %j", (wrong) => {
    expect(of(`/q/${wrong}`)).toBeNull();
    expect(of("/", { Authorization: `Bearer ${wrong}` })).toBeNull();
    expect(of("/", { Cookie: `__Host-seepwise=${wrong}` })).toBeNull();
  });
});

describe("workspaces in objects of their own", () => {
  let app: LinksApp;
  beforeAll(async () => {
    app = await linksOnWorkers();
  });
  afterAll(() => app.close());

  const begin = (headers: Record<string, string> = {}) =>
    app.request("/vehicles", {
      method: "POST",
      headers: { ...SAME_ORIGIN.headers, "Content-Type": "application/x-www-form-urlencoded", ...headers },
      body: QUESTION,
    });
  const vehicles = async (cookie: string) => (await app.request("/vehicles", { headers: { Cookie: cookie } })).text();

  test("whoever saves a vehicle without a key gets an object of their own, and a key that leads to it", async () => {
    const [one, two] = [await begin(), await begin()];
    expect([one.status, two.status]).toEqual([201, 201]);
    const places = [one, two].map((answer) => cookieOf(answer).split("=")[1]!.slice(0, 43));
    expect(places[0]).not.toBe(places[1]);
    expect(await vehicles(cookieOf(one))).toContain("Van");
    // The way back, a link of the same object, opens it in another browser.
    const link = /\/access\/([\w-]{86})/.exec(await one.text())![1]!;
    expect(link.slice(0, 43)).toBe(places[0]);
    const opened = await app.request(`/access/${link}`, SAME_ORIGIN);
    expect(await vehicles(cookieOf(opened))).toContain("Van");
  });

  test("a session that is over begins anew elsewhere, not in the object that it came from", async () => {
    const cookie = cookieOf(await begin());
    await app.request("/leave", { method: "POST", headers: { ...SAME_ORIGIN.headers, Cookie: cookie } });
    const again = await begin({ Cookie: cookie });
    expect(again.status).toBe(201);
    expect(cookieOf(again).split("=")[1]!.slice(0, 43)).not.toBe(cookie.split("=")[1]!.slice(0, 43));
  });

  test("a key of one object opens nothing in another", async () => {
    const cookies = [cookieOf(await begin()), cookieOf(await begin())];
    const [place, other] = cookies.map((cookie) => cookie.split("=")[1]!);
    const mixed = `__Host-seepwise=${place!.slice(0, 43)}${other!.slice(43)}`;
    expect((await app.request("/vehicles", { headers: { Cookie: mixed } })).status).toBe(401);
  });

  test("a place that the namespace never gave out, and one that nobody began, are nobody's and stay empty", async () => {
    const { WORKSPACES } = await bindings();
    const given = placeOf(WORKSPACES.newUniqueId().toString());
    const forged = placeOf(HEX);
    expect(() => WORKSPACES.idFromString(HEX)).toThrow();
    for (const place of [forged, given]) {
      const headers = { Cookie: `__Host-seepwise=${place}${"k".repeat(43)}` };
      expect((await app.request("/", { headers })).status).toBe(200);
      expect((await app.request("/vehicles", { headers })).status).toBe(401);
      expect((await app.request(`/q/${place}${"k".repeat(43)}`)).status).toBe(404);
      expect((await app.request(`/access/${place}${"k".repeat(43)}`, SAME_ORIGIN)).status).toBe(404);
    }
    expect(await (await objectAt(given)).size()).toBeLessThan(20_000);
  });

  test("one car takes at most 120 kB", async () => {
    const place = cookieOf(await begin())
      .split("=")[1]!
      .slice(0, 43);
    const bytes = await (await objectAt(place)).size();
    expect(bytes).toBeGreaterThan(30_000);
    expect(bytes).toBeLessThanOrEqual(120_000);
  });

  test("an object whose records were all erased takes no room any more", async () => {
    const cookie = cookieOf(await begin());
    const headers = { ...SAME_ORIGIN.headers, Cookie: cookie, "Content-Type": "application/x-www-form-urlencoded" };
    const erased = await app.request("/settings/erase", { method: "POST", headers, body: "erase_name=my+vehicles" });
    expect(await erased.text()).toContain("Everything is erased");
    expect((await app.request("/vehicles", { headers: { Cookie: cookie } })).status).toBe(401);
    const place = cookie.split("=")[1]!.slice(0, 43);
    expect(await (await objectAt(place)).size()).toBeLessThan(20_000);
  });

  test("a fleet's run goes on while nobody asks", async () => {
    const store = await newStore(app.sql, () => new Date());
    const { headers } = await browser(app, store, "editor");
    const boundary = "----------------form-of-a-test";
    const csv = fleetCsv({ vehicles: 60, entries: 4, seed: 12, as_of: "2026-05-01" });
    const body = `--${boundary}\r\nContent-Disposition: form-data; name="file"; filename="fleet.csv"\r\nContent-Type: text/csv\r\n\r\n${csv}\r\n--${boundary}--\r\n`;
    const sent = await app.request("/fleet/import", {
      method: "POST",
      headers: { ...headers, ...SAME_ORIGIN.headers, "Content-Type": `multipart/form-data; boundary=${boundary}` },
      body,
    });
    const address = sent.headers.get("Location")!;
    const taken = await app.request(`${address}/take`, {
      method: "POST",
      headers: { ...headers, ...SAME_ORIGIN.headers },
    });
    expect(taken.status).toBe(303);
    await expect.poll(async () => (await store.fleet.totals()).reckoned, { timeout: 20_000 }).toBe(60);
  });
});

test("an object that cannot be reached is told in our words, with our headers, and open pages go on", async () => {
  const logged = vi.spyOn(console, "error").mockImplementation(() => {});
  const away: WorkspaceStub = {
    ...(await objectAt((await newObject()).place)),
    fetch: () => Promise.reject(new Error("Durable Object reset because its code was updated.")),
  };
  const place = (await newObject()).place;
  const headers = { Cookie: `__Host-seepwise=${place}${"k".repeat(43)}`, "Sec-Fetch-Site": "same-origin" };
  const ask = async (path: string, more: RequestInit = {}) => {
    const answer = await passOn(
      new Request(`https://seepwise.test${path}`, { headers, ...more }),
      away,
      await bindings(),
    );
    return { answer, text: await answer.text() };
  };
  const seen = await ask("/vehicles");
  expect([seen.answer.status, unsecured(seen.answer, { https: true })]).toEqual([503, []]);
  expect(seen.text).toContain("The records cannot be reached just now");
  const sent = await ask("/vehicles/new", { method: "POST", body: new URLSearchParams({ label: "Van" }) });
  expect([sent.answer.status, sent.answer.headers.get("Retry-After")]).toEqual([503, "5"]);
  expect(sent.text).toContain("look whether your change is there before you send it again");
  expect((await ask("/rules")).answer.status).toBe(200);
  expect(logged.mock.calls.map(([line]) => JSON.parse(line).route)).toEqual(["/vehicles", "/vehicles/new"]);
  logged.mockRestore();
});
