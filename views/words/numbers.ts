import { formatMass, formatMoney } from "../../src/core/format.ts";
import { gramsFromOunces, ouncesFromGrams, type UnitSystem } from "../../src/core/units.ts";

/*
 * Estimates as a person says them: rounded to what they are good for. The unrounded numbers stand in the tables behind
 * the charts (as `<data value>`) and in the API.
 */

/** About two figures: 7, 35, 390, 1050, 12500. */
function estimated(value: number): number {
  const size = Math.abs(value);
  const step = size < 20 ? 1 : size < 100 ? 5 : size < 1000 ? 10 : size < 10_000 ? 50 : 500;
  return Math.round(value / step) * step;
}

/** `$390`, `−$35`, `$1,050`. */
export function saidMoney(amount: number): string {
  return formatMoney(estimated(amount), "USD");
}

/** `14 oz`, `2 lb 6 oz`; `390 g`, `1050 g`. */
export function saidMass(grams: number, units: UnitSystem): string {
  if (units === "metric") return formatMass(estimated(grams), units);
  const ounces = ouncesFromGrams(grams);
  const step = ounces < 4 ? 0.5 : ounces < 160 ? 1 : 8;
  return formatMass(gramsFromOunces(Math.round(ounces / step) * step), units);
}

/** Released refrigerant: always in grams too, the unit that releases are reported in: `38 oz (1080 g)`, `1080 g`. */
export function saidRelease(grams: number, units: UnitSystem): string {
  const said = saidMass(grams, "metric");
  return units === "metric" ? said : `${saidMass(grams, units)} (${said})`;
}

/** Carbon dioxide equivalent: `0.7 kg`, `54 kg`, `1,650 kg`. */
export function saidCo2e(kg: number): string {
  const value = kg < 10 ? Number(kg.toPrecision(2)) : estimated(kg);
  return `${value.toLocaleString("en-US")} kg`;
}

/** A count for everyday comparisons: `7`, `190`. */
export function saidCount(count: number): string {
  return estimated(count).toLocaleString("en-US");
}

/** A chance as cases: `81 of 100`; `under 1 of 100` and `over 99 of 100` where it is nearly 0 or 1. */
export function saidChance(share: number): string {
  return `${hundredths(share)} of 100`;
}

/** A share of something: `62 %`. */
export function saidPercent(share: number): string {
  return `${hundredths(share)} %`;
}

function hundredths(share: number): string {
  if (share > 0 && share < 0.005) return "under 1";
  if (share < 1 && share >= 0.995) return "over 99";
  return String(Math.round(share * 100));
}

/** A ratio: `1.4 times`, `12 times`. */
export function saidTimes(factor: number): string {
  return `${Number(factor.toPrecision(2))} times`;
}
