import { GWP_DATA } from "../../../data/gwp.ts";
import type { GwpSet, RefrigerantId } from "../question/contract.ts";

/** Global warming potential, kg CO₂ per kg of refrigerant, over the years of the set chosen. */
export function gwp(set: GwpSet, refrigerant: RefrigerantId): number {
  return GWP_DATA[set].values[refrigerant];
}

/** Kilograms of CO₂ that warm as much over the years of the set as `grams` of the refrigerant. */
export function co2eKg(set: GwpSet, refrigerant: RefrigerantId, grams: number): number {
  return (grams * gwp(set, refrigerant)) / 1000;
}
