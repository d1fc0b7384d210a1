import { beforeEach, describe, expect, test } from "vitest";
import { fleetApp } from "../support/fleet-app.ts";

const AS_OF = "2026-05-01";
const FILE = [
  "vehicle,refrigerant,nameplate g,group,depot,date,cooling,added g,recovered g,finish",
  "Bus 1,R-134a,7000,Buses,North,2024-02-01,,,,weighed",
  "Bus 1,R-134a,7000,Buses,North,2025-06-01,weak,3000,,gauges",
  "Van 1,R-1234yf,500,Vans,South,2025-03-01,,500,,weighed",
  "Van 1,R-1234yf,500,Vans,South,2025-09-01,weak,400,200,weighed",
  "",
].join("\n");

let fleet: Awaited<ReturnType<typeof fleetApp>>;
beforeEach(async () => {
  fleet = await fleetApp(AS_OF);
  await fleet.imported(FILE);
  await fleet.reckoned();
});

const close = (version: number) => fleet.post("/fleet/audit/closing", { year: "2025", version: String(version) });
const page = () => fleet.textOf("/fleet/audit?year=2025");
const plain = (html: string) =>
  html
    .replace(/<[^>]*>/g, "")
    .replace(/\u00a0/g, " ")
    .replace(/\s+/g, " ");

/** Adds to the log of the bus, and calculates again. */
async function corrected() {
  const bus = (await fleet.store.vehicles.list()).items.find(({ label }) => label === "Bus 1")!;
  await fleet.store.chargeLog.add(bus.id, { date: "2025-11-01", added_g: 1000, added_by: "scale" } as never);
  await fleet.reckoned();
}

describe("a year of the audit", () => {
  test("has the sums of the log by hand, first charges apart", async () => {
    // Charged 3000 + 500 + 400 g, of that 500 a first charge; recovered 200; replaced 3000 + 400 − 200.
    expect(plain(await page())).toContain(
      "Charged 3.9 kg, of that 0.5 kg as first charges; recovered 0.2 kg. By mass balance 3.2 kg was replaced.",
    );
  });

  test("stays as it was closed, and a later correction shows as such", async () => {
    expect((await close(0)).status).toBe(303);
    const [closing] = await fleet.store.fleetClosings.ofYear(2025);
    expect(closing).toMatchObject({ number: 1, gwp: "AR6", vehicles: 2, closed_by: expect.any(String) });
    const before = plain(await page());
    expect(before).toContain("these figures stay");
    const csv = await fleet.textOf("/fleet/audit.csv?year=2025");
    await corrected();
    const after = plain(await page());
    expect(after).toContain("Charged 3.9 kg");
    expect(after).toContain("Records of 1 vehicle changed since");
    expect(after).toContain("4.9 kg charged (+1 kg)");
    expect(await fleet.textOf("/fleet/audit.csv?year=2025")).toBe(csv);
  });

  test("is closed again with the correction, the first closing kept", async () => {
    await close(0);
    await corrected();
    expect((await close(1)).status).toBe(303);
    const now = plain(await page());
    expect(now).toContain("Charged 4.9 kg");
    expect(now).toContain("Closing 1 of");
    const [, first] = await fleet.store.fleetClosings.ofYear(2025);
    expect((await fleet.store.fleetClosings.rows(first!)).reduce((sum, row) => sum + row.added_g, 0)).toBe(3900);
  });

  test("is opened again after a mistake; of two people the second is told", async () => {
    await close(0);
    const second = await close(0);
    expect(second.status).toBe(409);
    expect(await second.text()).toContain("Someone else closed or opened this year");
    await fleet.post("/fleet/audit/reopening", { year: "2025", version: "1" });
    expect(plain(await page())).toContain("reopened on");
    expect(await fleet.store.fleetClosings.years()).toEqual([]);
  });

  test("is closed once it is over", async () => {
    const early = await fleet.post("/fleet/audit/closing", { year: "2026", version: "0" });
    expect(early.status).toBeGreaterThanOrEqual(400);
    expect(await fleet.store.fleetClosings.ofYear(2026)).toEqual([]);
  });
});
