import { fills, IN_SERVICE_YEARS, NOTICED_WITHIN_YEARS } from "../../../data/model-constants.ts";
import { X_COUNT } from "./leak-grid.ts";
import type { NodeStates } from "./node-states.ts";
import type { Stretch } from "./stretch.ts";

/** Charges that are not in the log: supposed, node by node, and joined again with what is known without them. */

/** How each leak ran at some time. */
interface Running {
  /** The leak of each leak rate of the grid, grams a year at the assessment date. */
  k: Float64Array;
  /** By growth: how fast a leak ran on average then, in shares of k. */
  pace: ArrayLike<number>;
  /** The nameplate charge, grams. */
  nameplate_g: number;
}

/**
 * Starts all nodes of a vehicle that was in service when its records began: it was full up to `IN_SERVICE_YEARS` before
 * then, any time as likely, and is charged whenever it is low. A slow leak has not lost much by then; of a fast one any
 * charge between the line b and nameplate is as likely.
 */
export function startInService(
  { mean_m, mean_b, var_m, cov_mb, var_b }: NodeStates,
  { k, pace, nameplate_g }: Running,
): void {
  const filled = (fills.weighed.sd * nameplate_g) ** 2;
  for (let n = 0; n < mean_m.length; n++) {
    const above = nameplate_g - mean_b[n]!;
    const most_lost = IN_SERVICE_YEARS * pace[Math.floor(n / X_COUNT)]! * k[n % X_COUNT]!;
    // Lost by now: a uniform share of `reach` of what lies between; b counts for as much of itself.
    const reach = Math.min(1, most_lost / above);
    mean_m[n] = nameplate_g - (reach * above) / 2;
    var_m[n] = filled + reach * reach * ((above * above) / 12 + var_b[n]! / 3);
    cov_mb[n] = (reach * var_b[n]!) / 2;
  }
}

/**
 * Supposes that a vehicle was found low and charged some time in a span that the filter has moved through. What the
 * whole span lost is off already, so the amount comes on top whenever it was given: from the line b, less what was lost
 * until somebody noticed, up to the nameplate charge as gauges tell it. `chance`: that such a charge is not logged.
 */
export function supposeCharge(
  { mean_m, mean_b, var_m, cov_mb, var_b, log }: NodeStates,
  stretch: Stretch,
  { k, pace, nameplate_g, chance }: Running & { chance: number },
): void {
  const { mean, sd } = fills.gauges;
  const ln_chance = Math.log(chance);
  stretch.forEach(({ from, to }, j) => {
    const noticed_after = (NOTICED_WITHIN_YEARS / 2) * pace[j]!;
    for (let n = from; n < to; n++) {
      const lost = Math.min(mean_b[n]!, noticed_after * k[n - j * X_COUNT]!);
      mean_m[n]! += mean * nameplate_g - mean_b[n]! + lost;
      // It is noticed at any time of its span as likely: the variance is a third of the squared mean.
      var_m[n]! += var_b[n]! - 2 * cov_mb[n]! + (sd * nameplate_g) ** 2 + (lost * lost) / 3;
      cov_mb[n]! -= var_b[n]!;
      log[n]! += ln_chance;
    }
  });
}
