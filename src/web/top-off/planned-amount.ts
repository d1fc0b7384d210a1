import { ouncesFromGrams, type UnitSystem } from "../../core/quantities/units.ts";

/** A planned amount as someone types it into the log, no finer than a kitchen scale: `11.8 oz`, `333 g`. */
export function plannedAmount(grams: number, units: UnitSystem): string {
  return units === "us" ? `${ouncesFromGrams(grams).toFixed(1)} oz` : `${Math.round(grams)} g`;
}
