import { MISTAKEN_BESIDE_READINGS, NOTICED_WITHIN_YEARS } from "../../../data/model-constants.ts";
import { dayNumber } from "../quantities/dates.ts";
import type { LeakPrior, Question } from "../question/question.ts";
import { logsOfVagueDates } from "../question/vague-dates.ts";
import { ChargeFilter, type FilterState, roomForSnapshots, type Snapshot } from "./charge-filter.ts";
import { fillsAskedFor, isLowLook, type StandingLook, standingLookOf, type Visit, visitsOf } from "./charge-log.ts";
import { CLOCK_YEARS_AHEAD, type Clocks, clocksOf } from "./clocks.ts";
import { DAYS_PER_YEAR } from "./leak-clock.ts";
import { mixedStates } from "./mixed-states.ts";
import { endInSilence, isWithin, joined, moveInSilence, type Silence, silenceOf, silentUntil } from "./silence.ts";
import type { Stretch } from "./stretch.ts";

/** The leak-rate posterior (MODEL §3): the filter run over the visits of a log. */

export interface Posterior extends FilterState {
  /** ln of the likelihood of the log, as `ChargeFilter.logEvidence` gives it. */
  log_evidence: number;
  /** Fall in the standard deviation of ln x with each entry; empty unless recorded. */
  learned: number[];
  /** Charge before and after each entry; empty unless recorded. */
  snapshots: Snapshot[];
  /** Mean charge of each node just after some fills, grams, by position of its entry: those of `fillsAskedFor`. */
  after_mean_m: ReadonlyMap<number, Float64Array>;
  /** The log as visits, in date order. */
  visits: readonly Visit[];
  /** The low look that stands, and the chance `seen` that the log before it gave to it, 0–1; null: none stands. */
  standing: (StandingLook & { seen: number }) | null;
  /** The clocks that the run used. */
  clocks: Clocks;
  /**
   * The run up to its first repair, which the assumed seep of a sound system does not affect; null without a repair.
   */
  before_repair: Checkpoint | null;
}

/** A run of the filter, halted before the repair of one of its visits, from where it can be resumed. */
export interface Checkpoint {
  /** Position of the entry of that visit. */
  entry: number;
  /** The filter after all else of that visit. */
  filter: ChargeFilter;
  /** `seen` of the low look that stands, as far as it is known; else 1. */
  seen: number;
  /** The last fill before that visit; null without one. */
  last_fill: LastFill | null;
  /** Whether it was known to cool, and not seen low since, before that visit. */
  cools: boolean;
  /** `Posterior.after_mean_m` so far. */
  after_mean_m: ReadonlyMap<number, Float64Array>;
}

interface LastFill {
  /** Years from the assessment date, 0 or negative. */
  t: number;
  /** Whether it was seen low after that fill. */
  low_since: boolean;
}

interface PosteriorOptions {
  /** Records `snapshots` and `learned`; runs that only compare costs do without. */
  record?: boolean;
  /** Prior of the leak rate in place of the question's, for a vehicle of a cohort. */
  ln_x_prior?: LeakPrior;
  /** Clocks to use, which must reach back to the log's beginning; null: makes its own. */
  clocks?: Clocks | null;
  /** Nodes to keep within, of a run of the same log: saves time where they turn out to be enough, changes nothing. */
  within?: readonly Stretch[] | null;
  /** Where to resume, for the same log and the same assumptions up to it. Only without `record`. */
  from?: Checkpoint | null;
}

/**
 * The posterior at the assessment date. Where dates of the log are vague it is a mixture over days that they may mean,
 * each weighed by how likely it makes the log; visits, snapshots and `learned` are then those of the days on record.
 */
export function posteriorOf(question: Question, options: PosteriorOptions = {}): Posterior {
  const [log, ...others] = logsOfVagueDates(question.log, question.as_of_day);
  if (log === undefined || others.length === 0) return posteriorOfLog(question, options);
  const logs = [log, ...others];
  const first_t = Math.min(...logs.map(([first]) => yearsFrom(question, first?.date ?? question.as_of)));
  const clocks =
    options.clocks ?? clocksOf(question, Math.min(silenceOf(question)?.from_t ?? 0, first_t), CLOCK_YEARS_AHEAD);
  const on_record = posteriorOfLog(question, { ...options, clocks, from: null });
  const each = logs.map((one) =>
    posteriorOfLog({ ...question, log: one }, { ...options, clocks, record: false, from: null }),
  );
  // The runs differ before the repair already, so none can be resumed there.
  return { ...on_record, ...mixedStates(each), before_repair: null };
}

function yearsFrom({ as_of_day }: Question, date: string): number {
  return (dayNumber(date) - as_of_day) / DAYS_PER_YEAR;
}

function posteriorOfLog(
  question: Question,
  { record = true, ln_x_prior = question.leak_prior, clocks = null, within = null, from = null }: PosteriorOptions,
): Posterior {
  const { nameplate_g, assumptions } = question;
  const visits = visitsOf(question.log, question.as_of_day, nameplate_g, assumptions.heel);
  const silence = silenceOf(question);
  const first_t = Math.min(silence?.from_t ?? 0, visits[0]?.t ?? 0);
  const used_clocks = clocks ?? clocksOf(question, first_t, CLOCK_YEARS_AHEAD);
  const filter = from?.filter.copy(question) ?? new ChargeFilter(question, used_clocks, ln_x_prior);
  if (within !== null) filter.keepWithin(within);
  const standing = standingLookOf(visits);
  let seen = from?.seen ?? 1;
  const learned: number[] = [];
  const snapshots: Snapshot[] = [];
  const room = roomForSnapshots(record ? 2 * visits.length : 0);
  const asked = fillsAskedFor(visits);
  const after_mean_m = new Map<number, Float64Array>(from?.after_mean_m);

  let sd_before = record ? filter.lnXSd() : 0;
  let last_fill = from?.last_fill ?? null;
  let cools = from?.cools ?? false;
  let last_t: number | null = null;
  if (silence?.from_t != null && from == null && silence.from_t < (visits[0]?.t ?? silence.until_t)) {
    filter.startInService(silence.from_t);
    // Someone who logs every charge started with a vehicle that cooled.
    filter.look("ok");
    last_t = silence.from_t;
    cools = true;
  }
  let before_repair = from;
  for (let entry = from?.entry ?? 0; entry < visits.length; entry++) {
    const visit = visits[entry]!;
    const resumed = entry === from?.entry;
    if (!resumed) {
      const stands = entry === standing?.entry && isLowLook(visit.cooling) ? visit.cooling : null;
      if (stands !== null) seen = filter.chanceOfLow(stands, last_t ?? visit.t, visit.t);
      const branches = last_t === null ? [] : moveTo(filter, last_t, visit, last_fill, cools ? silence : null);
      if (record) snapshots.push(joined(filter, branches).snapshot(visit.t, entry, "before", room()));
      const sure = stands !== null && stands !== "empty" && question.plan.readings === "low";
      for (const one of [filter, ...branches]) one.visit(visit, sure ? MISTAKEN_BESIDE_READINGS : null);
      filter.mergeIn(branches);
    }
    if (visit.repair !== null) {
      const so_far = { seen, last_fill, cools, after_mean_m: new Map(after_mean_m) };
      before_repair ??= { entry, filter: filter.copy(question), ...so_far };
      filter.repair(visit.repair);
    }
    const after = record ? filter.snapshot(visit.t, entry, "after", room()) : null;
    if (asked.has(entry)) after_mean_m.set(entry, after?.mean_m ?? filter.meanCharge());
    if (after !== null) {
      snapshots.push(after);
      const sd_after = filter.lnXSd();
      learned.push(sd_before - sd_after);
      sd_before = sd_after;
    }
    if (isLowLook(visit.cooling) && last_fill !== null) last_fill = { t: last_fill.t, low_since: true };
    if (visit.fill !== null) last_fill = { t: visit.t, low_since: false };
    cools = visit.fill !== null || (cools && !isLowLook(visit.cooling));
    last_t = visit.t;
  }
  if (silence !== null && last_t !== null && standing === null) last_t = endInSilence(filter, last_t, silence);
  if (last_t !== null) filter.move(last_t, 0);
  filter.rectify();
  const state = filter.state();
  if (!filter.wasEnough()) return posteriorOfLog(question, { record, ln_x_prior, clocks, from });
  return {
    ...state,
    log_evidence: filter.logEvidence(),
    learned,
    snapshots,
    after_mean_m,
    visits,
    standing: standing === null ? null : { ...standing, seen },
    clocks: used_clocks,
    before_repair,
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
