import { looks, recovery } from "../../../data/model-constants.ts";
import { softSteps } from "../maths/normal.ts";
import type { Cooling } from "../question/contract.ts";
import type { Fill } from "./charge-log.ts";
import { LINE, levelRow, recoveredRow, rowLook, shiftErrors, shiftRow, standApart, weighRow } from "./evidence-rows.ts";
import type { AmountErrors, NodeStates } from "./node-states.ts";
import type { Stretch } from "./stretch.ts";

/**
 * What a look or a reading tells at every node of the filter (MODEL §3): how likely it was there, and what it says of
 * the charge m and the weak-cooling charge b. Loops run row by row of the grid, which then stays in the nearest cache.
 */

/** A look as the filter takes it. */
export interface Look {
  /** What was seen. */
  kind: Cooling | "fill-unknown";
  /** Chance that it was a mistake, 0–1. */
  mistaken: number;
}

/** The line that a look compares the charge with, `own`·b + `fixed`, and the variance of its softness, g². */
export function lineOf(kind: Look["kind"], nameplate_g: number): { own: number; fixed: number; soft2: number } {
  const { line, softness } = looks[kind];
  const soft2 = (softness * nameplate_g) ** 2;
  return line === null ? { own: 1, fixed: 0, soft2 } : { own: 0, fixed: line * nameplate_g, soft2 };
}

/** Takes in that the charge lies on one side of a line. `errors` are updated along with m and b. */
export function takeLook(
  { all }: NodeStates,
  stretch: Stretch,
  { kind, mistaken }: Look,
  nameplate_g: number,
  errors: AmountErrors | null = null,
): void {
  const { own, fixed, soft2 } = lineOf(kind, nameplate_g);
  line[LINE.own] = own;
  line[LINE.fixed] = fixed;
  line[LINE.soft2] = soft2;
  line[LINE.sign] = kind === "ok" ? -1 : 1;
  for (const { from, to } of stretch) {
    standApart(all, line, look, from, to);
    softSteps(look.apart, mistaken, look.chance, look.slope, to - from);
    weighRow(all, look, from, to);
    if (errors !== null) shiftErrors(all, line, look, errors, from, to);
    shiftRow(all, line, look, from, to);
  }
}

/** Takes in what a recovery machine weighed: reading = `recovery.share`·m + N(0, sd). */
export function takeRecovered(
  { all }: NodeStates,
  stretch: Stretch,
  { reading_g, sd_g }: { reading_g: number; sd_g: number },
  nameplate_g: number,
): void {
  for (const row of stretch) recoveredRow(all, row, recovery.share, reading_g, sd_g * sd_g, nameplate_g);
}

/** Takes in the level judged after an amount went in: reading = m + into + v + N(0, sd). Sets `errors`. */
export function takeLevel(
  { all }: NodeStates,
  stretch: Stretch,
  { into_g, sd_g, reading }: Extract<Fill, { kind: "amount" }>,
  nameplate_g: number,
  errors: AmountErrors,
): void {
  if (reading === null) return;
  const before_g = reading.mean_g - into_g;
  for (const row of stretch) levelRow(all, row, errors, before_g, sd_g * sd_g, reading.sd_g ** 2, nameplate_g);
}

// Work space of a single look: nothing is kept in it from one to the next.
const line = new Float64Array(Object.keys(LINE).length);
const look = rowLook();
