import ICAL from "ical.js";
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import type { AssessAnswer } from "../../src/core/question/contract.ts";
import type { ChargeEntryInput } from "../../src/core/question/record.ts";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import { newStore } from "../store/engines.ts";
import { CAN, VAN } from "../store/samples.ts";
import { TODAY } from "../support/deps.ts";
import { bearer, type LinksApp, linksOnNode, linksRuntimes } from "../support/links-app.ts";

/** The calendar as an independent reader has it. */
async function events(answer: Response) {
  expect(answer.headers.get("Content-Type")).toBe("text/calendar; charset=utf-8");
  ICAL.design.strict = true;
  const component = new ICAL.Component(ICAL.parse(await answer.text()));
  return component.getAllSubcomponents("vevent").map((event) => new ICAL.Event(event));
}

describe.each(linksRuntimes)("reminders on $name", ({ name, start }) => {
  let app: LinksApp;
  let store: WorkspaceStore;
  let key: Record<string, string>;
  /** The day that the application takes for today: on Node the test's, on Workers the clock's. */
  const now = name === "Node" ? TODAY : new Date().toISOString().slice(0, 10);
  beforeAll(async () => {
    app = await start();
  });
  beforeEach(async () => {
    store = await newStore(app.sql);
    key = (await bearer(store, "viewer")).headers;
  });
  afterAll(() => app.close());

  const dyed = { ...CAN, date: now, dye: "added" as const };
  const feedOf = (feed_key: string, headers: Record<string, string> = {}) =>
    app.request(`/feed/${feed_key}.ics`, { headers });

  test("the page of a vehicle says what and when, or what to write down first", async () => {
    const { id } = await store.vehicles.create(VAN);
    const page = async () => (await app.request(`/vehicles/${id}/reminders`, { headers: key })).text();
    expect(await page()).toContain("No reminders yet");
    await store.chargeLog.add(id, dyed);
    const text = await page();
    expect(text).toContain("Look for dye");
    // The caution stands with the work.
    expect(text).toContain("Ultraviolet harms eyes");
    expect(text).toContain(`/vehicles/${id}/reminders.ics`);
  });

  test("the file of a vehicle holds its own reminders only", async () => {
    const [van, other] = [await store.vehicles.create(VAN), await store.vehicles.create({ ...VAN, label: "Bus" })];
    for (const { id } of [van, other]) await store.chargeLog.add(id, dyed);
    const file = await app.request(`/vehicles/${van.id}/reminders.ics`, { headers: key });
    expect(file.headers.get("Content-Disposition")).toBe('attachment; filename="reminders.ics"');
    const found = await events(file);
    expect(found.map(({ summary }) => summary)).toContain("Van 2: look for dye");
    expect(
      found.every(({ uid, summary }) => uid.endsWith(`.${van.id}@seepwise`) && summary.startsWith("Van 2: ")),
    ).toBe(true);
    expect(found[0]!.component.getFirstPropertyValue("url")).toMatch(new RegExp(`^https?://[^/]+/vehicles/${van.id}$`));
  });

  test("the calendar of a workspace holds all its vehicles, and of no other", async () => {
    const elsewhere = await newStore(app.sql);
    for (const [of, label] of [
      [store, "Van"],
      [store, "Bus"],
      [elsewhere, "Secret"],
    ] as const)
      await of.chargeLog.add((await of.vehicles.create({ ...VAN, label })).id, dyed);
    const archived = await store.vehicles.create({ ...VAN, label: "Sold" });
    await store.chargeLog.add(archived.id, dyed);
    await store.vehicles.archive(archived.id, 1);
    const { key: feed } = await store.accessKeys.create("feed", "viewer", "workshop");
    const dye = (await events(await feedOf(feed))).filter(({ summary }) => summary.endsWith("look for dye"));
    expect(new Set(dye.map(({ summary }) => summary))).toEqual(new Set(["Bus: look for dye", "Van: look for dye"]));
  });

  test("a calendar asked for again says that nothing has changed, until something has", async () => {
    const { id } = await store.vehicles.create(VAN);
    await store.chargeLog.add(id, dyed);
    const { key: feed } = await store.accessKeys.create("feed", "viewer", "workshop");
    const tag = (await feedOf(feed)).headers.get("ETag") ?? "";
    expect((await feedOf(feed, { "If-None-Match": tag })).status).toBe(304);
    await store.vehicles.update(id, 1, { ...VAN, label: "Van 3" });
    expect((await feedOf(feed, { "If-None-Match": tag })).status).toBe(200);
  });

  test("an empty workspace has an empty calendar", async () => {
    const { key: feed } = await store.accessKeys.create("feed", "viewer", "workshop");
    expect(await events(await feedOf(feed))).toEqual([]);
  });

  test("the address of a calendar opens it until it is revoked, and no other key does", async () => {
    const feed = await store.accessKeys.create("feed", "viewer", "workshop");
    expect((await feedOf(feed.key)).status).toBe(200);
    for (const purpose of ["link", "api"] as const)
      expect((await feedOf((await store.accessKeys.create(purpose, "viewer", "x")).key)).status).toBe(404);
    expect((await feedOf("a".repeat(43))).status).toBe(404);
    expect((await app.request(`/feed/${feed.key}`)).status).toBe(404);
    await store.accessKeys.revoke(feed.id);
    expect((await feedOf(feed.key)).status).toBe(404);
  });
});

describe("in the calendar, the next low charge", () => {
  /** The event of a vehicle with such fills, and what the model says about it. */
  async function nextLow(fills: readonly ChargeEntryInput[]) {
    const app = await linksOnNode();
    const store = await newStore(app.sql);
    const { headers } = await bearer(store, "viewer");
    const { id } = await store.vehicles.create(VAN);
    for (const fill of fills) await store.chargeLog.add(id, { cooling: "weak", added_by: "scale", ...fill });
    const asked = await app.request(`/api/vehicles/${id}/assessment`, { headers });
    const { forecast } = (await asked.json()) as AssessAnswer;
    const found = await events(await app.request(`/vehicles/${id}/reminders.ics`, { headers }));
    const event = found.find(({ uid }) => uid.startsWith("next-low."))!;
    return {
      event,
      days: event.duration.toSeconds() / 86_400,
      alarms: event.component.getAllSubcomponents("valarm").length,
      ...forecast.next_low,
    };
  }

  test("is its whole window when that is short", async () => {
    // A charge that lasted two months, again and again, is known to run low within a season.
    const months = ["2025-07-01", "2025-09-01", "2025-11-01", "2026-01-01", "2026-03-01", "2026-04-30"];
    const fills = months.map((date) => ({ date, added_g: 260, finish: "gauges" as const }));
    const { event, days, alarms, p10, p90 } = await nextLow(fills);
    const last_day = event.endDate.clone();
    last_day.adjust(-1, 0, 0, 0);
    expect([event.startDate.toString(), last_day.toString(), alarms]).toEqual([p10, p90, 1]);
    expect(days).toBeGreaterThan(7);
  });

  test("is its first day when it is long, with the window in words", async () => {
    const { event, days, alarms, p10 } = await nextLow([{ date: "2026-04-30", finish: "weighed" }]);
    expect([event.startDate.toString(), days, alarms]).toEqual([p10, 1, 1]);
    expect(event.description).toMatch(
      /^It may be low from \d+ \w+ \d{4} on\. Best estimate: \d+ \w+ \d{4}\. If it cools poorly, check/,
    );
  });

  test("is its middle when its window is long and has begun, and does not ring every day", async () => {
    const { event, days, p10, p50 } = await nextLow([{ date: "2025-01-01", finish: "weighed" }]);
    expect(p10).toBe(TODAY);
    expect([event.startDate.toString(), days]).toEqual([p50, 1]);
  });
});
