import { NOTICED_WITHIN_YEARS } from "../../../data/model-constants.ts";
import type { ChargeFilter } from "./charge-filter.ts";
import { isLowLook, type Visit } from "./charge-log.ts";
import { isWithin, moveInSilence, type Silence, silentUntil } from "./silence.ts";

/** The way of a run from visit to visit. */

/** Where a run is in its log, whatever it holds of the nodes. */
export interface Progress {
  /** Time of the visit before, years; null: none yet. */
  last_t: number | null;
  /** The last fill; null without one. */
  last_fill: LastFill | null;
  /** Whether it was known to cool, and not seen low since. */
  cools: boolean;
}

/** The last fill of a run so far. */
export interface LastFill {
  /** Years from the assessment date, 0 or negative. */
  t: number;
  /** Whether it was seen low after that fill. */
  low_since: boolean;
}

/** Takes in a visit up to its repair. `arrived` is told, at its time, the branches in which charges were missed. */
export function takeVisit(
  filter: ChargeFilter,
  { last_t, last_fill, cools }: Progress,
  visit: Visit,
  silence: Silence | null,
  mistaken: number | null,
  arrived: ((branches: ChargeFilter[]) => void) | null = null,
): void {
  const branches = last_t === null ? [] : moveTo(filter, last_t, visit, last_fill, cools ? silence : null);
  arrived?.(branches);
  for (const one of [filter, ...branches]) one.visit(visit, mistaken);
  filter.mergeIn(branches);
}

/** Where it is after a visit. */
export function afterVisit({ last_fill, cools }: Progress, { t, cooling, fill }: Visit): Progress {
  const low = isLowLook(cooling);
  const before = low && last_fill !== null ? { t: last_fill.t, low_since: true } : last_fill;
  return {
    last_t: t,
    last_fill: fill !== null ? { t, low_since: false } : before,
    cools: fill !== null || (cools && !low),
  };
}

/**
 * Moves the filter from `from_t` to a visit, with the look that weak cooling implies. Gives the branches in which
 * charges were missed on the way (`moveInSilence`).
 */
function moveTo(
  filter: ChargeFilter,
  from_t: number,
  { t, cooling }: Visit,
  last_fill: LastFill | null,
  silence: Silence | null,
): ChargeFilter[] {
  let at_t = from_t;
  let branches: ChargeFilter[] = [];
  const silent_t = silentUntil(from_t, t);
  if (silence !== null && isWithin(silence, from_t, silent_t) && cooling !== "empty" && cooling !== "short-cycling") {
    branches = moveInSilence(filter, from_t, silent_t, silence.missed);
    at_t = silent_t;
  } else if (cooling === "weak" && last_fill !== null && !last_fill.low_since) {
    // Weak cooling is noticed within a quarter of a year, so before that it still cooled well.
    const still_ok_t = Math.max(last_fill.t, t - NOTICED_WITHIN_YEARS);
    if (from_t <= still_ok_t) {
      filter.move(from_t, still_ok_t);
      filter.look("ok");
      at_t = still_ok_t;
    }
  }
  for (const one of [filter, ...branches]) one.move(at_t, t);
  return branches;
}
