import { MODEL_VERSION } from "../../core/assess.ts";
import type { FleetAnswer } from "../../core/fleet/answer.ts";
import type { FleetFigures, FleetRun } from "../../core/fleet/row.ts";
import { dayNumber, isoFromDay } from "../../core/quantities/dates.ts";
import type { FleetTask, ReckonedAnswer } from "../../store/fleet-reckoning.ts";
import { contentHash } from "../../store/hash.ts";
import { type AssessedRecord, termsOf } from "../../store/vehicle-record.ts";
import { unpricedRequest, vehicleRequest } from "../vehicle-answer.ts";
import { hindsightFreshFrom, hindsightSlice } from "./hindsight.ts";
import { inPortions, type Reckoner, recordsOf } from "./slices.ts";

/**
 * Computes a fleet in slices, each of which stores its results: first what each log says, then the groups, then the
 * answers. A slice may be repeated or lost without harm.
 */

/** Days for which an answer holds, unless its record changes. */
const GOOD_FOR_DAYS = 7;

/** The earliest day whose answers still hold on `today`. */
export function freshFrom(today: string): string {
  return isoFromDay(dayNumber(today) - GOOD_FOR_DAYS);
}

/** Whether a run is going on. */
export function isUnderWay(run: FleetRun | null): run is FleetRun {
  return run !== null && (run.state === "logs" || run.state === "cohorts" || run.state === "answers");
}

/**
 * Computes the next `vehicles` of the run; after it, of the past charges that are predicted again. True while more
 * remain.
 */
export async function reckonSlice(reckoner: Reckoner, vehicles: number): Promise<boolean> {
  const { reckoning, predictions } = reckoner.store;
  const run = await reckoning.underWay();
  if (run === null) return hindsightSlice(reckoner, vehicles);
  if (run.state === "logs") {
    const tasks = await reckoning.tasks("logs", vehicles);
    if (tasks.length > 0) await reckonLogs(reckoner, run, tasks);
    else await reckoning.toCohorts(run.id);
  } else if (run.state === "cohorts") {
    await reckonCohorts(reckoner, run);
  } else {
    const tasks = await reckoning.tasks("answers", vehicles);
    if (tasks.length > 0) await reckonAnswers(reckoner, run, tasks);
    else {
      await reckoning.finish(run.id);
      await predictions.begin(run.as_of, hindsightFreshFrom(run.as_of));
    }
  }
  return true;
}

async function reckonLogs(
  { store, model }: Reckoner,
  { as_of }: Pick<FleetRun, "as_of">,
  tasks: readonly FleetTask[],
): Promise<void> {
  const records = await recordsOf(store, tasks);
  const asked = records.map(([, record]) => unpricedRequest(record, as_of));
  const said = await inPortions(asked, model, (portion) => model.leakLikelihoods(portion));
  const logs = records.map(([{ vehicle_id, stamp }], i) => ({ vehicle_id, stamp, ln_likelihood: said[i]! }));
  await store.reckoning.saveLogs(as_of, logs);
}

async function reckonCohorts(
  { store: { reckoning }, model }: Reckoner,
  run: Pick<FleetRun, "id" | "as_of" | "fresh_from">,
) {
  const groups = await reckoning.likelihoods();
  const fits = await model.groupFits(
    Array.from(groups.values(), (logs) => ({
      kinds: logs.map(({ kind }) => kind),
      ln_likelihoods: logs.map(({ ln_likelihood }) => ln_likelihood),
    })),
  );
  await reckoning.saveCohorts(
    run,
    Array.from(groups.keys(), (fleet_group, i) => ({ fleet_group, ...fits[i]! })),
  );
}

async function reckonAnswers(
  { store, model }: Reckoner,
  run: Pick<FleetRun, "as_of" | "fresh_from">,
  tasks: readonly FleetTask[],
): Promise<void> {
  const records = await recordsOf(store, tasks);
  const holding = await Promise.all(records.map(([task, record]) => stillHolds(task, record, run)));
  const kept = records.flatMap(([task], i) => (holding[i] ? [task] : []));
  const anew = records.filter((_, i) => !holding[i]);
  const asked = anew.map(([{ used }, record]) => ({ request: vehicleRequest(record, run.as_of), used }));
  const [said, hashes] = await Promise.all([
    inPortions(asked, model, (portion) => model.fleetAnswers(portion)),
    Promise.all(asked.map(({ request, used }, i) => contentHash([request, termsOf(anew[i]![1]).currency, used]))),
  ]);
  const answers = anew.map(([{ vehicle_id, stamp, used }, record], i): ReckonedAnswer => {
    const { audit, ...answer } = said[i]!;
    return {
      vehicle_id,
      stamp,
      input_hash: hashes[i]!,
      used,
      as_of: run.as_of,
      currency: termsOf(record).currency,
      answer,
      audit,
      ...figuresOf(answer, record.vehicle.nameplate_g),
    };
  });
  await store.reckoning.saveAnswers(answers);
  await store.reckoning.keepAnswers(kept);
}

/** Whether the answer from before holds: what changed in the record does not affect the model, like a name. */
async function stillHolds(
  { before, used }: FleetTask,
  record: AssessedRecord,
  { as_of, fresh_from }: Pick<FleetRun, "as_of" | "fresh_from">,
): Promise<boolean> {
  if (before === null || before.model_version !== MODEL_VERSION) return false;
  if (before.as_of < fresh_from || before.as_of > as_of) return false;
  if (record.charge_log.some(({ date }) => date > before.as_of)) return false;
  const asked = [vehicleRequest(record, before.as_of), termsOf(record).currency, used];
  return (await contentHash(asked)) === before.input_hash;
}

/** The parts of an answer that lists show. "As is" means topping off for ever, offered or not. */
function figuresOf(answer: Omit<FleetAnswer, "audit">, nameplate_g: number): FleetFigures {
  const { verdict, options, as_is, keep_years } = answer;
  const chosen = options.find(({ id }) => id === verdict.option) ?? null;
  const best = chosen ?? as_is;
  const is_test = chosen?.id === "dye-test" || chosen?.id === "electronic-test";
  return {
    leak_g_per_year: answer.leak_fraction.median * nameplate_g,
    leak_share: answer.leak_fraction.median,
    low_now: answer.low_now,
    no_entries: answer.no_entries,
    charge_share: answer.charge_now_g.mean / nameplate_g,
    next_low: answer.next_low.p50,
    verdict: verdict.option,
    watch_date: answer.watch_date,
    sure: chosen === null || is_test || verdict.guard !== null ? null : chosen.probability_cheapest,
    cost_as_is: as_is.expected_cost / keep_years,
    cost_best: best.expected_cost / keep_years,
    release_as_is_g: as_is.release_g / keep_years,
    release_best_g: best.release_g / keep_years,
    co2e_as_is_kg: as_is.co2e_kg / keep_years,
    co2e_best_kg: best.co2e_kg / keep_years,
    own_share: answer.own_share,
  };
}
