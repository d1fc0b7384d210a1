import { describe, expect, test } from "vitest";
import { hindsight } from "../../data/hindsight.ts";
import { fleetApp } from "../support/fleet-app.ts";

const AS_OF = "2026-05-01";
const HEADER = "vehicle,refrigerant,nameplate g,group,date,cooling,added g,finish";
const plain = (html: string) =>
  html
    .replace(/<[^>]*>/g, "")
    .replace(/\u00a0/g, " ")
    .replace(/\s+/g, " ");

type Fleet = Awaited<ReturnType<typeof fleetApp>>;

/** A van that was full on 1 June 2021 and is low again every so many months, to the day. */
function van(name: string, months: number): string[] {
  const first = new Date(Date.UTC(2021, 5, 1));
  const rows = [`${name},R-134a,850,Vans,2021-06-01,,,weighed`];
  for (let i = 1; ; i++) {
    const day = new Date(first);
    day.setUTCMonth(first.getUTCMonth() + i * months);
    const date = day.toISOString().slice(0, 10);
    if (date > AS_OF) return rows;
    rows.push(`${name},R-134a,850,Vans,${date},weak,340,gauges`);
  }
}

async function predicted(fleet: Fleet): Promise<string> {
  for (let i = 0; i < 50; i++) {
    const page = await fleet.textOf("/fleet/predictions");
    if (!page.includes("hindsight-progress")) return page;
  }
  throw new Error("It does not end");
}

describe("how well it has predicted", () => {
  test("is said once the fleet is calculated: the share, how far off, the simple rule beside it, every row in a file", async () => {
    const fleet = await fleetApp(AS_OF);
    const names = Array.from({ length: 10 }, (_, i) => `Van <${i + 1}>`);
    await fleet.imported([HEADER, ...names.flatMap((name, i) => van(name, 9 + i)), ""].join("\n"));
    await fleet.reckoned();
    expect(await fleet.textOf("/fleet/predictions")).toContain("hindsight-progress");
    const page = await predicted(fleet);
    const text = plain(page);
    const all = await fleet.store.predictions.all();
    expect(text).toMatch(new RegExp(`Of ${all.length} charges, \\d+% came inside the likely range`));
    expect(text).toContain("About 90% were expected");
    // Each came exactly as late as the one before: nobody can do better, and the page says so.
    expect(text).toMatch(/ours was off by [\d.]+ months?, “as long as last time” by 0(\.\d)? months/);
    expect(text).toContain("The simple rule was the better date here.");
    expect(page).toContain("Van &lt;1&gt;");
    expect(page).not.toContain("Van <1>");

    const csv = (await fleet.textOf("/fleet/predictions.csv")).trim().split(/\r?\n/);
    expect(csv).toHaveLength(1 + all.length);
    expect(csv[0]).toContain("low_p05,low_p50,low_p95");
    const told = JSON.parse(await fleet.textOf("/api/fleet/predictions"));
    expect(told).toMatchObject({ under_way: false, fleet: { charges: all.length }, groups: [{ fleet_group: "Vans" }] });
    expect(text).toContain(`${Math.round(100 * told.fleet.inside.share)}% came inside the likely range`);
    expect(told.fleet.compared.rule.mean).toBeLessThan(told.fleet.compared.model.mean);
    // What a vehicle's page says of its last charge.
    const { id } = all.find(({ low_on }) => low_on !== null)!.vehicle;
    const own = plain(await fleet.textOf(`/vehicles/${id}`));
    expect(own).toMatch(
      /It was last low about \d+ \w+ \d{4}, (within|earlier than|later than) the likely range at the time/,
    );
  });

  test("is not judged by too few, and it is said how many are needed", async () => {
    const fleet = await fleetApp(AS_OF);
    await fleet.imported([HEADER, ...van("Van 1", 14), ""].join("\n"));
    await fleet.post("/fleet/predictions");
    const text = plain(await predicted(fleet));
    expect(text).toContain(`Too few to judge: 4 of the ${hindsight.share_least} charges needed have come due`);
    expect(text).toContain(`Too few to say who does better: ${hindsight.compare_least} are needed.`);
    expect(text).not.toContain("were expected");
  });

  test("has nothing to say of an empty fleet, of one not calculated yet, and of logs with nothing to compare", async () => {
    const fleet = await fleetApp(AS_OF);
    expect(plain(await fleet.textOf("/fleet/predictions"))).toContain("No vehicles yet");
    await fleet.imported([HEADER, "Van 1,R-134a,850,Vans,2025-06-01,ok,,", ""].join("\n"));
    // An import has the fleet calculated, and this after it.
    expect(plain(await fleet.textOf("/fleet/predictions"))).toContain("answers come first");
    await fleet.post("/fleet/reckoning/stop");
    const before = await fleet.textOf("/fleet/predictions");
    expect(plain(before)).toContain("Past charges have not been predicted again yet");
    expect(before).toContain("Predict past charges again");
    await fleet.post("/fleet/predictions");
    expect(plain(await predicted(fleet))).toContain("No past charge can be held against a prediction yet");
    const [vehicle] = (await fleet.store.vehicles.list()).items;
    expect(await fleet.textOf(`/vehicles/${vehicle!.id}`)).not.toContain("past-predictions");
  });
});
