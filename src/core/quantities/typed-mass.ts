import { parseMass } from "./parse-mass.ts";
import { shortestText } from "./shortest-text.ts";
import { ouncesFromGrams, type UnitSystem } from "./units.ts";

const MOST_DECIMALS = 4;

/**
 * Grams as a person would type them, `12 oz` or `340 g`, in the units of the system where that is exact: `parseMass`
 * reads the same grams back, from a milligram up, so that a form which is sent back untouched changes nothing.
 */
export function typedMass(grams: number, system: UnitSystem): string {
  const is_same = (text: string) => {
    const read = parseMass(text, { system: "metric" });
    return read.ok && read.grams === grams;
  };
  const ounces = system === "us" ? shortestText(ouncesFromGrams(grams), "oz", is_same, MOST_DECIMALS) : null;
  return ounces ?? shortestText(grams, "g", is_same, MOST_DECIMALS) ?? `${grams} g`;
}
