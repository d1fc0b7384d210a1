import { parseMass } from "./parse-mass.ts";
import { ouncesFromGrams, type UnitSystem } from "./units.ts";

const MOST_DECIMALS = 4;

/**
 * Grams as a person would type them, `12 oz` or `340 g`, in the units of the system where that is exact: `parseMass` reads
 * the same grams back, from a milligram up, so that a form which is sent back untouched changes nothing.
 */
export function typedMass(grams: number, system: UnitSystem): string {
  const ounces = shortest(ouncesFromGrams(grams), "oz", grams);
  const in_grams = shortest(grams, "g", grams) ?? `${grams} g`;
  return system === "us" ? (ounces ?? in_grams) : in_grams;
}

function shortest(quantity: number, unit: "oz" | "g", grams: number): string | null {
  for (let decimals = 0; decimals <= MOST_DECIMALS; decimals++) {
    const text = `${quantity.toFixed(decimals)} ${unit}`;
    const read = parseMass(text, { system: "metric" });
    if (read.ok && read.grams === grams) return text;
  }
  return null;
}
