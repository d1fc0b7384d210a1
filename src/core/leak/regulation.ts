import { dayNumber } from "../quantities/dates.ts";
import type { LeakAnswer } from "../question/contract.ts";
import type { Question } from "../question/question.ts";
import { fillOf } from "./charge-log.ts";

const DAY_CAP = 365;

/**
 * The two leak rates that regulation of stationary equipment uses (40 CFR 82.152 and 84.102), percent of the nameplate
 * charge a year. For comparison only: the annualizing method counts 365 days at most and so overstates slow leaks.
 */
export function regulationRates(question: Question): LeakAnswer["regulation"] {
  const { log, nameplate_g, as_of_day, assumptions } = question;
  const additions = log
    .filter((entry) => (entry.added_g ?? 0) > 0)
    .map((entry) => ({
      day: dayNumber(entry.date),
      net_g: Math.max(0, (entry.added_g ?? 0) - (entry.recovered_g ?? 0)),
    }));
  const last = additions.at(-1);
  if (last === undefined) return { annualizing_percent: null, rolling_percent: null };

  const fill_days = log
    .filter((entry) => fillOf(entry, nameplate_g, assumptions.heel) !== null)
    .map((entry) => dayNumber(entry.date));
  const fill_before = fill_days.findLast((day) => day < last.day);
  const repair = log.findLast((entry) => entry.repair != null);
  const after_day = Math.max(as_of_day - DAY_CAP, repair === undefined ? -Infinity : dayNumber(repair.date));
  const total = (of: typeof additions): number => of.reduce((sum, { net_g }) => sum + net_g, 0);
  const last_g = total(additions.filter(({ day }) => day === last.day));
  return {
    annualizing_percent:
      fill_before === undefined
        ? null
        : (100 * (last_g / nameplate_g) * DAY_CAP) / Math.min(DAY_CAP, last.day - fill_before),
    rolling_percent: (100 * total(additions.filter(({ day }) => day > after_day))) / nameplate_g,
  };
}
