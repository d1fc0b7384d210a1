import { describe, expect, test } from "vitest";
import { monthsAhead, type PicturedVehicle, picturesOf } from "../../../src/core/fleet/pictures.ts";

const DAYS = { today: "2026-11-29", soon: "2027-02-28" };

function vehicle(id: string, said: Partial<PicturedVehicle> = {}): PicturedVehicle {
  return {
    id,
    fleet_group: "Vans",
    leak_share: 0.1,
    no_entries: false,
    release_as_is_g: 100,
    low_now: false,
    next_low: null,
    ...said,
  };
}

describe("picturesOf(vehicles, days)", () => {
  test("ranks vehicles by what they release, with the share of all up to each", () => {
    const grams = [10, 60, 20, 10];
    const { ranks, release_g, half } = picturesOf(
      grams.map((release_as_is_g, i) => vehicle(`v${i}`, { release_as_is_g })),
      DAYS,
    );
    expect(release_g).toBe(100);
    expect(half).toBe(1);
    expect(ranks.map(({ rank, id, share }) => [rank, id, share])).toEqual([
      [1, "v1", 0.6],
      [2, "v2", 0.8],
      [3, "v0", 0.9],
      [4, "v3", 1],
    ]);
  });

  test("counts each vehicle once: low now, in one of twelve months, or later", () => {
    const { low, low_soon } = picturesOf(
      [
        vehicle("now", { low_now: true, next_low: "2027-03-01" }),
        vehicle("passed", { next_low: "2026-11-20" }),
        vehicle("this month", { next_low: "2026-11-30" }),
        vehicle("within soon", { next_low: "2027-02-28" }),
        vehicle("the last month", { next_low: "2027-10-31" }),
        vehicle("a year on", { next_low: "2027-11-01" }),
        vehicle("never"),
      ],
      DAYS,
    );
    expect(low.now).toBe(2);
    expect(low.later).toBe(2);
    expect(low.months).toHaveLength(12);
    expect(low.months.filter((one) => one.vehicles > 0)).toEqual([
      { month: "2026-11", vehicles: 1 },
      { month: "2027-02", vehicles: 1 },
      { month: "2027-10", vehicles: 1 },
    ]);
    expect(low_soon).toEqual({ until: "2027-02-28", vehicles: 4 });
  });

  test("draws a small fleet whole, the largest group first, each from its fastest down", () => {
    const { leaks, groups } = picturesOf(
      [
        vehicle("a", { fleet_group: "Buses", leak_share: 0.5 }),
        vehicle("b", { leak_share: 0.1 }),
        vehicle("c", { leak_share: 0.3, no_entries: true }),
        vehicle("d", { fleet_group: null, leak_share: 2 }),
      ],
      DAYS,
    );
    expect(groups).toEqual(["Vans", "Buses", null]);
    expect(leaks.map(({ id }) => id)).toEqual(["c", "b", "a", "d"]);
    expect(leaks[0]!.no_entries).toBe(true);
  });

  test("draws a bounded part of a large one: each group's fastest, its slowest, and evenly between", () => {
    const many = Array.from({ length: 10_000 }, (_, i) =>
      vehicle(String(i).padStart(5, "0"), { fleet_group: `Group ${i % 20}`, leak_share: i / 10_000 }),
    );
    const { leaks, groups, ranks, vehicles } = picturesOf(many, DAYS);
    expect(vehicles).toBe(10_000);
    expect(groups).toHaveLength(13); // twelve of their own, and the others
    expect(leaks.length).toBeLessThanOrEqual(240);
    expect(ranks.length).toBeLessThanOrEqual(50);
    expect(ranks.at(-1)!.rank).toBe(10_000);
    const first = leaks.filter(({ fleet_group }) => fleet_group === "Group 0").map(({ leak_share }) => leak_share);
    expect(first.slice(0, 3)).toEqual([0.998, 0.996, 0.994]);
    expect(first.at(-1)).toBe(0);
    const steps = first.slice(3).map((share, i, all) => (i === 0 ? 0 : all[i - 1]! - share));
    expect(Math.max(...steps)).toBeLessThan(0.08);
  });

  test("monthsAhead(day) goes over the end of the year, and to the thirteenth month's first day", () => {
    const days = monthsAhead("2026-11-29");
    expect(days.slice(0, 3)).toEqual(["2026-11-01", "2026-12-01", "2027-01-01"]);
    expect(days.at(-1)).toBe("2027-11-01");
  });
});
