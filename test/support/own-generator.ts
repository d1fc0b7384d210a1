import { leakPriorOf } from "../../data/leak-priors.ts";
import { NOTICED_WITHIN_YEARS } from "../../data/model-constants.ts";
import { dayNumber, isoFromDay } from "../../src/core/quantities/dates.ts";
import type { LogEntry } from "../../src/core/question/contract.ts";
import { normalRandom, seededRandom } from "./random.ts";

/** The charge of every vehicle below, grams. */
export const NAMEPLATE_G = 850;
const STEP = 0.02;

/**
 * Logs of lives under the model's own assumptions, and all of them: the leak as believed beforehand on the day of the
 * first charge, growing from then on for three years, with the model's noise (MODEL §3: variance (0.15·k)² a year), the
 * low line as believed, charges by scale and judged by gauges. That it is low is noticed `noticed_within` years, any
 * time in them as likely; by default those of the model. Each charge is logged.
 */
export function ownLogs({
  vehicles,
  seed,
  as_of,
  noticed_within = NOTICED_WITHIN_YEARS,
}: {
  vehicles: number;
  seed: number;
  as_of: string;
  noticed_within?: number;
}): LogEntry[][] {
  const random = seededRandom(seed);
  const normal = normalRandom(random);
  const { ln_x_mean, ln_x_sd } = leakPriorOf(null);
  const today = dayNumber(as_of);
  const dateAt = (t: number) => isoFromDay(today + Math.round(365.25 * t));
  return Array.from({ length: vehicles }, () => {
    const k = Math.exp(ln_x_mean + ln_x_sd * normal()) * NAMEPLATE_G;
    const growth = 0.05 + 0.15 * normal();
    const low_g = (0.6 + 0.1 * normal()) * NAMEPLATE_G;
    const came = -(2 + 8 * random());
    const log: LogEntry[] = [{ date: dateAt(came), finish: "weighed" }];
    let charge_g = NAMEPLATE_G * (1 + 0.02 * normal());
    let noticed_in: number | null = null;
    for (let t = came; t < -STEP; t += STEP) {
      const rate = k * Math.exp(growth * Math.min(3, t + STEP / 2 - came));
      charge_g -= rate * STEP + 0.15 * rate * Math.sqrt(STEP) * normal();
      if (charge_g >= low_g && noticed_in === null) continue;
      noticed_in = (noticed_in ?? noticed_within * random()) - STEP;
      if (noticed_in > 0) continue;
      noticed_in = null;
      const into_g = Math.max(1, NAMEPLATE_G * (1 + 0.07 * normal()) - charge_g);
      charge_g += into_g;
      const added_g = Math.max(1, Math.round(into_g + (10 + 0.01 * into_g) * normal()));
      log.push({ date: dateAt(t + STEP), cooling: "weak", added_g, added_by: "scale", finish: "gauges" });
    }
    return log;
  });
}
