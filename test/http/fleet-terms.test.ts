import { beforeEach, describe, expect, test } from "vitest";
import { CLIMATES } from "../../data/climates.ts";
import { GENERAL_PRIOR } from "../../src/core/fleet/cohort.ts";
import { placeSaid } from "../../src/store/vehicle-record.ts";
import { fleetApp } from "../support/fleet-app.ts";

const AS_OF = "2026-05-01";
let fleet: Awaited<ReturnType<typeof fleetApp>>;
beforeEach(async () => {
  fleet = await fleetApp(AS_OF);
});

/** Two vans of a group and depot and a car of none; all were filled once, years ago. */
const FILE = `vehicle,group,depot,refrigerant,nameplate g,date,finish
Van 1,Vans,North yard,R-134a,850,2022-03-01,weighed
Van 2,Vans,South yard,R-134a,850,2022-04-01,weighed
Car 1,,,R-134a,600,2022-04-01,weighed
`;

async function requests() {
  const listed = await fleet.store.fleet.list();
  const records = await fleet.store.records(listed.map(({ id }) => id));
  return new Map(records.map((record) => [record.vehicle.label, fleet.requestOf(record)]));
}

describe("terms of a fleet", () => {
  test("a fleet's vehicle is topped off by a shop, one of nobody's by its owner", async () => {
    await fleet.imported(FILE);
    const asked = await requests();
    expect(asked.get("Van 1")?.plan?.service).toBe("shop");
    expect(asked.get("Car 1")?.plan?.service ?? "diy").toBe("diy");
  });

  test("a depot goes before its group, a group before the fleet, and hours out of use are paid", async () => {
    await fleet.imported(FILE);
    const saved = await fleet.post("/fleet/terms", {
      for: "fleet",
      keep_years: "8",
      topoff_fee: "90",
      topoff_hours_lost: "2",
      hour_lost: "$25",
    });
    expect(saved.status).toBe(303);
    await fleet.post("/fleet/terms", { for: "group:Vans", keep_years: "6", topoff_fee: "80" });
    await fleet.post("/fleet/terms", { for: "depot:North yard", topoff_fee: "40" });
    const asked = await requests();
    expect(asked.get("Van 1")?.plan?.keep_years).toBe(6);
    expect(asked.get("Van 1")?.prices?.shop_topoff_fee).toBe(40 + 50);
    expect(asked.get("Van 2")?.prices?.shop_topoff_fee).toBe(80 + 50);
    expect(asked.get("Car 1")?.plan?.keep_years).toBeUndefined();
    const page = await fleet.textOf("/fleet/terms?for=depot:North+yard");
    expect(page).toMatch(/name="topoff_fee"[^>]*value="40"|value="40"[^>]*name="topoff_fee"/);
  });

  test("a depot's climate and rules hold for its vehicles that have none of their own", async () => {
    await fleet.imported(FILE);
    await fleet.reckoned();
    const said = await fleet.post("/fleet/terms", { for: "depot:North yard", climate: "hot-desert", place: "eu" });
    expect(said.status).toBe(303);
    expect(await fleet.store.reckoning.due("2026-04-24", "2026-05-01")).toBe(3);
    const desert = CLIMATES.find(({ id }) => id === "hot-desert")!.monthly_mean_c;
    const asked = await requests();
    expect(asked.get("Van 1")?.vehicle.monthly_mean_c).toEqual(desert);
    expect(asked.get("Van 2")?.vehicle.monthly_mean_c).toBeNull();
    const [of_north] = (await fleet.store.fleet.list()).filter(({ depot }) => depot === "North yard");
    const van = await fleet.store.vehicles.get(of_north!.id);
    expect(placeSaid(await fleet.store.record(van.id))).toBe("eu");
    const own = CLIMATES.find(({ id }) => id !== "hot-desert")!;
    await fleet.store.vehicles.update(van.id, van.version, { ...van, climate: own.id });
    expect((await requests()).get("Van 1")?.vehicle.monthly_mean_c).toEqual(own.monthly_mean_c);
    expect(await fleet.textOf("/fleet/terms?for=depot:North+yard")).toMatch(/value="hot-desert" selected/);
    const csv = (await fleet.textOf("/fleet.csv")).split("\r\n").map((line) => line.split(",").slice(2, 5));
    expect(csv).toContainEqual(["depot", "depot_climate", "depot_place"]);
    expect(csv).toContainEqual(["North yard", "hot-desert", "eu"]);
    const refused = await fleet.post("/fleet/terms", { for: "depot:North yard", climate: "moon" });
    expect([refused.status, await refused.text()]).toEqual([422, expect.stringContaining("Choose one from the list")]);
  });

  test("what is no amount is told at its field, and nothing is lost or stored", async () => {
    await fleet.imported(FILE);
    const refused = await fleet.post("/fleet/terms", { for: "fleet", keep_years: "many", topoff_fee: "95" });
    expect(refused.status).toBe(422);
    const page = await refused.text();
    expect(page).toContain("Enter years, from 0.25 to 20");
    expect(page).toContain('value="many"');
    expect(page).toContain('value="95"');
    expect(await fleet.store.fleetTerms.all()).toEqual([]);
  });

  test("a change wants the fleet calculated again", async () => {
    await fleet.imported(FILE);
    await fleet.reckoned();
    expect(await fleet.store.reckoning.due("2026-04-24", "2026-05-01")).toBe(0);
    await fleet.post("/fleet/terms", { for: "fleet", keep_years: "3" });
    expect(await fleet.store.reckoning.due("2026-04-24", "2026-05-01")).toBe(3);
  });
});

describe("records that every charge is in", () => {
  test("make quiet vehicles slow ones, in the table and on the vehicle's page", async () => {
    await fleet.imported(FILE);
    await fleet.reckoned();
    const leak = async () =>
      new Map((await fleet.store.fleet.list()).map(({ label, reckoned }) => [label, reckoned!.leak_g_per_year]));
    const before = await leak();
    const said = await fleet.post("/fleet/logged", {
      for: "group:Vans",
      until: "1 May 2026",
      missed: "10",
      say: "yes",
    });
    expect(said.status).toBe(303);
    await fleet.reckoned();
    const after = await leak();
    expect(after.get("Van 1")!).toBeLessThan(before.get("Van 1")! / 1.5);
    expect(after.get("Car 1")).toBe(before.get("Car 1"));
    const asked = await requests();
    expect(asked.get("Van 1")?.logged).toEqual({ from: null, until: "2026-05-01", missed: 0.1 });
    await fleet.post("/fleet/logged", { for: "fleet", say: "no" });
    expect((await requests()).get("Van 1")?.logged).toBeUndefined();
  });

  test("are said by a tick of the import for the vehicles of its file alone, from its first day on", async () => {
    await fleet.imported("vehicle,refrigerant,nameplate g\nBus 9,R-134a,4000\n");
    const report = (await fleet.upload(FILE)).headers.get("Location")!;
    expect(await fleet.textOf(report)).toContain('name="logged"');
    expect((await fleet.post(`${report}/take`, { logged: "yes" })).status).toBe(303);
    expect(await fleet.store.fleetTerms.loggedCounts()).toMatchObject({ vehicles: 4, logged: 3, latest: AS_OF });
    const asked = await requests();
    expect(asked.get("Van 1")?.logged).toEqual({ from: "2022-03-01", until: AS_OF, missed: 0.1 });
    expect(asked.get("Bus 9")?.logged).toBeUndefined();
  });

  test("days that cannot be are told", async () => {
    await fleet.imported(FILE);
    const refused = await fleet.post("/fleet/logged", {
      from: "2026-04-01",
      until: "2026-03-01",
      missed: "80",
      say: "yes",
    });
    expect(refused.status).toBe(422);
    const page = await refused.text();
    expect(page).toContain("The records begin after they end");
    expect(page).toContain("Enter a percentage from 0 to 50");
  });
});

describe("a check of many vehicles", () => {
  test("adds “cooled well” to those without an entry since, once", async () => {
    await fleet.imported(`${FILE}Van 2,Vans,South yard,R-134a,850,2026-04-20,gauges\n`);
    await fleet.post("/fleet/cooled", { for: "group:Vans", date: "2026-04-10" });
    const entries = async () =>
      (await fleet.store.records((await fleet.store.fleet.list()).map(({ id }) => id))).flatMap((record) =>
        record.charge_log.filter(({ cooling }) => cooling === "ok").map(({ date }) => [record.vehicle.label, date]),
      );
    expect(await entries()).toEqual([["Van 1", "2026-04-10"]]);
    const again = await fleet.post("/fleet/cooled", { for: "group:Vans", date: "2026-04-10" });
    expect(await fleet.textOf(again.headers.get("Location")!)).toContain("Nothing was added");
    expect(await entries()).toHaveLength(1);
  });
});

describe("the budget", () => {
  test.each([
    ["5", "$5 for repairs"],
    ["0.01k", "$10 for repairs"],
    ["1e6", "covers every repair that pays off"],
    ["50.000", "50.000 may be 50 or 50,000"],
    ["-50000", "Enter 0 or more, like 25000 or 25k"],
  ])("reads %s as people mean it, or asks", async (typed, said) => {
    await fleet.imported(FILE);
    await fleet.reckoned();
    const page = await (await fleet.app.request(`/fleet/budget?${new URLSearchParams({ budget: typed })}`)).text();
    expect(page).toContain(said);
  });
});

describe("one vehicle, one answer", () => {
  test("the vehicle's page answers under its group's prior, like the table, and the export says which", async () => {
    await fleet.imported(fleet.inventedCsv(24));
    await fleet.reckoned();
    const rows = await fleet.store.fleet.list();
    const records = await fleet.store.records(rows.map(({ id }) => id));
    for (const [i, { label, reckoned, nameplate_g }] of rows.entries()) {
      const request = fleet.requestOf(records[i]!);
      const answer = fleet.assess(request);
      expect(answer.leak.g_per_year.median, label).toBeCloseTo(reckoned!.leak_g_per_year, 6);
      expect(answer.verdict.option, label).toBe(reckoned!.verdict);
      expect(answer.leak.charge_now_g.mean / nameplate_g).toBeCloseTo(reckoned!.charge_share, 9);
    }
    const csv = await fleet.textOf("/fleet.csv");
    expect(csv.split("\n")[0]).toContain("prior_ln_x_mean,prior_ln_x_sd");
    const general = rows.filter(({ reckoned }) => reckoned!.answer.prior.ln_x_sd === GENERAL_PRIOR.ln_x_sd);
    expect(general.length).toBeLessThan(rows.length);
  });
});
