import { MISTAKEN_BESIDE_READINGS } from "../../../data/model-constants.ts";
import { dayNumber } from "../quantities/dates.ts";
import type { LeakPrior, Question } from "../question/question.ts";
import { logsOfVagueDates } from "../question/vague-dates.ts";
import { ChargeFilter, type FilterState } from "./charge-filter.ts";
import { fillsAskedFor, isLowLook, type StandingLook, standingLookOf, type Visit, visitsOf } from "./charge-log.ts";
import { CLOCK_YEARS_AHEAD, type Clocks, clocksOf } from "./clocks.ts";
import type { Foresight } from "./foresight.ts";
import { DAYS_PER_YEAR } from "./leak-clock.ts";
import { mixedStates } from "./mixed-states.ts";
import { afterVisit, type Progress, takeVisit } from "./progress.ts";
import { RunRecord } from "./run-record.ts";
import { endInSilence, silenceOf } from "./silence.ts";
import type { Snapshot } from "./snapshot.ts";
import { ALL_NODES, type Stretch } from "./stretch.ts";

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
  /** Where the run was before that visit. */
  progress: Progress;
  /** `Posterior.after_mean_m` so far. */
  after_mean_m: ReadonlyMap<number, Float64Array>;
}

interface PosteriorOptions {
  /** Records `snapshots` and `learned`; runs that only compare costs do without. */
  record?: boolean;
  /** Prior of the leak rate in place of the question's, for a vehicle of a cohort. */
  ln_x_prior?: LeakPrior;
  /** Clocks to use, which must reach back to the log's beginning; null: makes its own. */
  clocks?: Clocks | null;
  /**
   * Nodes to keep within, of a run of the same log: saves time where they turn out to be enough, changes nothing;
   * empty: goes through all nodes to the end.
   */
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
  // What it keeps of the charge is weighed by what all runs know: every node goes through it.
  const on_record = posteriorOfLog(question, { ...options, clocks, from: null, within: [] });
  const each = logs.map((one) =>
    posteriorOfLog({ ...question, log: one }, { ...options, clocks, record: false, from: null }),
  );
  // The runs differ before the repair already, so none can be resumed there.
  return { ...on_record, ...mixedStates(each), before_repair: null };
}

/** Scouts pay for themselves where at least so many visits are ahead. */
const LONG_ENOUGH = 6;

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
  const standing = standingLookOf(visits);
  let seen = from?.seen ?? 1;
  const noted = record ? new RunRecord(filter, visits.length) : null;
  const asked = fillsAskedFor(visits);
  const after_mean_m = new Map<number, Float64Array>(from?.after_mean_m);
  const whole = regimesReadLater(visits, record ? visits.keys() : asked);
  if (within !== null) filter.keepWithin(within.map((stretch, regime) => (whole.has(regime) ? ALL_NODES : stretch)));

  let progress: Progress = from?.progress ?? { last_t: null, last_fill: null, cools: false };
  if (silence?.from_t != null && from == null && silence.from_t < (visits[0]?.t ?? silence.until_t)) {
    filter.startInService(silence.from_t);
    // Someone who logs every charge started with a vehicle that cooled.
    filter.look("ok");
    progress = { last_t: silence.from_t, last_fill: null, cools: true };
  }
  const mistakenAt = mistakenLooks(question, visits, standing);
  const mayScout = (regime: number) => within === null && silence === null && !whole.has(regime);
  let foresight = from === null && mayScout(0) ? scoutAhead(filter, progress, visits, mistakenAt, 0) : null;
  let before_repair = from;
  let regime = from === null ? 0 : visits.slice(0, from.entry).filter(({ repair }) => repair !== null).length;
  for (let entry = from?.entry ?? 0; entry < visits.length; entry++) {
    const visit = visits[entry]!;
    const resumed = entry === from?.entry;
    if (!resumed) {
      const stands = entry === standing?.entry && isLowLook(visit.cooling) ? visit.cooling : null;
      if (stands !== null) seen = filter.chanceOfLow(stands, progress.last_t ?? visit.t, visit.t);
      takeVisit(filter, progress, visit, silence, mistakenAt(entry), (branches) =>
        noted?.arrive(filter, branches, visit.t, entry),
      );
    }
    if (visit.repair !== null) {
      before_repair ??= { entry, filter: filter.copy(question), seen, progress, after_mean_m: new Map(after_mean_m) };
      filter.repair(visit.repair);
    } else if (foresight !== null) filter.leaveOut(foresight);
    noted?.leave(filter, visit.t, entry);
    if (asked.has(entry)) after_mean_m.set(entry, noted?.snapshots.at(-1)?.mean_m ?? filter.meanCharge());
    progress = afterVisit(progress, visit);
    if (visit.repair !== null && mayScout(++regime)) {
      foresight = scoutAhead(filter, progress, visits, mistakenAt, entry + 1);
    } else if (visit.repair !== null) foresight = null;
  }
  let { last_t } = progress;
  if (silence !== null && last_t !== null && standing === null) last_t = endInSilence(filter, last_t, silence);
  if (last_t !== null) filter.move(last_t, 0);
  filter.rectify();
  const state = filter.state();
  if (!filter.wasEnough()) return posteriorOfLog(question, { record, ln_x_prior, clocks, from });
  return {
    ...state,
    log_evidence: filter.logEvidence(),
    learned: noted?.learned ?? [],
    snapshots: noted?.snapshots ?? [],
    after_mean_m,
    visits,
    standing: standing === null ? null : { ...standing, seen },
    clocks: used_clocks,
    before_repair,
  };
}

/** What scouts see of the regime that begins with entry `first`; null where it is too short for them. */
function scoutAhead(
  filter: ChargeFilter,
  progress: Progress,
  visits: readonly Visit[],
  mistakenAt: (entry: number) => number | null,
  first: number,
): Foresight | null {
  const repair = visits.findIndex((visit, entry) => entry >= first && visit.repair !== null);
  const end = repair < 0 ? visits.length : repair + 1;
  if (end - first < LONG_ENOUGH) return null;
  const scouts = filter.scouts();
  let at = progress;
  for (let entry = first; entry < end; entry++) {
    takeVisit(scouts, at, visits[entry]!, null, mistakenAt(entry));
    at = afterVisit(at, visits[entry]!);
  }
  return { least_end: scouts.logEvidence(), most: scouts.mostSoFar() };
}

/**
 * Regimes, counted from 0 and from repair to repair, of which the charge at some of `entries` is read at the end of the
 * log. A repair follows, after which other nodes may weigh something: each must have gone through the regime.
 */
function regimesReadLater(visits: readonly Visit[], entries: Iterable<number>): ReadonlySet<number> {
  const repairs = visits.flatMap(({ repair }, entry) => (repair === null ? [] : [entry]));
  const read = new Set<number>();
  for (const entry of entries) {
    const regime = repairs.findIndex((repair) => repair > entry);
    if (regime >= 0) read.add(regime);
  }
  return read;
}

/** By entry: the chance that its look was a mistake, where that is not the usual one. */
function mistakenLooks(
  { plan }: Question,
  visits: readonly Visit[],
  standing: StandingLook | null,
): (entry: number) => number | null {
  const cooling = standing === null ? null : visits[standing.entry]!.cooling;
  const sure = isLowLook(cooling) && cooling !== "empty" && plan.readings === "low";
  return (entry) => (sure && entry === standing?.entry ? MISTAKEN_BESIDE_READINGS : null);
}
