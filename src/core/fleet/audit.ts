import { CHRONIC_LEAK, LEAK_THRESHOLDS, type LeakThreshold } from "../../../data/leak-thresholds.ts";
import { DAYS_PER_YEAR } from "../leak/leak-clock.ts";
import { G_COUNT, NODES, X, X_COUNT } from "../leak/leak-grid.ts";
import { type Posterior, posteriorOf } from "../leak/posterior.ts";
import { regulationRates } from "../leak/regulation.ts";
import { NORMAL_95 } from "../maths/normal.ts";
import { dayNumber } from "../quantities/dates.ts";
import type { RefrigerantId } from "../question/contract.ts";
import type { Question } from "../question/question.ts";

/**
 * A year's refrigerant for the auditor: what the log says was added and recovered, what the model says was lost, and
 * the two leak rates of regulation (`regulation.ts`) beside the model's.
 */

/**
 * One calendar year of one vehicle, from the first entry of its log (or its first day) to its last day (or `as_of`).
 */
export interface AuditYear {
  year: number;
  /** From the log: weighed or from cans, and recovered by a machine. */
  added_g: number;
  recovered_g: number;
  /** Model: grams lost, mean and sd; within `span_years`. */
  lost_g: number;
  lost_sd_g: number;
  span_years: number;
  /** As of the end of the span; null without an addition on record in this year. */
  annualizing_percent: number | null;
  /** As of the end of the span; null where no amount is on record up to then. */
  rolling_percent: number | null;
}

/** Older years are not audited. */
const MOST_YEARS = 8;

/** The audit of the years that a log spans, oldest first. `posterior` is that of the question. */
export function auditYears(question: Question, posterior: Posterior): AuditYear[] {
  const { log, as_of_day, nameplate_g } = question;
  const [first] = log;
  if (first === undefined) return [];
  const last_year = Number(question.as_of.slice(0, 4));
  const first_year = Math.max(Number(first.date.slice(0, 4)), last_year - MOST_YEARS + 1);
  const spells = leakSpells(question, posterior);
  const years: AuditYear[] = [];
  for (let year = first_year; year <= last_year; year++) {
    const from_day = Math.max(dayNumber(first.date), dayNumber(`${year}-01-01`));
    const last_day = Math.min(as_of_day, dayNumber(`${year}-12-31`));
    const to_day = Math.min(as_of_day, dayNumber(`${year + 1}-01-01`));
    const entries = log.filter(({ date }) => date.startsWith(`${year}-`));
    const added_g = entries.reduce((sum, entry) => sum + (entry.added_g ?? 0), 0);
    const lost = lostWithin(spells, from_day, to_day, nameplate_g + added_g);
    const rates = regulationRates({
      ...question,
      as_of_day: last_day,
      log: log.filter(({ date }) => dayNumber(date) <= last_day),
    });
    years.push({
      year,
      added_g,
      recovered_g: entries.reduce((sum, entry) => sum + (entry.recovered_g ?? 0), 0),
      lost_g: lost.mean,
      lost_sd_g: Math.sqrt(lost.variance),
      span_years: (to_day - from_day) / DAYS_PER_YEAR,
      annualizing_percent: added_g > 0 ? rates.annualizing_percent : null,
      rolling_percent: rates.rolling_percent,
    });
  }
  return years;
}

/** A period with one leak: from a repair (or the first entry) to the next (or `as_of`). */
interface LeakSpell {
  from_day: number;
  to_day: number;
  /** The posterior at its end. */
  as_of_day: number;
  posterior: Posterior;
  nameplate_g: number;
}

/**
 * Newest first. A repair ends what the posterior can say about the leak before it, so that leak is estimated as of the
 * repair.
 */
function leakSpells(question: Question, posterior: Posterior): LeakSpell[] {
  const { log, as_of_day, nameplate_g } = question;
  const at = log.findLastIndex((entry) => entry.repair != null);
  const spell = { to_day: as_of_day, as_of_day, posterior, nameplate_g };
  if (at < 0) return [{ ...spell, from_day: -Infinity }];
  const repair = log[at]!;
  const before: Question = {
    ...question,
    as_of: repair.date,
    as_of_day: dayNumber(repair.date),
    log: [...log.slice(0, at), { ...repair, repair: null }],
  };
  const earlier = leakSpells(before, posteriorOf(before, { record: false }));
  return [{ ...spell, from_day: before.as_of_day }, ...earlier];
}

/** Grams lost between two days: no more than the charge. Periods are taken as independent. */
function lostWithin(
  spells: readonly LeakSpell[],
  from_day: number,
  to_day: number,
  most_g: number,
): { mean: number; variance: number } {
  let mean = 0;
  let variance = 0;
  for (const spell of spells) {
    const from = Math.max(from_day, spell.from_day);
    const to = Math.min(to_day, spell.to_day);
    if (from >= to) continue;
    const { weight, clocks } = spell.posterior;
    const span = Array.from({ length: G_COUNT }, (_, j) => {
      const reading = clocks.growth[j]!;
      return reading((to - spell.as_of_day) / DAYS_PER_YEAR) - reading((from - spell.as_of_day) / DAYS_PER_YEAR);
    });
    let first = 0;
    let second = 0;
    for (let n = 0; n < NODES; n++) {
      const lost = Math.min(most_g, X[n % X_COUNT]! * spell.nameplate_g * span[Math.floor(n / X_COUNT)]!);
      first += weight[n]! * lost;
      second += weight[n]! * lost * lost;
    }
    mean += first;
    variance += Math.max(0, second - first * first);
  }
  return { mean, variance };
}

/** 5–95 % of a loss, grams: log-normal of the same mean and sd, since a loss is never below 0. */
export function lossInterval(mean_g: number, sd_g: number): { p05_g: number; p95_g: number } {
  if (!(mean_g > 0)) return { p05_g: 0, p95_g: 0 };
  const ln_variance = Math.log1p((sd_g / mean_g) ** 2);
  const ln_median = Math.log(mean_g) - ln_variance / 2;
  const spread = NORMAL_95 * Math.sqrt(ln_variance);
  return { p05_g: Math.exp(ln_median - spread), p95_g: Math.exp(ln_median + spread) };
}

/** Several vehicles' losses together, their errors taken as independent. */
export function summedAudit(
  rows: readonly Omit<AuditYear, "year">[],
): Pick<AuditYear, "added_g" | "recovered_g" | "lost_g" | "lost_sd_g"> {
  const sum = (of: (row: Omit<AuditYear, "year">) => number): number => rows.reduce((total, row) => total + of(row), 0);
  return {
    added_g: sum((row) => row.added_g),
    recovered_g: sum((row) => row.recovered_g),
    lost_g: sum((row) => row.lost_g),
    lost_sd_g: Math.sqrt(sum((row) => row.lost_sd_g ** 2)),
  };
}

/** The large-charge rule that applies to a vehicle on `as_of`; null for nearly all. */
export function leakThresholdOf(refrigerant: RefrigerantId, nameplate_g: number, as_of: string): LeakThreshold | null {
  return (
    LEAK_THRESHOLDS.find(
      (rule) => rule.refrigerants.includes(refrigerant) && nameplate_g >= rule.charge_least_g && as_of >= rule.from,
    ) ?? null
  );
}

/** What an audit year shows against a rule: over its limit by either formula, or leaking chronically. */
export function auditFlags(
  row: AuditYear,
  nameplate_g: number,
  rule: LeakThreshold,
): { over_limit: boolean; chronic: boolean } {
  return {
    over_limit: Math.max(row.annualizing_percent ?? 0, row.rolling_percent ?? 0) > rule.limit_percent,
    chronic: (100 * row.added_g) / nameplate_g >= CHRONIC_LEAK.percent,
  };
}
