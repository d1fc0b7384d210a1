import { CHRONIC_LEAK, LEAK_THRESHOLDS, type LeakThreshold } from "../../../data/leak-thresholds.ts";
import { cohort } from "../../../data/model-constants.ts";
import { DAYS_PER_YEAR } from "../leak/leak-clock.ts";
import { G_COUNT, LN_X, NODES, X, X_COUNT } from "../leak/leak-grid.ts";
import { type Posterior, posteriorOf } from "../leak/posterior.ts";
import { regulationRates } from "../leak/regulation.ts";
import { NORMAL_95 } from "../maths/normal.ts";
import { dayNumber } from "../quantities/dates.ts";
import type { RefrigerantId } from "../question/contract.ts";
import type { LeakPrior, Question } from "../question/question.ts";

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
  /** Within `added_g`: what filled the system when it came, which replaced no loss on record. */
  first_charge_g: number;
  recovered_g: number;
  /** Model: grams lost, mean and sd; within `span_years`. */
  lost_g: number;
  lost_sd_g: number;
  /** By how much `lost_g` grows with the mean of ln x that is believed of its group: what errs for all alike. */
  lost_per_ln_g: number;
  span_years: number;
  /** As of the end of the span; null without an addition on record in this year. */
  annualizing_percent: number | null;
  /** As of the end of the span; null where no amount is on record up to then. */
  rolling_percent: number | null;
  /** The day in this year on which a leak rate of regulation went over its rule's limit; null: none, or no rule. */
  over_limit_on: string | null;
  /** The day on which more was added in this year than `CHRONIC_LEAK` says, under such a rule. */
  chronic_on: string | null;
}

/** Older years are not audited. */
const MOST_YEARS = 8;
/** A log's first entry is a first charge where it adds so much of nameplate. */
const FIRST_CHARGE_SHARE = 0.9;

/** The audit of the years that a log spans, oldest first. `posterior` is that of the question. */
export function auditYears(
  question: Question,
  posterior: Posterior,
  ln_x_prior: LeakPrior = question.leak_prior,
): AuditYear[] {
  const { log, as_of_day, nameplate_g } = question;
  const [first] = log;
  if (first === undefined) return [];
  const last_year = Number(question.as_of.slice(0, 4));
  const first_year = Math.max(Number(first.date.slice(0, 4)), last_year - MOST_YEARS + 1);
  const spells = leakSpells(question, posterior, ln_x_prior);
  const first_charge_g = (first.added_g ?? 0) >= FIRST_CHARGE_SHARE * nameplate_g ? first.added_g! : 0;
  const years: AuditYear[] = [];
  for (let year = first_year; year <= last_year; year++) {
    const from_day = Math.max(dayNumber(first.date), dayNumber(`${year}-01-01`));
    const last_day = Math.min(as_of_day, dayNumber(`${year}-12-31`));
    const to_day = Math.min(as_of_day, dayNumber(`${year + 1}-01-01`));
    const entries = log.filter(({ date }) => date.startsWith(`${year}-`));
    const added_g = entries.reduce((sum, entry) => sum + (entry.added_g ?? 0), 0);
    const lost = lostWithin(spells, from_day, to_day, nameplate_g + added_g, ln_x_prior);
    const rates = regulationRates({
      ...question,
      as_of_day: last_day,
      log: log.filter(({ date }) => dayNumber(date) <= last_day),
    });
    years.push({
      year,
      added_g,
      first_charge_g: first.date.startsWith(`${year}-`) ? first_charge_g : 0,
      recovered_g: entries.reduce((sum, entry) => sum + (entry.recovered_g ?? 0), 0),
      lost_g: lost.mean,
      lost_sd_g: Math.sqrt(lost.variance),
      lost_per_ln_g: lost.per_ln,
      span_years: (to_day - from_day) / DAYS_PER_YEAR,
      annualizing_percent: added_g > 0 ? rates.annualizing_percent : null,
      rolling_percent: rates.rolling_percent,
      ...passedIn(question, year),
    });
  }
  return years;
}

/** On which day of a year a vehicle passed the limits of the rule for its charge. */
function passedIn(question: Question, year: number): Pick<AuditYear, "over_limit_on" | "chronic_on"> {
  const { log, refrigerant, nameplate_g } = question;
  const rule = leakThresholdOf(refrigerant, nameplate_g, `${year}-12-31`);
  const passed = { over_limit_on: null as string | null, chronic_on: null as string | null };
  if (rule === null) return passed;
  let added = 0;
  for (const { date, added_g } of log.filter((entry) => entry.date.startsWith(`${year}-`))) {
    if ((added_g ?? 0) <= 0) continue;
    added += added_g!;
    const rates = regulationRates({
      ...question,
      as_of_day: dayNumber(date),
      log: log.filter((one) => one.date <= date),
    });
    const rate = Math.max(rates.annualizing_percent ?? 0, rates.rolling_percent ?? 0);
    if (date >= rule.from && rate > rule.limit_percent) passed.over_limit_on ??= date;
    if (100 * added > CHRONIC_LEAK.percent * nameplate_g) passed.chronic_on ??= date;
  }
  return passed;
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
function leakSpells(question: Question, posterior: Posterior, ln_x_prior: LeakPrior): LeakSpell[] {
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
  const earlier = leakSpells(before, posteriorOf(before, { record: false, ln_x_prior }), ln_x_prior);
  return [{ ...spell, from_day: before.as_of_day }, ...earlier];
}

/** Grams lost between two days: no more than the charge. Periods are taken as independent. */
function lostWithin(
  spells: readonly LeakSpell[],
  from_day: number,
  to_day: number,
  most_g: number,
  { ln_x_mean, ln_x_sd }: LeakPrior,
): { mean: number; variance: number; per_ln: number } {
  let mean = 0;
  let variance = 0;
  let per_ln = 0;
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
    let cross = 0;
    let away = 0;
    for (let n = 0; n < NODES; n++) {
      const lost = Math.min(most_g, X[n % X_COUNT]! * spell.nameplate_g * span[Math.floor(n / X_COUNT)]!);
      first += weight[n]! * lost;
      second += weight[n]! * lost * lost;
      const z = LN_X[n % X_COUNT]! - ln_x_mean;
      away += weight[n]! * z;
      cross += weight[n]! * lost * z;
    }
    mean += first;
    // The derivative of a mean under weights ∝ exp(−z²/2s²) by the prior's mean is a covariance over s².
    per_ln += (cross - first * away) / ln_x_sd ** 2;
    variance += Math.max(0, second - first * first);
  }
  return { mean, variance, per_ln };
}

/** 5–95 % of a loss, grams: log-normal of the same mean and sd, since a loss is never below 0. */
export function lossInterval(mean_g: number, sd_g: number): { p05_g: number; p95_g: number } {
  if (!(mean_g > 0)) return { p05_g: 0, p95_g: 0 };
  const ln_variance = Math.log1p((sd_g / mean_g) ** 2);
  const ln_median = Math.log(mean_g) - ln_variance / 2;
  const spread = NORMAL_95 * Math.sqrt(ln_variance);
  return { p05_g: Math.exp(ln_median - spread), p95_g: Math.exp(ln_median + spread) };
}

/** What was charged, recovered and lost by several vehicles together. */
export interface AuditSum
  extends Pick<AuditYear, "added_g" | "first_charge_g" | "recovered_g" | "lost_g" | "lost_sd_g"> {
  /** Charged, but for first charges, less recovered: what was lost if the systems hold as much at the end. */
  net_added_g: number;
}

/** What a sum needs of each vehicle: its group, and how well the mean leak of that is known (sd of its mean ln x). */
export interface SummedRow extends Omit<AuditYear, "year"> {
  fleet_group: string | null;
  mean_sd: number;
}

/**
 * Several vehicles together. What each vehicle errs by alone nearly cancels; what is wrong about the mean leak of a
 * group is wrong for all of its vehicles at once, and adds up.
 */
export function summedAudit(rows: readonly SummedRow[]): AuditSum {
  const sum = (of: (row: SummedRow) => number): number => rows.reduce((total, row) => total + of(row), 0);
  const lost_g = sum((row) => row.lost_g);
  let variance = sum((row) => row.lost_sd_g ** 2) + (cohort.common_share * lost_g) ** 2;
  for (const members of Map.groupBy(rows, ({ fleet_group, mean_sd }) => `${mean_sd} ${fleet_group ?? ""}`).values()) {
    const together = members.reduce((total, { lost_per_ln_g }) => total + lost_per_ln_g, 0);
    variance += (together * members[0]!.mean_sd) ** 2;
  }
  const added_g = sum((row) => row.added_g);
  const first_charge_g = sum((row) => row.first_charge_g);
  const recovered_g = sum((row) => row.recovered_g);
  return {
    added_g,
    first_charge_g,
    recovered_g,
    net_added_g: added_g - first_charge_g - recovered_g,
    lost_g,
    lost_sd_g: Math.sqrt(variance),
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
