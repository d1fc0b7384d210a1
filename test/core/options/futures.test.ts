import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LeakClock, seasonWeights } from "../../../src/core/leak/leak-clock.ts";
import { type MonthTable, monthTable, tableAt } from "../../../src/core/leak/month-table.ts";
import { switchRuleMonths } from "../../../src/core/options/futures.ts";
import type { Start } from "../../../src/core/options/node-events.ts";
import { emptyEvents, eventsOf, type NodeState } from "../../../src/core/options/node-events.ts";
import { fadingIntegral, Spending } from "../../../src/core/options/spending.ts";
import { type PlacePrices, priceTags, TALLY, TALLY_WIDTH, tallyCost } from "../../../src/core/options/tally.ts";
import { dayNumber } from "../../../src/core/quantities/dates.ts";
import type { AssessRequest } from "../../../src/core/question/contract.ts";
import { questionOf } from "../../../src/core/question/question.ts";
import { nodePaths, singleEvents } from "../../support/node-paths.ts";
import { carRequest } from "../samples.ts";

const M0 = 1000;
const question = (changes: Partial<AssessRequest> = {}) =>
  questionOf(carRequest([], { vehicle: { refrigerant: "R-134a", nameplate_g: M0 }, ...changes }));

/** An even year: both clocks are time itself. */
const EVEN = monthTable((u) => u, [(u) => u], { years: 5, hazard: 0.02 });
const NODE: NodeState = { k: 400, mean_m: 800, mean_b: 600, clock: 0 };
/** Filled half a year of season ago, and well. */
const FILLED: Omit<Start, "nodes"> = { top_up_now: false, last_fill_season: -0.5, last_fill_counts: true };

function events(
  node: Partial<NodeState>,
  start: Partial<Start> = {},
  table: MonthTable = EVEN,
  spending = new Spending(question()),
) {
  const into = emptyEvents();
  // Only the decisions of a start matter to a node's events, not its nodes.
  eventsOf(into, { ...NODE, ...node }, { ...FILLED, ...start } as Start, table, spending.horizon, M0);
  return Array.from({ length: into.count }, (_, e) => [into.t[e]!, into.grams[e]!, into.spell[e]!]);
}

function expectEvents(here: number[][], expected: number[][]) {
  expect(here).toHaveLength(expected.length);
  for (const [e, row] of expected.entries()) {
    for (const [i, value] of row.entries()) {
      if (value === Infinity) expect(here[e]![i]).toBe(Infinity);
      else expect(here[e]![i]).toBeCloseTo(value, 9);
    }
  }
}

describe("the low charges of a node, by hand: [years, grams, judged spell]", () => {
  it("with 200 g to lose at 400 g a year: after half a year, then yearly", () => {
    expectEvents(events({}), [
      [0.5, 400, 1],
      [1.5, 400, 1],
      [2.5, 400, 1],
      [3.5, 400, 1],
      [4.5, 400, 1],
    ]);
  });

  it("with a top-up now: what is missing now, unjudged; then yearly, not at the horizon itself", () => {
    expectEvents(events({ mean_m: 550 }, { top_up_now: true }), [
      [0, 450, Infinity],
      [1, 400, 1],
      [2, 400, 1],
      [3, 400, 1],
      [4, 400, 1],
    ]);
  });

  it("with a top-up now that this node does not need: nothing goes in, and it lasts longer", () => {
    expectEvents(events({ mean_m: 1080, k: 480 }, { top_up_now: true }).slice(0, 2), [
      [0, 0, Infinity],
      [1, 400, 1],
    ]);
  });

  it("already below its line, without a top-up now: low today", () => {
    expectEvents(events({ mean_m: 500 }).slice(0, 2), [
      [0, 500, 0.5],
      [1, 400, 1],
    ]);
  });

  it("the first spell is not judged without a fill, nor after one that left too little", () => {
    expectEvents(events({}, { last_fill_season: null, last_fill_counts: false }).slice(0, 2), [
      [0.5, 400, Infinity],
      [1.5, 400, 1],
    ]);
    expectEvents(events({}, { last_fill_counts: false }).slice(0, 1), [[0.5, 400, Infinity]]);
  });

  it("the weak-cooling charge is kept within 10 and 90 % of nameplate", () => {
    expectEvents(events({ mean_b: 990, mean_m: 1000, k: 100 }).slice(0, 2), [
      [1, 100, 1.5],
      [2, 100, 1],
    ]);
    expectEvents(events({ mean_b: 5, mean_m: 1000, k: 900 }).slice(0, 2), [
      [1, 900, 1.5],
      [2, 900, 1],
    ]);
  });

  it("winter months without leaking are passed over, and do not count in a spell", () => {
    // Nothing from month 0 to 6, then two years' worth in the half year to month 12.
    const summer = (u: number) => Math.floor(u) + Math.min(1, Math.max(0, 2 * (u - Math.floor(u)) - 1));
    const table = monthTable(summer, [summer], { years: 5, hazard: 0.02 });
    expectEvents(events({}, {}, table).slice(0, 3), [
      [0.75, 400, 1],
      [1.75, 400, 1],
      [2.75, 400, 1],
    ]);
    // Used up exactly when the leak stops in winter: low on the last day of the summer before.
    expectEvents(events({ mean_m: 1000, mean_b: 600, k: 200 }, {}, table).slice(0, 1), [[2, 400, 2.5]]);
  });

  it("a growing leak shortens its spells", () => {
    const grown = (u: number) => Math.expm1(0.3 * u) / 0.3;
    const table = monthTable((u) => u, [grown], { years: 5, hazard: 0.02 });
    const [first, second] = events({}, {}, table) as [number[], number[]];
    // c = 0.5 and 1.5 of (e^{0.3t} − 1)/0.3, straight between months.
    expect(first[0]).toBeCloseTo(Math.log(1.15) / 0.3, 3);
    expect(second[0]).toBeCloseTo(Math.log(1.45) / 0.3, 3);
    expect(second[2]).toBeLessThan(1);
  });
});

describe("month tables", () => {
  it("reach the horizon, linear between months", () => {
    const table = monthTable((u) => u * u, [(u) => 3 * u], { years: 1.3, hazard: 0 });
    expect(table.last).toBe(16);
    expect(table.season).toHaveLength(17);
    expect(tableAt(table.season, 1.5 / 12)).toBeCloseTo((1 + 4) / 2 / 144, 14);
    expect(tableAt(table.season, 16 / 12)).toBeCloseTo((16 / 12) ** 2, 14);
    // Without a hazard everyone survives: R is c.
    for (const [j, c] of table.clock[0]!.entries()) expect(table.surviving[0]![j]).toBeCloseTo(c, 12);
  });

  it("R weighs each month's leak with survival at its middle", () => {
    const table = monthTable((u) => u, [(u) => 12 * u], { years: 1, hazard: 0.35 });
    const R = Array.from({ length: 3 }, (_, j) => Math.exp((-0.35 * (2 * j + 1)) / 24));
    expect(table.surviving[0]![3]).toBeCloseTo(R[0]! + R[1]! + R[2]!, 12);
    // Close to the integral ∫ 12·e^{−0.35u} du over the year.
    expect(table.surviving[0]![12]! / ((12 * (1 - Math.exp(-0.35))) / 0.35)).toBeCloseTo(1, 4);
  });
});

describe("fadingIntegral(rate, a, b)", () => {
  it.each([
    { rate: 0, a: 1, b: 4, is: 3 },
    { rate: 0.05, a: 0, b: 5, is: (1 - Math.exp(-0.25)) / 0.05 },
    { rate: 0.35, a: 2, b: 3, is: (Math.exp(-0.7) - Math.exp(-1.05)) / 0.35 },
    { rate: 1e-13, a: 0, b: 2, is: 2 },
    { rate: 1e-9, a: 0, b: 2, is: 2 - 2e-9 },
  ])("$rate from $a to $b", ({ rate, a, b, is }) => {
    expect(fadingIntegral(rate, a, b)).toBeCloseTo(is, 12);
  });

  it("of pieces adds up", () => {
    const part = fc.integer({ min: 0, max: 2000 }).map((n) => n / 100);
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 135 }), part, part, part, (percent, ...parts) => {
        const [a, b, c] = parts.toSorted((x, y) => x - y) as [number, number, number];
        const of = (from: number, to: number) => fadingIntegral(percent / 100, from, to);
        expect(of(a, b) + of(b, c)).toBeCloseTo(of(a, c), 11);
      }),
    );
  });
});

describe("switch rules", () => {
  it.each([
    { floor: 0, rules: [0, 6, 9, 12, 18, 24, 36, 48, 60] },
    { floor: 6, rules: [6, 9, 12, 18, 24, 36, 48, 60] },
    { floor: 7.5, rules: [7.5, 9, 12, 18, 24, 36, 48, 60] },
    { floor: 24, rules: [24, 36, 48, 60] },
  ])("from a floor of $floor months", ({ floor, rules }) => {
    expect(switchRuleMonths(floor)).toEqual(rules);
  });
});

describe("Spending", () => {
  const spending = (changes: Partial<AssessRequest> = {}) => new Spending(question(changes));

  it.each([
    // grams / 0.9 / 340
    { seal: "self-sealing", grams: 306, cans: 1 },
    { seal: "self-sealing", grams: 400, cans: 400 / 306 },
    { seal: "pierced", grams: 400, cans: 2 },
    { seal: "pierced", grams: 306, cans: 1 },
    { seal: "pierced", grams: 306.000_001, cans: 2 },
    { seal: "pierced", grams: 612, cans: 2 },
    { seal: "pierced", grams: 1, cans: 1 },
  ] as const)("$grams g from $seal cans takes $cans", ({ seal, grams, cans }) => {
    expect(spending({ prices: { can_seal: seal } }).refrigerantUnits(grams)).toBeCloseTo(cans, 12);
  });

  it("a fill of exactly two pierced cans takes two, however the division is rounded", () => {
    // 2 · 227 g less a twentieth is 431.3 g; dividing back gives 2.0000000000000004.
    const cans = spending({ prices: { can_seal: "pierced", can_net_g: 227 }, assumptions: { heel: 0.05 } });
    expect(cans.refrigerantUnits(431.3)).toBe(2);
  });

  it("a shop counts grams and loses nothing in hose and can", () => {
    const shop = spending({ plan: { service: "shop" } });
    expect(shop.refrigerantUnits(400)).toBe(400);
    expect(shop.heelRelease(400)).toBe(0);
    // A tenth of what leaves the cans: 400/0.9·0.1.
    expect(spending().heelRelease(400)).toBeCloseTo(400 / 9, 12);
  });

  it("a top-off of nothing costs nothing", () => {
    const tally = new Float64Array(TALLY_WIDTH);
    spending().addTopOffToday(tally, 0, 1, 0);
    expect([...tally]).toEqual(new Array(TALLY_WIDTH).fill(0));
  });

  it("a sound system weeps 6.5 % a year, more or less by half: recharged after 40 % is gone", () => {
    // T = 0.4/(0.065·e^{0.5z}) for four z of equal weight.
    const spells = [-1.150349380376008, -0.318639363964375, 0.318639363964375, 1.150349380376008]
      .map((z) => (0.4 / 0.065) * Math.exp(-0.5 * z))
      .toSorted((a, b) => a - b);
    expect([...spending().seep_first].toSorted((a, b) => a - b).map((t) => t.toFixed(9))).toEqual(
      spells.map((t) => t.toFixed(9)),
    );
    // Within five years only the fastest comes round, once.
    expect([...spending().seep_after].map((t) => t.toFixed(9))).toEqual(spells.slice(0, 1).map((t) => t.toFixed(9)));
  });
});

describe("what a node costs, by hand", () => {
  const asked = question({ plan: { keep_years: 3 }, assumptions: { seep_fraction: 0.08 } });
  const spending = new Spending(asked);
  const tags = priceTags(asked, 1530);
  const joint: PlacePrices = { service_part: 1, repair: 190 * (1 + (0.5 * 0.1) / 0.9) + 110 };
  const table = monthTable((u) => u, [(u) => u], { years: 3, hazard: 0.02 });
  const D = (t: number) => Math.exp(-0.05 * t);

  function costs(node: Partial<NodeState>, rules: number[], start: Partial<Start> = {}) {
    const into = emptyEvents();
    const state = { ...NODE, ...node };
    eventsOf(into, state, { ...FILLED, ...start } as Start, table, spending.horizon, M0);
    const tallies = nodePaths(into, state, rules, spending, table);
    return {
      cost: rules.map((_, rule) => tallyCost(tallies, rule, tags, joint)),
      release: rules.map((_, rule) => tallies[rule * TALLY_WIDTH + TALLY.release]!),
      sound: rules.map((_, rule) => tallies[rule * TALLY_WIDTH + TALLY.sound]!),
    };
  }

  it("topping off for ever: low after 0.5, 1.5, 2.5 years", () => {
    // Each: 400/306 cans of 12 growing by 5 % a year, 0.75 h of 15, and the compressor's 0.01·(980 + 180). Tools once,
    // 60.
    const one = (t: number) => D(t) * ((400 / 306) * 12 * Math.exp(0.05 * t) + 11.25 + 11.6);
    const { cost, release, sound } = costs({}, [0]);
    expect(cost[0]).toBeCloseTo(one(0.5) + one(1.5) + one(2.5) + D(0.5) * 60, 9);
    // 400 g a year for three years, and 400/9 g at each top-off, as far as the vehicle survives.
    const leak = Array.from({ length: 36 }, (_, j) => (400 / 12) * Math.exp((-0.02 * (2 * j + 1)) / 24));
    const heel = [0.5, 1.5, 2.5].map((t) => (400 / 9) * Math.exp(-0.02 * t));
    expect(release[0]).toBeCloseTo(
      [...leak, ...heel].reduce((sum, g) => sum + g, 0),
      8,
    );
    expect(sound[0]).toBe(0);
  });

  it("a rule longer than the spells repairs at the first low, the compressor's risk paid", () => {
    // Service: 180, and 0.11·1000 growing. Rework is in the price; relapses at 3 % a year; no seep comes round by 3
    // years.
    const service = 180 + 110 * Math.exp(0.05 * 0.5);
    const relapses = 0.03 * ((Math.exp(-0.025) - Math.exp(-0.15)) / 0.05) * (180 + 110 + joint.repair);
    // The fastest seep lasts 5·e^{−0.575} = 2.81 years: beyond 3 − 0.5.
    const { cost, sound } = costs({}, [0.25, 1.2]);
    expect(cost[1]).toBeCloseTo(D(0.5) * (11.6 + service + joint.repair) + relapses, 9);
    expect(sound[1]).toBeCloseTo((Math.exp(-0.01) - Math.exp(-0.06)) / 0.02, 10);
    expect(cost[0]).toBeCloseTo(costs({}, [0]).cost[0]!, 12);
  });

  it("a spell exactly as long as the rule is not shorter: topped off", () => {
    const spell = (years: number) => {
      const tallies = nodePaths(singleEvents([1], [400], [years]), NODE, [0.75], spending, table);
      return { repairs: tallies[TALLY.fix]! > 0, visits: tallies[TALLY.visits] };
    };
    expect(spell(0.75)).toEqual({ repairs: false, visits: D(1) });
    expect(spell(0.749)).toEqual({ repairs: true, visits: 0 });
    expect(spell(Infinity).repairs).toBe(false);
  });

  it("a repair today: a quarter of one seep comes round after 2.81 years", () => {
    const tally = spending.repairAt(0);
    const relapses = 0.03 * ((1 - Math.exp(-0.15)) / 0.05) * (290 + joint.repair);
    const t = 5 * Math.exp(-0.5 * 1.150349380376008);
    const seep = 0.25 * D(t) * ((400 / 306) * 12 * Math.exp(0.05 * t) + 11.25 + 11.6 + 60);
    expect(tallyCost(tally, 0, tags, joint)).toBeCloseTo(290 + joint.repair + relapses + seep, 9);
    expect(tally[TALLY.release]).toBeCloseTo(0.05 * M0 + 0.25 * (400 / 9) * Math.exp(-0.02 * t), 10);
  });
});

describe("topping off for ever", () => {
  const climates = fc.option(fc.array(fc.integer({ min: -15, max: 45 }), { minLength: 12, maxLength: 12 }), {
    nil: null,
  });

  it("never costs less when it leaks more, as long as refrigerant grows dearer no faster than money fades", () => {
    // With a price growth above r + h, coming sooner is cheaper, and the law need not hold.
    const plans = fc.record({
      service: fc.constantFrom("diy", "shop"),
      keep_years: fc.integer({ min: 1, max: 40 }).map((quarters) => quarters / 4),
      other_trouble: fc.constantFrom("none", "some"),
      tools_owned: fc.boolean(),
    } as const);
    const grams = fc.integer({ min: 0, max: 1100 });
    fc.assert(
      fc.property(
        fc.record({
          climate: climates,
          plan: plans,
          seal: fc.constantFrom("self-sealing", "pierced"),
          growth: fc.integer({ min: 0, max: 5 }).map((percent) => percent / 100),
          mean_m: grams,
          mean_b: grams,
          top_up_now: fc.boolean(),
          g: fc.integer({ min: -3, max: 9 }).map((tenth) => tenth / 10),
          leaks: fc.tuple(fc.integer({ min: 5, max: 3000 }), fc.integer({ min: 5, max: 3000 })),
        } as const),
        ({ climate, plan, seal, growth, mean_m, mean_b, top_up_now, g, leaks }) => {
          const asked = question({
            plan,
            prices: { can_seal: seal },
            assumptions: { refrigerant_growth: growth },
          });
          const spending = new Spending(asked);
          const clock = new LeakClock(seasonWeights("R-134a", climate), dayNumber("2026-05-01"), 0, 20);
          const table = monthTable(clock.reading(0), [clock.reading(g)], {
            years: asked.plan.keep_years,
            hazard: asked.plan.hazard,
          });
          const cost = (k: number) => {
            const into = emptyEvents();
            const node = { k, mean_m, mean_b, clock: 0 };
            eventsOf(into, node, { ...FILLED, top_up_now } as Start, table, spending.horizon, M0);
            const tally = nodePaths(into, node, [0], spending, table);
            return tallyCost(tally, 0, priceTags(asked, 1530), { service_part: 1, repair: 300 });
          };
          const [less, more] = [Math.min(...leaks), Math.max(...leaks)];
          expect(cost(more)).toBeGreaterThanOrEqual(cost(less) - 1e-9 * (1 + cost(less)));
        },
      ),
      { numRuns: 300 },
    );
  });
});
