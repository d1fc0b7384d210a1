import { describe, expect, test } from "vitest";
import { createApp } from "../../src/app.ts";
import { CAME_WITH_HEADER, ON_DEVICE, ON_DEVICE_HEADER } from "../../views/words/on-device.ts";
import { TODAY, testDeps } from "../support/deps.ts";
import { quickQuestion } from "../support/local-app.ts";
import { aDevice } from "./a-device.ts";

const deps = testDeps({ access_mode: "links", newcomers: () => false });
const server = createApp(deps);
const device = aDevice();

const ENTRIES = [
  ["2024-06-14", "cans", "12 oz", "weak"],
  ["2025-07-01", "cans", "12 oz", "weak"],
];
const QUESTION = quickQuestion({ today: "weak", keep: "5", service: "diy", as_of: TODAY }, ENTRIES);
const READINGS = "units=us&refrigerant=R-134a&ambient=85&low=18&high=160&vent=58&rpm=1500&go=1";

const LINE = new RegExp(`<p class="on-device"[^>]*>${ON_DEVICE} <a href="/write-down">[^<]*</a></p>`);

const PAGES = {
  "the empty question": "/",
  "the example": "/?example=1",
  "a question with a log": QUESTION,
  "a question that cannot be read": quickQuestion({ nameplate: "lots", go: "1" }, [["someday", "cans", "9 tons", ""]]),
  "a question in metric, refrigerant unknown": "/?units=metric&refrigerant=unsure&nameplate=600&today=weak&keep=3",
  "the empty readings": "/readings",
  "readings and what they mean": `/readings?${READINGS}`,
  "readings for a question": `${QUESTION.replace("/?", "/readings?")}&${READINGS}`,
  "readings that cannot be read": "/readings?units=us&refrigerant=R-134a&ambient=hot&low=x&go=1",
  "a top-off plan": `${QUESTION.replace("/?", "/top-off?")}&ambient=85`,
  "the example's top-off plan": "/top-off",
  "a plan that lacks something": "/top-off?refrigerant=R-134a&nameplate=lots",
  "leak tests": "/leak-tests",
  "the rules of a place": "/rules?place=us-wi",
  method: "/method",
};

describe("a device without a connection gives the server's answer to someone without access", () => {
  test.each(Object.entries(PAGES))("%s", async (_name, path) => {
    const [ours, theirs] = await Promise.all([device.request(path), server.request(path)]);
    expect(ours.status).toBe(theirs.status);
    expect(ours.headers.get("Location")).toBe(theirs.headers.get("Location"));
    const [made_here, sent] = await Promise.all([ours.text(), theirs.text()]);
    if (ours.status === 303) return;
    expect(sent.length).toBeGreaterThan(2000);
    expect(sent).not.toContain(ON_DEVICE);
    // Compared as yes or no: a page is too long for a report of what differs.
    expect(made_here.replace(LINE, "") === sent).toBe(true);
  });

  test.each(Object.values(PAGES))("and says so, first thing: %s", async (path) => {
    const answer = await device.request(path);
    if (answer.status === 303) return;
    expect(await answer.text()).toMatch(new RegExp(`<main [^>]*>${LINE.source}`));
    expect(answer.headers.get("Cache-Control")).toBe("no-store");
    expect(answer.headers.get("Content-Security-Policy")).toMatch("default-src 'self'");
  });

  test("a part of a page", async () => {
    const headers = { "HX-Request": "true", "HX-Current-URL": "http://localhost/" };
    const [ours, theirs] = await Promise.all([
      device.request(QUESTION, { headers }),
      server.request(QUESTION, { headers }),
    ]);
    expect((await ours.text()) === (await theirs.text())).toBe(true);
    expect(ours.headers.get("HX-Push-Url")).toBe(theirs.headers.get("HX-Push-Url"));
    expect(ours.headers.get(ON_DEVICE_HEADER)).toBe("yes");
    expect(theirs.headers.has(ON_DEVICE_HEADER)).toBe(false);
  });
});

test("a page of another version is led to the whole page, with what was typed", async () => {
  const ask = (came_with: string) =>
    device.request(QUESTION, { headers: { "HX-Request": "true", [CAME_WITH_HEADER]: came_with } });
  const other = await ask("/assets/device-OTHER.js");
  expect(other.headers.get("HX-Redirect")).toBe(QUESTION);
  expect(await other.text()).toBe("");
  expect((await ask("/assets/device.js")).headers.has("HX-Redirect")).toBe(false);
});

test.each(["/vehicles", "/vehicles/1", "/settings", "/fleet", "/q/abc", "/access/abc", "/api/assess", "/nowhere"])(
  "%s needs a connection, and says what does not",
  async (path) => {
    const answer = await device.request(path);
    expect(answer.status).toBe(503);
    const page = await answer.text();
    expect(page).toContain("This page needs a connection");
    expect(page).not.toContain(ON_DEVICE);
  },
);

test("the day is the one where the device is", async () => {
  const at = (time_zone: string) =>
    aDevice({ now: () => new Date("2026-05-01T23:30:00Z"), time_zone }).request("/rules");
  expect(await (await at("America/Chicago")).text()).toContain('value="2026-05-01"');
  expect(await (await at("Asia/Tokyo")).text()).toContain('value="2026-05-02"');
});
