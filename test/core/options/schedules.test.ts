import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LeakClock, seasonWeights } from "../../../src/core/leak/leak-clock.ts";
import { type MonthTable, monthTable, tableAt } from "../../../src/core/leak/month-table.ts";
import type { Nodes } from "../../../src/core/leak/nodes.ts";
import { meanPaths } from "../../../src/core/options/paths.ts";
import { schedulesOf } from "../../../src/core/options/schedules.ts";
import { Spans } from "../../../src/core/options/spans.ts";
import { Spending } from "../../../src/core/options/spending.ts";
import { TALLY, TALLY_WIDTH } from "../../../src/core/options/tally.ts";
import { dayNumber } from "../../../src/core/quantities/dates.ts";
import { questionOf } from "../../../src/core/question/question.ts";
import { carRequest } from "../samples.ts";

const M0 = 1000;

interface Node {
  weight: number;
  k: number;
  mean_m: number;
  mean_b: number;
  growth_index: number;
}

function nodesFrom(given: readonly Node[]): Nodes {
  const column = (name: keyof Node) => Float64Array.from(given, (node) => node[name]);
  const unused = new Float64Array(given.length);
  return {
    count: given.length,
    weight: column("weight"),
    k: column("k"),
    mean_m: column("mean_m"),
    mean_b: column("mean_b"),
    growth_index: Int32Array.from(column("growth_index")),
    x_index: new Int32Array(given.length),
    var_m: unused,
    cov_mb: unused,
    var_b: unused,
  };
}

/** A node under one rule, one top-off after the other: when and how much, and when it is repaired. */
function plainCourse(node: Node, top_up_now: boolean, table: MonthTable, rule: number, years: number) {
  const clock = table.clock[node.growth_index]!;
  const low = Math.min(0.9 * M0, Math.max(0.1 * M0, node.mean_b));
  const top_offs: { t: number; grams: number }[] = [];
  let charge = node.mean_m;
  let season = -Infinity;
  let reading = 0;
  if (top_up_now) {
    if (charge < M0) top_offs.push({ t: 0, grams: M0 - charge });
    charge = Math.max(M0, charge);
    season = 0;
  }
  for (let j = 0; ; ) {
    reading += Math.max(0, charge - low) / node.k;
    while (j < table.last && clock[j + 1]! < reading) j++;
    if (j === table.last) return { top_offs, repair: null };
    const rise = clock[j + 1]! - clock[j]!;
    const t = (j + (rise > 0 ? (reading - clock[j]!) / rise : 0)) / 12;
    if (t >= years) return { top_offs, repair: null };
    const here = tableAt(table.season, t);
    if (here - season < rule) return { top_offs, repair: t };
    top_offs.push({ t, grams: M0 - Math.min(charge, low) });
    season = here;
    charge = M0;
  }
}

/** Its row: what the tally's columns say, added up event by event. Without tools and seep. */
function plainRow(
  spending: Spending,
  node: Node,
  table: MonthTable,
  { top_offs, repair }: ReturnType<typeof plainCourse>,
  [from, to]: readonly [number, number],
): number[] {
  const { fade, hazard, growth } = spending.horizon;
  const row = new Array<number>(TALLY_WIDTH).fill(0);
  const within = (t: number) => t >= from && t < to;
  const D = (t: number) => Math.exp(-fade * t);
  for (const { t, grams } of top_offs.filter((one) => within(one.t))) {
    const units = spending.refrigerantUnits(grams);
    row[TALLY.visits]! += D(t);
    row[TALLY.refrigerant]! += D(t) * Math.exp(growth * t) * units;
    row[TALLY.cans]! += spending.diy ? D(t) * units : 0;
    row[TALLY.release]! += spending.heelRelease(grams) * Math.exp(-hazard * t);
    row[TALLY.lows]! += t > 0 ? D(t) : 0;
    row[TALLY.tools]! += t === top_offs[0]!.t ? D(t) : 0;
  }
  const until = (t: number) => node.k * tableAt(table.surviving[node.growth_index]!, Math.min(t, repair ?? t));
  row[TALLY.release]! += until(to) - until(from);
  if (repair === null || repair >= to) return row;
  const integral = (rate: number, a: number) => (Math.exp(-rate * a) - Math.exp(-rate * to)) / rate;
  row[TALLY.relapse]! += integral(fade, Math.max(from, repair));
  row[TALLY.sound]! += integral(hazard, Math.max(from, repair));
  if (repair < from) return row;
  row[TALLY.fix]! += D(repair);
  row[TALLY.fix_grown]! += D(repair) * Math.exp(growth * repair);
  row[TALLY.lows]! += repair > 0 ? D(repair) : 0;
  row[TALLY.release]! += 0.05 * M0 * Math.exp(-hazard * repair);
  return row;
}

const grams = fc.integer({ min: 0, max: 1100 });
const cases = fc.record({
  nodes: fc.array(
    fc.record({
      weight: fc.integer({ min: 1, max: 50 }).map((n) => n / 50),
      // From one low charge in decades to several a month.
      k: fc.integer({ min: 0, max: 80 }).map((n) => 3 * Math.exp(n / 10)),
      mean_m: grams,
      mean_b: grams,
      growth_index: fc.integer({ min: 0, max: 2 }),
    }),
    { minLength: 1, maxLength: 4 },
  ),
  climate: fc.option(fc.array(fc.integer({ min: -15, max: 45 }), { minLength: 12, maxLength: 12 }), { nil: null }),
  top_up_now: fc.boolean(),
  floor: fc.constantFrom(0, 0.03, 0.5),
  service: fc.constantFrom("diy", "shop"),
  can_seal: fc.constantFrom("self-sealing", "pierced"),
  years: fc.constantFrom([2, 4, 8], [1.3, 2.6, 5.2], [0.3, 0.6, 1.2]),
  discount: fc.constantFrom(0, 0.03, 0.3, 1),
  growth: fc.constantFrom(0, 0.05, 0.15),
} as const);

describe("means over schedules, against every top-off of every node one by one", () => {
  it("under any rate, to any of their horizons, in all and by year", () => {
    fc.assert(
      fc.property(cases, (given) => {
        const clock = new LeakClock(seasonWeights("R-134a", given.climate), dayNumber("2026-05-01"), 0, 20);
        const growths = [-0.3, 0, 0.4].map((g) => clock.reading(g));
        const table = monthTable(clock.reading(0), growths, { years: given.years[2]!, hazard: 0.02 });
        const rules = [given.floor, 0.75, 2];
        const start = {
          nodes: nodesFrom(given.nodes),
          top_up_now: given.top_up_now,
          last_fill_season: null,
          last_fill_counts: false,
        };
        const spendingOf = (keep_years: number, by_year: boolean) =>
          new Spending(
            questionOf(
              carRequest([], {
                vehicle: { refrigerant: "R-134a", nameplate_g: M0 },
                plan: { service: given.service, keep_years },
                prices: { can_seal: given.can_seal },
                // So little seep that no top-off for it falls due.
                assumptions: { discount: given.discount, refrigerant_growth: given.growth, seep_fraction: 0.005 },
              }),
            ),
            by_year,
          );
        const { cansOf } = spendingOf(1, false);
        const schedules = schedulesOf(start, table, M0, { rules, ends: given.years, cansOf });
        for (const years of given.years) {
          for (const by_year of [false, true]) {
            const spending = spendingOf(years, by_year);
            const picked = by_year ? [0, 2] : [0, 1, 2];
            const here = meanPaths(schedules, spending, table, picked);
            for (const [path, rule] of picked.entries()) {
              for (let period = 0; period < spending.periods; period++) {
                const span = [by_year ? period : 0, spending.periodEnd(period)] as const;
                const rows = given.nodes.map((node) => {
                  const schedule = plainCourse(node, given.top_up_now, table, rules[rule]!, years);
                  return plainRow(spending, node, table, schedule, span).map((value) => node.weight * value);
                });
                for (let column = 0; column < TALLY_WIDTH; column++) {
                  const expected = rows.reduce((sum, row) => sum + row[column]!, 0);
                  const is = here[(path * spending.periods + period) * TALLY_WIDTH + column]!;
                  expect(Math.abs(is - expected)).toBeLessThanOrEqual(1e-9 * (1 + Math.abs(expected)));
                }
              }
            }
          }
        }
      }),
      { numRuns: 150 },
    );
  });
});

describe("means of repairs that are added up at once, seep and tools included", () => {
  it.each(["diy", "shop"] as const)("are those of the years together, topped off at: %s", (service) => {
    const clock = new LeakClock(seasonWeights("R-134a", null), dayNumber("2026-05-01"), 0, 20);
    const table = monthTable(clock.reading(0), [clock.reading(0.1)], { years: 9.4, hazard: 0.02 });
    const node = { mean_m: 700, mean_b: 500, growth_index: 0 };
    const nodes = nodesFrom([2000, 900, 300, 60].map((k) => ({ ...node, k, weight: 0.25 })));
    const start = { nodes, top_up_now: false, last_fill_season: null, last_fill_counts: false };
    const plan = { service, keep_years: 9.4 };
    const assumptions = { seep_fraction: 0.2, discount: 0.03 };
    const question = questionOf(
      carRequest([], { vehicle: { refrigerant: "R-134a", nameplate_g: M0 }, plan, assumptions }),
    );
    const [in_one, by_year] = [new Spending(question), new Spending(question, true)];
    const { cansOf } = in_one;
    const years = Array.from({ length: 9 }, (_, year) => year + 1);
    const schedules = schedulesOf(start, table, M0, { rules: [0.2, 0.75, 2], ends: [...years, 9.4], cansOf });
    const all = meanPaths(schedules, in_one, table, [0, 1, 2]);
    const apart = meanPaths(schedules, by_year, table, [0, 1, 2]);
    expect([in_one.inOne, by_year.inOne]).toEqual([true, false]);
    for (const [i, value] of all.entries()) {
      const [path, column] = [Math.floor(i / TALLY_WIDTH), i % TALLY_WIDTH];
      let sum = 0;
      for (let year = 0; year < by_year.periods; year++) {
        sum += apart[(path * by_year.periods + year) * TALLY_WIDTH + column]!;
      }
      expect(Math.abs(value - sum)).toBeLessThanOrEqual(1e-9 * (1 + Math.abs(sum)));
    }
    // Some rule repairs, and after that there is enough seep for a top-off.
    expect(all[2 * TALLY_WIDTH + TALLY.fix]!).toBeGreaterThan(0);
    expect(all[2 * TALLY_WIDTH + TALLY.visits]!).toBeGreaterThan(0);
  });
});

describe("spans", () => {
  it("are months, cut where a horizon ends", () => {
    const spans = new Spans([0.5, 0.3]);
    expect([...spans.edges].map((edge) => 12 * edge)).toEqual([0, 1, 2, 3, 3.5999999999999996, 4, 5, 6]);
    expect([0, 1 / 12, 0.29, 0.3, 0.499, 0.5, 9].map((t) => spans.at(t))).toEqual([0, 1, 3, 4, 6, 7, 7]);
  });

  it("end where the last horizon does", () => {
    const spans = new Spans([0.26]);
    expect(spans.count).toBe(4);
    expect([0.255, 0.26].map((t) => spans.at(t))).toEqual([3, 4]);
  });
});
