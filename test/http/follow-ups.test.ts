import ICAL from "ical.js";
import { afterAll, beforeEach, describe, expect, test } from "vitest";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import { newStore } from "../store/engines.ts";
import { CONTENT, SNAPSHOT } from "../store/quote-samples.ts";
import { CAN, VAN } from "../store/samples.ts";
import { bearer, browser, type LinksApp, linksOnNode } from "../support/links-app.ts";
import { attribute, formFields, formIn, formsIn, textOf } from "../support/page-form.ts";
import { Person } from "../support/person.ts";

/** The forms of a page that are sent to an address, with the values of their buttons. */
function formsTo(page: string, action: string) {
  return formsIn(page)
    .filter((form) => attribute(form, "action") === action && attribute(form, "method") === "post")
    .map((form) => ({
      fields: formFields(form),
      buttons: [...form.matchAll(/<button [^>]*value="([^"]*)"/g)].map(([, value]) => value!),
    }));
}

/** A hose that was replaced and charged by weight on 28 March: its first look is due on 4 May. */
const REPAIRED: Parameters<WorkspaceStore["vehicles"]["create"]>[1] = {
  charge_log: [
    { date: "2024-05-02", cooling: "weak", added_g: 300, added_by: "scale" },
    { date: "2026-03-28", cooling: "weak", recovered_g: 200, added_g: 650, finish: "weighed", repair: "hose" },
  ],
};

/** Follow-ups of a shop, with a clock that moves: what is forgotten is overdue, and stays. */
describe("follow-ups", () => {
  let now = "2026-05-01";
  let app: LinksApp;
  let store: WorkspaceStore;
  let shop: Person;
  beforeEach(async () => {
    now = "2026-05-01";
    await app?.close();
    app = await linksOnNode({ now: () => new Date(`${now}T12:00:00Z`) });
    store = await newStore(app.sql);
    // A key outlives the years that pass here; a browser's session would not.
    shop = new Person(app, (await bearer(store, "editor")).headers);
  });
  afterAll(() => app.close());

  const list = async (query = "") => textOf(await shop.page(`/follow-ups${query}`));

  /** Presses a result of the first follow-up on the page that offers it. */
  async function press(result: string) {
    const form = formsTo(await shop.page("/follow-ups"), "/follow-ups").find(({ buttons }) => buttons.includes(result));
    if (form === undefined) throw new Error(`no follow-up offers ${result}`);
    form.fields.set("result", result);
    return shop.post("/follow-ups", form.fields);
  }

  const repaired = () => store.vehicles.create(VAN, REPAIRED);

  test("there are none in an empty shop, and the page says what will appear", async () => {
    expect(await list()).toContain("No follow-ups");
    expect(await list()).toContain("appear here by themselves");
  });

  test("a look at a repair that nobody made is overdue a year later, on the list and in the calendar", async () => {
    await repaired();
    expect(await list()).toContain("Due 4 May 2026");
    now = "2027-06-01";
    expect(await list()).toContain("Overdue since 4 May 2026");
    const { key } = await store.accessKeys.create("feed", "viewer", "bay");
    const feed = await (await app.request(`/feed/${key}.ics`)).text();
    const events = new ICAL.Component(ICAL.parse(feed)).getAllSubcomponents("vevent");
    const look = events.map((event) => new ICAL.Event(event)).find(({ uid }) => uid.startsWith("repair-look-"));
    expect(look?.startDate.toString()).toBe("2027-06-01");
  });

  test("the day that a quote names for asking whether the repair held falls due, and stays", async () => {
    const { id } = await store.vehicles.create(VAN);
    const draft = await store.quotes.create(id, CONTENT);
    await store.quotes.send(draft.id, 1, { content: CONTENT, snapshot: SNAPSHOT });
    await store.quotes.recordAnswer(draft.id, 2, { option: "b", name: "Robin", keep_years: 5, how: "phone" });
    await store.quotes.logWork(draft.id, 3, {
      work: { date: "2026-05-01", option: "b", follow_up_on: "2027-10-13" },
      charge_log: [{ date: "2026-05-01", added_g: 650, finish: "weighed", repair: "hose" }],
      findings: [],
    });
    await store.followUps.close(id, "repair-look-2026-05-01.2026-06-07", { outcome: "dismissed", words: "seen" });
    const held = async () => /Did the repair hold\? (.*?2027)/.exec(await list())?.[1];
    now = "2027-09-28";
    expect(await held()).toBeUndefined();
    now = "2027-09-29";
    expect(await held()).toBe("Due 13 October 2027");
    now = "2028-05-01";
    expect(await held()).toBe("Overdue since 13 October 2027");
    expect((await press("cools-well")).headers.get("Location")).toBe("/follow-ups?said=recorded");
    expect((await store.chargeLog.list(id)).at(-1)).toMatchObject({ date: "2028-05-01", cooling: "ok" });
    expect(await held()).toBeUndefined();
  });

  test("one press records a test result and ends the follow-up; pressed twice it is recorded once", async () => {
    const { id } = await store.vehicles.create(VAN, { charge_log: [{ ...CAN, date: "2026-03-20", dye: "added" }] });
    const form = formsTo(await shop.page("/follow-ups"), "/follow-ups")[0]!;
    form.fields.set("result", "dye-evaporator");
    const { headers } = await shop.post("/follow-ups", form.fields);
    expect((await shop.post("/follow-ups", form.fields)).status).toBe(303);
    // Where it leaks goes along into the quote for its repair.
    const next = await shop.page(headers.get("Location")!);
    expect(textOf(next)).toContain("Recorded. Quote the repair at the evaporator");
    expect(next).toContain(`href="/vehicles/${id}/quotes#begin"`);
    expect(formIn(await shop.page(`/vehicles/${id}/quotes`), "new-quote").get("found")).toBe("evaporator");
    expect(await store.findings.list(id)).toMatchObject([
      { date: "2026-05-01", test: "dye", location: "evaporator", result: "leak" },
    ]);
    expect(await list()).toContain("Dye seen at the evaporator");
  });

  test("a dismissal takes a reason, keeps what was typed, and can be taken back", async () => {
    await repaired();
    const form = formsTo(await shop.page("/follow-ups"), "/follow-ups/dismissals")[0]!;
    const none = await shop.post("/follow-ups/dismissals", form.fields);
    expect(none.status).toBe(422);
    expect(textOf(await none.text())).toContain("Say why, like sold or goes elsewhere");
    form.fields.set("reason", "x".repeat(201));
    expect((await shop.post("/follow-ups/dismissals", form.fields)).status).toBe(422);
    form.fields.set("reason", "Sold to a nephew");
    expect((await shop.post("/follow-ups/dismissals", form.fields)).status).toBe(303);
    expect(await list()).toContain("dismissed: Sold to a nephew");
    expect(await list()).toContain("No follow-ups");
    const again = formsTo(await shop.page("/follow-ups"), "/follow-ups/reopenings")[0]!;
    expect((await shop.post("/follow-ups/reopenings", again.fields)).status).toBe(303);
    expect(await list()).toContain("Due 4 May 2026");
  });

  test("a quote that runs out and a job that is not logged stand there with whom to call", async () => {
    const { id } = await store.vehicles.create(VAN);
    const robin = { name: "Robin Featherstone", phone: "555-0142", email: "", address: "", note: "" };
    const { id: customer_id } = await store.customers.create(robin);
    await store.customers.setParticulars(id, 0, { customer_id, words: "", plate: "XR-7 402", vin: "", odometer: "" });
    const draft = await store.quotes.create(id, CONTENT);
    await store.quotes.send(draft.id, 1, { content: CONTENT, snapshot: SNAPSHOT });
    // It holds until 31 May 2026.
    now = "2026-05-23";
    expect(await list()).toContain("No follow-ups");
    now = "2026-05-24";
    expect(await list()).toMatch(/Quote 1 has no answer Due 31 May 2026 .*XR-7 402 Robin Featherstone , 555-0142/);
    expect(await list("?q=feather")).toContain("Quote 1 has no answer");
    expect(await list("?q=nobody")).toContain("Nothing is due for “nobody”");
    now = "2026-07-01";
    expect(await list()).toContain("Overdue since 31 May 2026");
    await store.quotes.recordAnswer(draft.id, 2, { option: "a", name: "Robin", keep_years: 5, how: "phone" });
    expect(await list()).toContain("Quote 1 is accepted, the work is not logged");
    const { key } = await store.accessKeys.create("feed", "viewer", "bay");
    expect(await (await app.request(`/feed/${key}.ics`)).text()).toContain("the work is not logged");
  });

  test("a long list is read page by page", async () => {
    for (let i = 0; i < 51; i++)
      await store.vehicles.create(
        { ...VAN, label: `Truck ${String(i).padStart(2, "0")}` },
        { charge_log: [{ ...CAN, date: "2026-03-20", dye: "added" }] },
      );
    const first = await shop.page("/follow-ups");
    expect(textOf(first)).toContain("51 follow-ups");
    expect([first.includes("Truck 49"), first.includes("Truck 50")]).toEqual([true, false]);
    expect(await list("?page=2")).toContain("Truck 50");
  });

  test("whoever may only look has no buttons, and the results of one shop stay with it", async () => {
    const { id } = await repaired();
    const viewer = new Person(app, (await browser(app, store, "viewer")).headers);
    expect(formsTo(await viewer.page("/follow-ups"), "/follow-ups")).toEqual([]);
    const elsewhere = await newStore(app.sql);
    await expect(
      elsewhere.followUps.close(id, "watch.2026-05-04", { outcome: "done", words: "x" }),
    ).rejects.toMatchObject({ code: "not-found" });
  });
});
