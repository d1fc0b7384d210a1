import { fills, LEAK_NOISE, NOTICED_WITHIN_YEARS } from "../../data/model-constants.ts";
import { dayNumber, isoFromDay } from "../../src/core/quantities/dates.ts";
import type { LogEntry } from "../../src/core/question/contract.ts";
import { normalRandom, seededRandom } from "./random.ts";

/** A vehicle of an invented fleet whose shop logs charges, and only those; with the truth behind the log. */
export interface LoggedVehicle {
  group: string;
  nameplate_g: number;
  log: LogEntry[];
  /** True leak at `as_of`, of the charge a year. */
  x: number;
  /** What it truly lost, step by step: the day on which each step ends, and grams. */
  losses: { day: number; lost_g: number }[];
}

const GROUPS = [
  { group: "Vans", nameplate_g: 850, x_median: 0.06, ln_x_sd: 0.7 },
  { group: "Buses", nameplate_g: 7200, x_median: 0.3, ln_x_sd: 0.5 },
  { group: "Trucks", nameplate_g: 1100, x_median: 0.15, ln_x_sd: 0.8 },
] as const;

/** How far back the records of the fleet go, years. */
export const RECORDS_YEARS = 6;
const STEP = 0.05;

/**
 * What a leak fluctuates by from step to step (share of what a step loses, sd), within how many years low charge is
 * noticed, and how well a shop meets the nameplate charge (sd).
 */
const LIVES = {
  calm: { step_noise: 0.15, noticed_within: 0, refill_sd: 0.05 },
  // MODEL §3: the loss of a year varies by (0.15·k)², and steps are independent.
  model: { step_noise: LEAK_NOISE / Math.sqrt(STEP), noticed_within: NOTICED_WITHIN_YEARS, refill_sd: fills.gauges.sd },
} as const;

/**
 * Every vehicle was full when it came, up to four years before the records began or within them, and is topped off when
 * it is found low. A charge within the records is in the log with the chance `logged`; the one that it came with, if it
 * came within them, always. `outliers` of a group leak six times as fast as they would. Lives are `calm`: steady leaks,
 * noticed low at once; or as the `model` assumes: leaks that fluctuate, noticed low any time within a quarter.
 */
export function loggedFleet({
  vehicles,
  seed,
  as_of,
  logged = 0.9,
  outliers = 0,
  group_spread = 0,
  lives = "calm",
}: {
  vehicles: number;
  seed: number;
  as_of: string;
  logged?: number;
  outliers?: number;
  /** Spread of the logarithm of each group's median leak from fleet to fleet. */
  group_spread?: number;
  lives?: keyof typeof LIVES;
}): LoggedVehicle[] {
  const random = seededRandom(seed);
  const normal = normalRandom(random);
  const today = dayNumber(as_of);
  const { step_noise, noticed_within, refill_sd } = LIVES[lives];
  const leakier = GROUPS.map(() => Math.exp(group_spread * (group_spread > 0 ? normal() : 0)));
  const dateAt = (t: number) => isoFromDay(today + Math.round(365.25 * t));
  return Array.from({ length: vehicles }, (_, v) => {
    const { group, nameplate_g, x_median, ln_x_sd } = GROUPS[v % GROUPS.length]!;
    const x = x_median * leakier[v % GROUPS.length]! * Math.exp(ln_x_sd * normal()) * (random() < outliers ? 6 : 1);
    const growth = 0.05 + 0.15 * normal();
    const low_g = Math.min(0.85, Math.max(0.3, 0.6 + 0.1 * normal())) * nameplate_g;
    const came = -10 + 8 * random();
    const log: LogEntry[] = came >= -RECORDS_YEARS ? [{ date: dateAt(came), finish: "weighed" }] : [];
    const losses: LoggedVehicle["losses"] = [];
    let charge_g = nameplate_g * (1 + 0.02 * normal());
    let noticed_in: number | null = null;
    for (let t = came; t < -STEP; t += STEP) {
      const rate = x * Math.exp(growth * (t + STEP / 2));
      const before_g = charge_g;
      charge_g = Math.max(0, charge_g - rate * nameplate_g * STEP * (1 + step_noise * normal()));
      losses.push({ day: today + 365.25 * (t + STEP), lost_g: before_g - charge_g });
      if (charge_g >= low_g && noticed_in === null) continue;
      noticed_in = (noticed_in ?? (noticed_within > 0 ? noticed_within * random() : 0)) - STEP;
      if (noticed_in > 0) continue;
      noticed_in = null;
      const into_g = Math.max(1, nameplate_g * (1 + refill_sd * normal()) - charge_g);
      charge_g += into_g;
      if (t + STEP < -RECORDS_YEARS || random() >= logged) continue;
      const added_g = Math.min(3 * nameplate_g, Math.max(1, Math.round(into_g + 10 * normal())));
      log.push({ date: dateAt(t + STEP), cooling: "weak", added_g, added_by: "scale", finish: "gauges" });
    }
    return { group, nameplate_g, log, x, losses };
  });
}
