import { formatMass } from "../quantities/format.ts";
import type { UnitSystem } from "../quantities/units.ts";

/** No system holds more than this many nameplate charges: an overcharge by a third already stalls the compressor. */
const MOST_RECOVERED = 1.5;

/** What is wrong with an amount that is said to have been recovered from a system; null where nothing is. */
export function recoveredFault(
  recovered_g: number,
  { nameplate_g, units }: { nameplate_g: number; units: UnitSystem },
): string | null {
  if (recovered_g <= MOST_RECOVERED * nameplate_g) return null;
  return `That is more than the system holds (${formatMass(nameplate_g, units)}). Check the amount, and the unit`;
}
