import { PAGE_FORMAT } from "../../data/number-formats.ts";
import { numberText } from "../../src/core/quantities/number-text.ts";
import { GRAMS_PER_UNIT, type UnitSystem } from "../../src/core/quantities/units.ts";

/**
 * A mass to be added up by hand, as scales show it: whole grams, or pounds with two decimals: `12,950 g`, `28.55 lb`.
 */
export function exactMass(grams: number, units: UnitSystem): string {
  const [amount, digits, unit] = units === "metric" ? [grams, 0, "g"] : [grams / GRAMS_PER_UNIT.lb, 2, "lb"];
  const text = numberText(Math.abs(amount), PAGE_FORMAT, { least: digits, most: digits });
  return `${amount < 0 && /[1-9]/.test(text) ? "−" : ""}${text} ${unit}`;
}
