import { describe, expect, it } from "vitest";
import { CLIMATES } from "../../data/climates.ts";
import { assess } from "../../src/core/assess.ts";
import { dayNumber, isoFromDay } from "../../src/core/quantities/dates.ts";
import { type AssessAnswer, type LogEntry, REFRIGERANTS } from "../../src/core/question/contract.ts";

/**
 * What the trade says of leaks, and whether the answer agrees. Common practice, no source:
 * - a sound system weeps a little by design and wants a recharge about every five years: a normal seep;
 * - one that wants refrigerant every one to two years can be cheaper to top off than to repair;
 * - a charge that does not last about six months: repair, do not keep venting.
 */
const AS_OF = "2026-05-01";
const NAMEPLATES_G = [400, 1100];
const PLACES = [{ id: "no season", monthly_mean_c: null }, ...CLIMATES];

/**
 * Weak every `days` days and charged again by gauges with what was missing (40 % of nameplate), and weak again today.
 */
function recharged(days: number, times: number, nameplate_g: number): LogEntry[] {
  const date = (count: number) => isoFromDay(dayNumber(AS_OF) - days * count);
  const fills = Array.from(
    { length: times },
    (_, i): LogEntry => ({
      date: date(times - i),
      cooling: "weak",
      added_g: 0.4 * nameplate_g,
      added_by: "scale",
      finish: "gauges",
    }),
  );
  return [...fills, { date: AS_OF, cooling: "weak" }];
}

/** Every refrigerant and size of charge in one climate, on default prices, place unknown, topped off at home. */
function answers(monthly_mean_c: readonly number[] | null, days: number, times: number): AssessAnswer[] {
  return REFRIGERANTS.flatMap((refrigerant) =>
    NAMEPLATES_G.map((nameplate_g) =>
      assess(
        {
          as_of: AS_OF,
          vehicle: { refrigerant, nameplate_g, monthly_mean_c },
          log: recharged(days, times, nameplate_g),
        },
        { sensitivity: false },
      ),
    ),
  );
}

describe.each(PLACES)("$id", ({ monthly_mean_c }) => {
  it("a recharge every five years is most likely a normal seep (common practice, no source)", () => {
    for (const { leak } of answers(monthly_mean_c, 1826, 2)) {
      const { seep, ...others } = leak.class;
      expect(seep).toBeGreaterThan(Math.max(...Object.values(others)));
    }
  });

  it.each([365, 548, 730])("a recharge every %d days is topped off (common practice, no source)", (days) => {
    for (const { verdict } of answers(monthly_mean_c, days, 3)) {
      // Unless the answer names why not: about as cheap and much cleaner.
      if (verdict.tie_break) expect(verdict.reasons.map(({ code }) => code)).toContain("tie-break");
      else expect(verdict.option).toBe("top-off");
    }
  });

  it.each([60, 100, 150])(
    "a charge that lasts %d days is never topped off again (common practice, no source)",
    (days) => {
      for (const { verdict, options } of answers(monthly_mean_c, days, 2)) {
        expect(verdict.option).not.toBe("top-off");
        // Low so soon out of season that the log hardly foresaw it: then readings come first.
        expect(["floor", "surprise"]).toContain(verdict.guard);
        expect(options.find(({ id }) => id === "top-off")).toMatchObject({
          offered: false,
          not_offered_because: "floor",
        });
      }
    },
  );
});

describe("at a shop, and with what people remember", () => {
  const car = (log: LogEntry[], plan: { service?: "diy" | "shop" } = {}) =>
    assess({ as_of: AS_OF, vehicle: { refrigerant: "R-134a", nameplate_g: 650 }, log, plan }, { sensitivity: false });
  const vague = (days: number): LogEntry[] =>
    recharged(days, 2, 650).map(({ date, cooling }, i) => ({
      date,
      cooling: cooling ?? null,
      finish: i < 2 ? "unknown" : null,
    }));

  it("five-year recharges without amounts are a normal seep (common practice, no source)", () => {
    const { seep, ...others } = car(vague(1826)).leak.class;
    expect(seep).toBeGreaterThan(Math.max(...Object.values(others)));
  });

  it("a charge that lasts 100 days is not topped off, amounts or not, shop or home (common practice, no source)", () => {
    for (const log of [vague(100), recharged(100, 1, 650)]) {
      for (const service of ["diy", "shop"] as const) expect(car(log, { service }).verdict.option).not.toBe("top-off");
    }
  });

  it("the shares named for a fast and a slow leak are the trade's six months and five years (common practice, no source)", () => {
    expect(car(recharged(100, 3, 650)).leak.class.fast).toBeGreaterThan(0.5);
    expect(car(recharged(1826, 2, 650)).leak.class.fast).toBeLessThan(0.01);
  });
});
