import { GWP_DATA } from "../../../data/gwp.ts";
import type { GwpSet, RefrigerantId } from "../question/contract.ts";

/** Global warming potential over 100 years, kg CO₂ per kg of refrigerant, by the IPCC report chosen. */
export function gwp(set: GwpSet, refrigerant: RefrigerantId): number {
  return GWP_DATA[set].values[refrigerant];
}

/** Kilograms of CO₂ that warm as much over 100 years as `grams` of the refrigerant. */
export function co2eKg(set: GwpSet, refrigerant: RefrigerantId, grams: number): number {
  return (grams * gwp(set, refrigerant)) / 1000;
}
