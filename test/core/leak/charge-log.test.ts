import { describe, expect, it } from "vitest";
import { fillOf, isLowLook, visitsOf } from "../../../src/core/leak/charge-log.ts";
import { dayNumber } from "../../../src/core/quantities/dates.ts";
import type { LogEntry } from "../../../src/core/question/contract.ts";

const NAMEPLATE_G = 1000;
const HEEL = 0.1;

/** One entry, and the fill it is: the first that fits of weighed, amount, level, none. Grams worked out by hand. */
const FILLS: { entry: Omit<LogEntry, "date">; fill: ReturnType<typeof fillOf> }[] = [
  { entry: {}, fill: null },
  { entry: { cooling: "weak" }, fill: null },
  { entry: { added_g: 0 }, fill: null },
  { entry: { recovered_g: 400 }, fill: null },

  // Evacuated and charged by weight: 2 % of nameplate. An amount beside it changes nothing.
  { entry: { finish: "weighed" }, fill: { kind: "weighed", mean_g: 1000, sd_g: 20 } },
  { entry: { finish: "weighed", added_g: 950 }, fill: { kind: "weighed", mean_g: 1000, sd_g: 20 } },
  { entry: { finish: "weighed", added_g: 0 }, fill: { kind: "weighed", mean_g: 1000, sd_g: 20 } },

  // From cans a tenth stays in hose and can; 15 g and 5 %. From a scale all goes in; 10 g and 1 %.
  { entry: { added_g: 300 }, fill: { kind: "amount", into_g: 270, sd_g: 30, reading: null } },
  { entry: { added_g: 300, finish: "unknown" }, fill: { kind: "amount", into_g: 270, sd_g: 30, reading: null } },
  { entry: { added_g: 300, added_by: "cans" }, fill: { kind: "amount", into_g: 270, sd_g: 30, reading: null } },
  { entry: { added_g: 300, added_by: "scale" }, fill: { kind: "amount", into_g: 300, sd_g: 13, reading: null } },
  {
    entry: { added_g: 300, finish: "gauges" },
    fill: { kind: "amount", into_g: 270, sd_g: 30, reading: { mean_g: 1000, sd_g: 70 } },
  },
  {
    entry: { added_g: 300, added_by: "scale", finish: "low-side" },
    fill: { kind: "amount", into_g: 300, sd_g: 13, reading: { mean_g: 970, sd_g: 120 } },
  },

  // Nothing added and the level looked at: a check, with no error of an amount.
  {
    entry: { added_g: 0, finish: "gauges" },
    fill: { kind: "amount", into_g: 0, sd_g: 0, reading: { mean_g: 1000, sd_g: 70 } },
  },
  { entry: { added_g: 0, finish: "unknown" }, fill: { kind: "amount", into_g: 0, sd_g: 0, reading: null } },

  // Filled, the amount not on record.
  { entry: { finish: "gauges" }, fill: { kind: "level", mean_g: 1000, sd_g: 70 } },
  { entry: { finish: "low-side", added_by: "cans" }, fill: { kind: "level", mean_g: 970, sd_g: 120 } },
  { entry: { finish: "unknown", added_g: null }, fill: { kind: "level", mean_g: 900, sd_g: 200 } },
];

describe("fillOf(entry)", () => {
  it.each(FILLS.map((row) => ({ ...row, said: JSON.stringify(row.entry) })))("$said", ({ entry, fill }) => {
    expect(fillOf({ date: "2026-05-01", ...entry }, NAMEPLATE_G, HEEL)).toEqual(fill);
  });

  it("does not trust a scale below 15 g", () => {
    expect(fillOf({ date: "2026-05-01", finish: "weighed" }, 500, HEEL)).toMatchObject({ sd_g: 15 });
    expect(fillOf({ date: "2026-05-01", finish: "weighed" }, 750, HEEL)).toMatchObject({ sd_g: 15 });
    expect(fillOf({ date: "2026-05-01", finish: "weighed" }, 800, HEEL)).toMatchObject({ sd_g: 16 });
  });
});

describe("visitsOf(log)", () => {
  it("counts years of 365.25 days back from the assessment date", () => {
    const log = ["2022-05-01", "2025-05-01", "2026-04-30", "2026-05-01"].map((date) => ({ date }));
    const times = visitsOf(log, dayNumber("2026-05-01"), NAMEPLATE_G, HEEL).map(({ t }) => t);
    expect(times).toEqual([-4, -365 / 365.25, -1 / 365.25, 0]);
  });

  it("reads a recovery machine's scale to 3 % of nameplate, at least 15 g", () => {
    const read = (recovered_g: number, nameplate_g: number) =>
      visitsOf([{ date: "2026-05-01", recovered_g }], dayNumber("2026-05-01"), nameplate_g, HEEL)[0]!.recovered;
    expect(read(400, 1000)).toEqual({ reading_g: 400, sd_g: 30 });
    expect(read(0, 400)).toEqual({ reading_g: 0, sd_g: 15 });
  });
});

describe("isLowLook(cooling)", () => {
  it.each([
    { cooling: "weak", low: true },
    { cooling: "short-cycling", low: true },
    { cooling: "empty", low: true },
    { cooling: "ok", low: false },
    { cooling: null, low: false },
  ] as const)("$cooling: $low", ({ cooling, low }) => {
    expect(isLowLook(cooling)).toBe(low);
  });
});
