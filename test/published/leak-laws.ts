import { readFileSync } from "node:fs";
import { assess } from "../../src/core/assess.ts";
import { dayNumber } from "../../src/core/quantities/dates.ts";
import { ATMOSPHERE_KPA } from "../../src/core/quantities/units.ts";
import type { AssessAnswer, AssessRequest, RefrigerantId } from "../../src/core/question/contract.ts";
import { saturationPressureKpa, saturationTemperatureC } from "../../src/core/refrigerant/refrigerant.ts";

/**
 * How a leak that follows another law than P² − Patm² would move the answers: the worked cases are asked again under
 * each. The laws are those of gas dynamics textbooks (from memory), as mass flow up to a constant; T in K.
 */
type Law = (refrigerant: RefrigerantId, t_c: number) => number;

const GAS_CONSTANT = 8.314;
/** Activation energy of permeation through hose rubber, J/mol: working assumption, of the usual 30 to 45 kJ/mol. */
const PERMEATION = 30_000;
const kelvin = (t_c: number) => t_c + 273.15;
const inside = saturationPressureKpa;

/** The model's: laminar flow through a long narrow way, the gas's viscosity and density left out. */
const laminar: Law = (refrigerant, t_c) => Math.max(0, inside(refrigerant, t_c) ** 2 - ATMOSPHERE_KPA ** 2);

export const LAWS = {
  laminar,
  /** The same with density ∝ P/T and viscosity about ∝ T (from memory, for a thin gas). */
  viscous: (refrigerant, t_c) => laminar(refrigerant, t_c) / kelvin(t_c) ** 2,
  /** Molecular flow through pores narrower than the free path. */
  molecular: (refrigerant, t_c) => Math.max(0, inside(refrigerant, t_c) - ATMOSPHERE_KPA) / Math.sqrt(kelvin(t_c)),
  /** Choked flow through a short hole. */
  orifice: (refrigerant, t_c) => inside(refrigerant, t_c) / Math.sqrt(kelvin(t_c)),
  /** Permeation through hoses: pressure, times what the rubber lets through. */
  permeation: (refrigerant, t_c) => inside(refrigerant, t_c) * Math.exp(-PERMEATION / (GAS_CONSTANT * kelvin(t_c))),
} as const satisfies Record<string, Law>;
export type LawId = keyof typeof LAWS;

/**
 * Twelve temperatures at which the model's own law weighs the months as `law` does at the true ones: so the model
 * computes under the other law, and no code of its own is changed. The hottest month keeps its temperature.
 */
export function temperaturesUnder(law: LawId, refrigerant: RefrigerantId, monthly_mean_c: readonly number[]): number[] {
  const hottest = Math.max(...monthly_mean_c);
  const scale = laminar(refrigerant, hottest) / LAWS[law](refrigerant, hottest);
  return monthly_mean_c.map((t_c) => {
    const drive = LAWS[law](refrigerant, t_c) * scale;
    return saturationTemperatureC(refrigerant, Math.sqrt(drive + ATMOSPHERE_KPA ** 2));
  });
}

/** What one law does to the worked cases, against the model's own. */
export interface LawEffect {
  law: LawId;
  /** How many times as fast a leak of R-134a is at 40 °C as at 20 °C. */
  hot_to_mild: number;
  /** Worked cases with another verdict, of how many. */
  verdicts_changed: number;
  cases: number;
  /**
   * Change of the best estimate of the leak, median and largest, and largest change of the cheapest option's cost:
   * shares.
   */
  leak_median: number;
  leak_most: number;
  cost_most: number;
  /** Most days by which the middle of the forecast moves. */
  days_most: number;
}

const { cases }: { cases: { request: AssessRequest }[] } = JSON.parse(
  readFileSync(new URL("model-cases.json", import.meta.url), "utf8"),
);

export function lawEffects(): LawEffect[] {
  const usual = cases.map(({ request }) => answer(request));
  return (Object.keys(LAWS) as LawId[]).filter((law) => law !== "laminar").map((law) => effectOf(law, usual));
}

function answer(request: AssessRequest): AssessAnswer {
  return assess(request, { sensitivity: false });
}

function effectOf(law: LawId, usual: readonly AssessAnswer[]): LawEffect {
  const under = cases.map(({ request: { vehicle, ...request } }) =>
    answer({
      ...request,
      vehicle: {
        ...vehicle,
        monthly_mean_c: temperaturesUnder(law, vehicle.refrigerant, vehicle.monthly_mean_c ?? []),
      },
    }),
  );
  const share = (of: (one: AssessAnswer) => number) => under.map((one, i) => Math.abs(of(one) / of(usual[i]!) - 1));
  const leak = share(({ leak: { g_per_year } }) => g_per_year.median);
  const cost = share(bestCost);
  const days = under.flatMap(({ forecast }, i) => {
    const [here, there] = [forecast.next_low.p50, usual[i]!.forecast.next_low.p50];
    return here === null || there === null ? [] : [Math.abs(dayNumber(here) - dayNumber(there))];
  });
  return {
    law,
    hot_to_mild: LAWS[law]("R-134a", 40) / LAWS[law]("R-134a", 20),
    verdicts_changed: under.filter(({ verdict }, i) => verdict.option !== usual[i]!.verdict.option).length,
    cases: cases.length,
    leak_median: median(leak),
    leak_most: Math.max(...leak),
    cost_most: Math.max(...cost),
    days_most: Math.max(...days),
  };
}

/** Of the options offered, the least average cost. */
function bestCost({ options }: AssessAnswer): number {
  return Math.min(...options.filter(({ offered }) => offered).map(({ expected_cost }) => expected_cost));
}

function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
