import { beforeEach, describe, expect, test } from "vitest";
import { fleetApp } from "../support/fleet-app.ts";

const AS_OF = "2026-05-01";
type Fleet = Awaited<ReturnType<typeof fleetApp>>;
let fleet: Fleet;

beforeEach(async () => {
  fleet = await fleetApp(AS_OF);
  await fleet.imported(fleet.inventedCsv(40));
  await fleet.reckoned();
});

const headingOf = (page: string) => /<h1[^>]*>(.*?)<\/h1>/s.exec(page)?.[1];
const hidden = (page: string, name: string) => new RegExp(`name="${name}" value="([^"]*)"`).exec(page)?.[1] ?? "";

/** Saves a plan as the button of the budget page does. */
async function planned(budget = "9000", more: Record<string, string> = {}): Promise<string> {
  const fields = { budget, aim: "co2e", year: "2026", ...more };
  const page = await fleet.textOf(`/fleet/budget?${new URLSearchParams(fields)}`);
  const form = page.slice(page.indexOf('action="/fleet/plan"'));
  const sent = await fleet.post("/fleet/plan", {
    ...fields,
    version: hidden(form, "version"),
    submit_key: hidden(form, "submit_key"),
  });
  expect(sent.status).toBe(303);
  return sent.headers.get("Location")!;
}

async function ordersOf(year = 2026) {
  return fleet.store.fleetPlans.orders(year);
}

describe("a year's plan", () => {
  test("is saved with vehicle, what, price, month and depot, shown and exported", async () => {
    const address = await planned();
    expect(address).toBe("/fleet/plan?year=2026");
    const page = await fleet.textOf(address);
    const orders = await ordersOf();
    expect(orders.length).toBeGreaterThan(3);
    expect(headingOf(page)).toBe(`0 of ${orders.length} repairs done in 2026, $0 of $9,000 spent`);
    expect(orders.every(({ month, price, depot }) => month === "2026-05" && price > 0 && depot !== null)).toBe(true);
    expect(orders.reduce((sum, { price }) => sum + price, 0)).toBeLessThanOrEqual(9000);
    expect(page).toContain("vent nothing");
    const csv = await fleet.textOf("/fleet/plan.csv?year=2026");
    expect(csv.trim().split("\r\n")).toHaveLength(1 + orders.length);
    expect(await fleet.textOf("/fleet/budget?budget=9k")).toContain("Open the plan for 2026");
  });

  test("names an order that rests on a guess from the group alone", async () => {
    const orders = () => fleet.textOf("/fleet/budget?budget=20k&aim=co2e");
    expect(await orders()).not.toContain("group guess");
    await fleet.imported("vehicle,refrigerant,nameplate g,depot\nSilent bus,R-134a,4000,North yard\n");
    await fleet.reckoned();
    const silent = (await fleet.store.fleet.list({ search: "Silent" }))[0]!;
    await fleet.store.fleet.lock(silent.id, { repair: "must", year: null });
    const row = (await orders()).split("<tr>").find((one) => one.includes("Silent bus"));
    expect(row).toContain("no record of its own: group guess");
    // Saved, printed and exported it says so as well, and no longer once something is known.
    await fleet.post("/fleet/plan", { budget: "20k", aim: "co2e", year: "2026", version: "0", submit_key: "guess" });
    const saved = async () =>
      (await fleet.textOf("/fleet/plan")).split("<tr").find((one) => one.includes("Silent bus"))!;
    expect(await saved()).toContain("no record of its own: group guess");
    const csv = (await fleet.textOf("/fleet/plan.csv?year=2026")).split("\r\n");
    const column = csv[0]!.split(",").indexOf("rests_on_group_alone");
    const guesses = csv.slice(1, -1).map((line) => [line.includes("Silent bus"), line.split(",")[column]]);
    expect(guesses.filter(([silent]) => silent)).toEqual([[true, "yes"]]);
    expect(guesses.filter(([silent, guess]) => !silent && guess !== "no")).toEqual([]);
    await fleet.store.chargeLog.add(silent.id, { date: "2026-04-01", cooling: "weak" });
    expect(await saved()).not.toContain("group guess");
  });

  test("counts a press that arrives twice once", async () => {
    const fields = { budget: "9000", aim: "cost", year: "2026", version: "0", submit_key: "once" };
    expect((await fleet.post("/fleet/plan", fields)).status).toBe(303);
    const before = await ordersOf();
    // The second arrival finds a plan that was not there when its form was made.
    expect([303, 409]).toContain((await fleet.post("/fleet/plan", fields)).status);
    expect(await ordersOf()).toEqual(before);
  });

  test("has its orders ticked off with what was paid, and the tick taken back", async () => {
    await planned();
    const [order] = await ordersOf();
    const path = `/fleet/plan/orders/${order!.id}`;
    const wrong = await fleet.post(path, { say: "done", version: "1", done_on: "soon", paid: "-3" });
    expect(wrong.status).toBe(422);
    const refused = await wrong.text();
    expect(refused).toContain('value="soon"');
    expect(refused).toContain("Enter 0 or more");
    const done = await fleet.post(path, { say: "done", version: "1", done_on: "2026-04-28", paid: "1.2k" });
    expect(done.headers.get("Location")).toBe(`/fleet/plan?year=2026#order-${order!.id}`);
    const page = await fleet.textOf("/fleet/plan");
    expect(headingOf(page)).toMatch(/^1 of \d+ repairs done in 2026, \$1,200 of \$9,000 spent$/);
    expect(page).toContain("not in the log: add it");
    await fleet.post(path, { say: "open", version: "2" });
    expect(headingOf(await fleet.textOf("/fleet/plan"))).toMatch(/^0 of/);
    expect((await ordersOf()).find(({ id }) => id === order!.id)).toMatchObject({
      done_on: null,
      paid: null,
      version: 3,
    });
  });

  test("has an order put into another month at another price, which then stays; what is neither is told", async () => {
    const address = await planned();
    const [first] = await ordersOf();
    const path = `/fleet/plan/orders/${first!.id}`;
    const said = { version: String(first!.version), submit_key: "m1", say: "move" };
    const refused = await fleet.post(path, { ...said, month: "2027-01", price: "a lot" });
    expect(refused.status).toBe(422);
    const page = await refused.text();
    expect(page).toContain("Choose a month of 2026");
    expect(page).toContain('value="a lot"');
    const moved = { ...said, submit_key: "m2", month: "2026-09", price: "$1,234" };
    expect((await fleet.post(path, moved)).status).toBe(303);
    const now = () => ordersOf().then((orders) => orders.find(({ id }) => id === first!.id));
    expect(await now()).toMatchObject({ month: "2026-09", price: 1234, held: true, version: first!.version + 1 });
    // The same press again changes nothing, another of before is told.
    expect((await fleet.post(path, moved)).status).toBe(303);
    expect((await fleet.post(path, { ...moved, submit_key: "m3", price: "9" })).status).toBe(409);
    expect((await now())!.price).toBe(1234);
    expect(await fleet.textOf(address)).toContain("Sep");
  });

  test("finds the repair in the log, before it is ticked off and after", async () => {
    await planned();
    const order = (await ordersOf()).find(({ option }) => option === "repair")!;
    const entry = await fleet.store.chargeLog.add(order.vehicle_id, { date: AS_OF, repair: "hose" } as never);
    const link = `/vehicles/${order.vehicle_id}/log/${entry.id}`;
    const before = await fleet.textOf("/fleet/plan");
    expect(before).toContain("the records have");
    expect(before).toContain(link);
    await fleet.post(`/fleet/plan/orders/${order.id}`, { say: "done", version: "1", done_on: AS_OF, paid: "" });
    const after = await fleet.textOf("/fleet/plan");
    expect(after).toContain("in the records");
    expect(after).toContain(link);
    expect(after).toContain("not entered");
  });

  test("tells the second of two people, and changes nothing for them", async () => {
    await planned();
    const [order] = await ordersOf();
    const path = `/fleet/plan/orders/${order!.id}`;
    await fleet.post(path, { say: "done", version: "1", done_on: AS_OF, paid: "100" });
    const second = await fleet.post(path, { say: "done", version: "1", done_on: AS_OF, paid: "999" });
    expect(second.status).toBe(409);
    expect(await second.text()).toContain("Someone else changed this order in the meantime");
    expect((await ordersOf()).find(({ id }) => id === order!.id)?.paid).toBe(100);
    // A plan made anew from a page of before the tick.
    const again = await fleet.post("/fleet/plan/again", { year: "2026", version: "1" });
    expect(again.status).toBe(409);
    expect(await again.text()).toContain("Someone else changed this plan in the meantime");
  });
});

describe("a year's plan made again", () => {
  test("planned again keeps what is done or held, within the money that is left", async () => {
    await planned();
    const orders = await ordersOf();
    const [done, held] = orders;
    await fleet.post(`/fleet/plan/orders/${done!.id}`, { say: "done", version: "1", done_on: AS_OF, paid: "6000" });
    await fleet.post(`/fleet/plan/orders/${held!.id}`, { say: "hold", version: "1" });
    const plan = await fleet.store.fleetPlans.find(2026);
    const again = await fleet.post("/fleet/plan/again", { year: "2026", version: String(plan!.version) });
    expect(again.status).toBe(303);
    const after = await ordersOf();
    expect(after.map(({ id }) => id)).toEqual(expect.arrayContaining([done!.id, held!.id]));
    expect(after.length).toBeLessThan(orders.length);
    expect(after.reduce((sum, { paid, price }) => sum + (paid ?? price), 0)).toBeLessThanOrEqual(9000);
    expect(new Set(after.map(({ vehicle_id }) => vehicle_id)).size).toBe(after.length);
  });

  test("leaves what was not done to the next year, which begins with it", async () => {
    await planned();
    const orders = await ordersOf();
    await fleet.post(`/fleet/plan/orders/${orders[0]!.id}`, { say: "done", version: "1", done_on: AS_OF, paid: "800" });
    const next = await fleet.post("/fleet/plan/next", { year: "2026", version: "0" });
    expect(next.headers.get("Location")).toBe("/fleet/plan?year=2027");
    const carried = (await ordersOf(2027)).filter(({ carried_from }) => carried_from === 2026);
    expect(carried.map(({ vehicle_id }) => vehicle_id).sort()).toEqual(
      orders
        .slice(1)
        .map(({ vehicle_id }) => vehicle_id)
        .sort(),
    );
    expect(carried.every(({ month, held }) => month === "2027-01" && held)).toBe(true);
    expect(await fleet.textOf("/fleet/plan?year=2027")).toContain("carried over from 2026");
    expect((await fleet.post("/fleet/plan/next", { year: "2026", version: "0" })).status).toBe(409);
  });

  test("ends “always repair” with the repair, and brings it back with the tick", async () => {
    const [first] = await fleet.store.fleet.options();
    await fleet.store.fleet.lock(first!.id, { repair: "must", year: null });
    await planned();
    const order = (await ordersOf()).find(({ vehicle_id }) => vehicle_id === first!.id)!;
    await fleet.post(`/fleet/plan/orders/${order.id}`, { say: "done", version: "1", done_on: AS_OF, paid: "500" });
    expect(await fleet.store.fleet.locks()).toEqual(new Map());
    await fleet.post(`/fleet/plan/orders/${order.id}`, { say: "open", version: "2" });
    expect(await fleet.store.fleet.locks()).toEqual(new Map([[first!.id, { repair: "must", year: null }]]));
  });

  test("without one says where to make it", async () => {
    expect(headingOf(await fleet.textOf("/fleet/plan"))).toBe("No plan for 2026 yet");
    expect((await fleet.app.request("/fleet/plan.csv?year=2026")).headers.get("Location")).toBe("/fleet/plan");
  });
});
