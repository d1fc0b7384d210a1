import { ouncesFromGrams, type UnitSystem } from "../../src/core/quantities/units.ts";
import type { Cans } from "../../src/core/top-off-plan.ts";

/** What a kitchen scale is read to while someone adds refrigerant: half an ounce, five grams. */
const STEP = { us: 0.5, metric: 5 } as const;
/** Tolerance for rounding errors where an amount is a whole number of steps. */
const NEARLY = 1e-6;

/** An amount that is not to be exceeded, at the next lower step of the scale: `10.5 oz`, `295 g`. */
export function saidAtMost(grams: number, units: UnitSystem): string {
  return said(atMost(grams, units), units);
}

/** The masses of a plan's cans, so that what goes in and what stays add up to what leaves them, as shown. */
export function saidCans(cans: Cans, units: UnitSystem) {
  const stays = nearest(cans.stays_in_hose_g, units);
  const leaves = atMost(cans.into_system_g, units) + stays;
  const net = nearest(cans.part_g + cans.left_in_last_can_g, units);
  const part = Math.max(0, Math.min(net, leaves - cans.whole * net));
  return {
    leaves: said(leaves, units),
    stays: said(stays, units),
    part: said(part, units),
    left: part < net ? said(net - part, units) : null,
  };
}

function amount(grams: number, units: UnitSystem): number {
  return units === "us" ? ouncesFromGrams(grams) : grams;
}

function atMost(grams: number, units: UnitSystem): number {
  return STEP[units] * Math.floor(amount(grams, units) / STEP[units] + NEARLY);
}

function nearest(grams: number, units: UnitSystem): number {
  return STEP[units] * Math.round(amount(grams, units) / STEP[units]);
}

function said(shown: number, units: UnitSystem): string {
  return `${shown}\u00a0${units === "us" ? "oz" : "g"}`;
}
