import { describe, expect, it } from "vitest";
import { assess } from "../../../src/core/assess.ts";
import { lastsLessThan } from "../../../src/core/leak/leak.ts";
import { posteriorOf } from "../../../src/core/leak/posterior.ts";
import { floorProbability, lastSpellWasShort } from "../../../src/core/options/guard.ts";
import type { LogEntry } from "../../../src/core/question/contract.ts";
import { questionOf } from "../../../src/core/question/question.ts";
import { carRequest, daysAgo, optionOf, SEASONS, toppedOffEvery } from "../samples.ts";

const full = (days: number): LogEntry => ({ date: daysAgo(days), finish: "weighed" });
const weak = (days: number): LogEntry => ({ date: daysAgo(days), cooling: "weak" });
const empty = (days: number): LogEntry => ({ date: daysAgo(days), cooling: "empty" });
const cycling = (days: number): LogEntry => ({ date: daysAgo(days), cooling: "short-cycling" });
const ok = (days: number): LogEntry => ({ date: daysAgo(days), cooling: "ok" });
const refilled = (days: number): LogEntry => ({ ...weak(days), finish: "weighed" });
const repaired = (days: number): LogEntry => ({ date: daysAgo(days), repair: "joint" });

/** Logs and whether their last spell was shorter than a floor of six months, 182.6 days. No season. */
const SPELLS: { says: string; log: LogEntry[]; short: boolean }[] = [
  { says: "nothing on record", log: [], short: false },
  { says: "weak, never filled", log: [weak(0)], short: false },
  { says: "filled, not low since", log: [full(100), ok(0)], short: false },
  { says: "low after 100 days", log: [full(100), weak(0)], short: true },
  { says: "empty after 100 days", log: [full(100), empty(0)], short: true },
  { says: "short-cycling after 100 days", log: [full(100), cycling(0)], short: true },
  { says: "low after 182 days", log: [full(182), weak(0)], short: true },
  { says: "low after 183 days", log: [full(183), weak(0)], short: false },
  { says: "ok on the way does not matter", log: [full(150), ok(100), weak(0)], short: true },
  { says: "an earlier low look before the fill does not matter", log: [weak(600), full(400), weak(0)], short: false },

  { says: "the first low look since the fill ends it", log: [full(400), weak(300), weak(0)], short: true },
  { says: "of two spells the last: short, then long", log: [full(700), refilled(600), weak(0)], short: false },
  { says: "of two spells the last: long, then short", log: [full(700), refilled(100), weak(0)], short: true },
  { says: "refilled at the low look: that spell is the last", log: [full(300), refilled(200)], short: true },

  { says: "ok later, with no fill since the low look", log: [full(300), weak(200), ok(100)], short: false },
  { says: "ok within the floor after the refill", log: [full(300), refilled(200), ok(20)], short: true },
  { says: "ok a floor after the refill", log: [full(300), refilled(200), ok(10)], short: false },
  {
    says: "ok a floor after the first of two refills, not after the second",
    log: [full(400), refilled(300), full(50), ok(10)],
    short: true,
  },
  {
    says: "ok later, refilled some time after the low look",
    log: [full(300), weak(200), full(150), ok(20)],
    short: true,
  },

  { says: "repaired after the low look", log: [full(300), weak(200), repaired(190)], short: false },
  { says: "repaired at the low look", log: [full(100), { ...refilled(0), repair: "hose" }], short: false },
  { says: "repaired between fill and low look", log: [full(100), repaired(50), weak(0)], short: false },
  { says: "repaired at the fill, low again soon", log: [{ ...full(100), repair: "hose" }, weak(0)], short: true },

  {
    says: "the fill left too little to judge",
    log: [{ date: daysAgo(100), cooling: "empty", added_g: 200, added_by: "scale" }, weak(0)],
    short: false,
  },
  {
    says: "the fill left enough, by gauges",
    log: [{ date: daysAgo(100), cooling: "empty", added_g: 700, finish: "gauges" }, weak(0)],
    short: true,
  },
];

describe("the last spell was shorter than six months", () => {
  it.each(SPELLS)("$says: $short", ({ log, short }) => {
    const question = questionOf(carRequest(log));
    expect(lastSpellWasShort(question, posteriorOf(question), 0.5)).toBe(short);
  });

  it.each([
    // With these seasons two thirds of a year's leak falls in May to September.
    { from: "2025-05-15", to: "2025-10-02", days: 140, short: false },
    { from: "2025-10-01", to: "2026-04-19", days: 200, short: true },
  ])("by the season: $days days from $from", ({ from, to, short }) => {
    const log: LogEntry[] = [
      { date: from, finish: "weighed" },
      { date: to, cooling: "weak" },
    ];
    const question = questionOf({
      ...carRequest(log),
      vehicle: { refrigerant: "R-134a", nameplate_g: 650, monthly_mean_c: SEASONS },
    });
    expect(lastSpellWasShort(question, posteriorOf(question), 0.5)).toBe(short);
  });

  it("by the floor asked for", () => {
    const question = questionOf(carRequest([full(300), weak(0)]));
    const posterior = posteriorOf(question);
    expect(lastSpellWasShort(question, posterior, 9 / 12)).toBe(false);
    expect(lastSpellWasShort(question, posterior, 10 / 12)).toBe(true);
  });
});

describe("floorProbability", () => {
  /** A charge that lasted eight months, then one that lasted `days`. */
  const lowAfter = (days: number) => [full(days + 250), refilled(days), weak(0)];
  const judged = (log: LogEntry[], floor_months?: number) => {
    const question = questionOf(carRequest(log, floor_months === undefined ? {} : { plan: { floor_months } }));
    const posterior = posteriorOf(question);
    return {
      guards: floorProbability(question, posterior),
      chance: lastsLessThan(posterior, 650, (floor_months ?? 6) / 12),
    };
  };

  it("guards a charge that very likely lasts less than the floor", () => {
    const { guards, chance } = judged(toppedOffEvery(100, 3));
    expect(chance).toBeGreaterThan(0.7);
    expect(guards).toBe(chance);
  });

  it("guards a possible one only after a short spell", () => {
    // 182 and 183 days either side of the floor: about as likely, judged differently.
    const [short, long] = [judged(lowAfter(182)), judged(lowAfter(183))];
    for (const { chance } of [short, long]) {
      expect(chance).toBeGreaterThan(0.5);
      expect(chance).toBeLessThan(0.7);
    }
    expect(short.guards).toBe(short.chance);
    expect(long.guards).toBeNull();
  });

  it("does not let one short spell outweigh years of long ones", () => {
    // Four spells of 400 days, then one of 150.
    const { guards, chance } = judged([
      full(1750),
      refilled(1350),
      refilled(950),
      refilled(550),
      refilled(150),
      weak(0),
    ]);
    expect(chance).toBeLessThan(0.5);
    expect(guards).toBeNull();
  });

  it("guards nothing without a floor, nor a slow leak", () => {
    expect(judged(toppedOffEvery(100, 3), 0).guards).toBeNull();
    expect(judged(toppedOffEvery(700, 3)).guards).toBeNull();
  });

  it("takes the floor that was asked for", () => {
    expect(judged(toppedOffEvery(250, 3), 6).guards).toBeNull();
    expect(judged(toppedOffEvery(250, 3), 12).guards).toBeGreaterThan(0.5);
  });

  it("stands in the answer: top-off is not offered, and the reason says why", () => {
    const answer = assess(carRequest(toppedOffEvery(100, 3)), { sensitivity: false });
    const { guards } = judged(toppedOffEvery(100, 3));
    expect(optionOf(answer, "top-off")).toMatchObject({
      offered: false,
      not_offered_because: "floor",
      probability_cheapest: 0,
    });
    expect(answer.verdict.guard).toBe("floor");
    expect(answer.verdict.reasons[0]).toEqual({ code: "floor", values: { floor_months: 6, probability: guards } });
  });
});
