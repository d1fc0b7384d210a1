import { describe, expect, it } from "vitest";
import { LEAK_LAW_CASES, LEAK_LAWS } from "../../data/leak-laws.ts";
import { seasonWeights } from "../../src/core/leak/leak-clock.ts";
import { LAWS, type LawId, lawEffects, temperaturesUnder } from "./leak-laws.ts";

const HOT_SUMMERS = [2, 4, 9, 14, 19, 24, 27, 26, 22, 15, 9, 4] as const;
const MONTH_DAYS = [31, 28.25, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] as const;

describe("other laws of leaking", () => {
  it.each(Object.keys(LAWS) as LawId[])("%s: the temperatures put in its place weigh the months as it does", (law) => {
    const drive = HOT_SUMMERS.map((t_c) => LAWS[law]("R-134a", t_c));
    const mean = drive.reduce((sum, one, m) => sum + one * MONTH_DAYS[m]!, 0) / 365.25;
    const weights = seasonWeights("R-134a", temperaturesUnder(law, "R-134a", HOT_SUMMERS));
    drive.forEach((one, m) => {
      expect(weights[m]! / (one / mean)).toBeCloseTo(1, 4);
    });
  });

  // Kinetic theory: molecular flow goes with the pressure difference over √T; R-134a's saturation pressures of 1016.6
  // and 571.7 kPa (Tillner-Roth and Baehr 1994), less the atmosphere's 101.3.
  it("molecular flow is 1.88 times as fast at 40 °C as at 20 °C", () => {
    const by_hand = ((1016.6 - 101.3) / (571.7 - 101.3)) * Math.sqrt(293.15 / 313.15);
    expect(LAWS.molecular("R-134a", 40) / LAWS.molecular("R-134a", 20)).toBeCloseTo(by_hand, 2);
  });

  it("moves the worked cases as the method page says", { timeout: 120_000 }, () => {
    const effects = lawEffects();
    expect(effects.map(({ law }) => law)).toEqual(LEAK_LAWS.map(({ law }) => law));
    effects.forEach((effect, i) => {
      const said = LEAK_LAWS[i]!;
      expect(effect.cases).toBe(LEAK_LAW_CASES);
      expect(effect.verdicts_changed, said.law).toBe(said.verdicts_changed);
      expect(effect.days_most, said.law).toBe(said.days_most);
      expect(effect.hot_to_mild, said.law).toBeCloseTo(said.hot_to_mild, 2);
      for (const name of ["leak_median", "leak_most", "cost_most"] as const)
        expect(Math.abs(effect[name] - said[name]), `${said.law} ${name}`).toBeLessThan(0.0006);
    });
  });
});
