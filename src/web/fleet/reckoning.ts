import { MODEL_VERSION } from "../../core/assess.ts";
import { type FleetAnswer, fleetAnswer } from "../../core/fleet/answer.ts";
import { cohortPrior, fitCohort, lnLikelihoodOf, startOf, takesPart } from "../../core/fleet/cohort.ts";
import type { FleetFigures, FleetRun } from "../../core/fleet/row.ts";
import { SharedClocks } from "../../core/leak/clocks.ts";
import { posteriorOf } from "../../core/leak/posterior.ts";
import { dayNumber, isoFromDay } from "../../core/quantities/dates.ts";
import { questionOf } from "../../core/question/question.ts";
import type { FleetTask, ReckonedAnswer } from "../../store/fleet-reckoning.ts";
import { contentHash } from "../../store/hash.ts";
import { termsOf } from "../../store/vehicle-record.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import { unpricedRequest, vehicleRequest } from "../vehicle-answer.ts";

/**
 * Computes a fleet in slices, each of which stores its results: first what each log says, then the groups, then the
 * answers. A slice may be repeated or lost without harm.
 */

/** Days for which an answer holds, unless its record changes. */
const GOOD_FOR_DAYS = 7;

const shared_clocks = new SharedClocks();

/** The earliest day whose answers still hold on `today`. */
export function freshFrom(today: string): string {
  return isoFromDay(dayNumber(today) - GOOD_FOR_DAYS);
}

export function isUnderWay(run: FleetRun | null): run is FleetRun {
  return run !== null && (run.state === "logs" || run.state === "cohorts" || run.state === "answers");
}

/** Computes the next `vehicles` of the run. True while more remain. */
export async function reckonSlice(store: WorkspaceStore, vehicles: number): Promise<boolean> {
  const { reckoning } = store;
  const run = await reckoning.underWay();
  if (run === null) return false;
  if (run.state === "logs") {
    const tasks = await reckoning.tasks("logs", vehicles);
    if (tasks.length > 0) await reckonLogs(store, run, tasks);
    else await reckoning.toCohorts(run.id);
  } else if (run.state === "cohorts") {
    await reckonCohorts(store, run);
  } else {
    const tasks = await reckoning.tasks("answers", vehicles);
    if (tasks.length > 0) await reckonAnswers(store, run, tasks);
    else await reckoning.finish(run.id);
  }
  return true;
}

async function reckonLogs(store: WorkspaceStore, { as_of }: Pick<FleetRun, "as_of">, tasks: readonly FleetTask[]) {
  const records = new Map((await store.records(idsOf(tasks))).map((record) => [record.vehicle.id, record]));
  const logs = tasks.flatMap(({ vehicle_id, stamp }) => {
    const record = records.get(vehicle_id);
    if (record === undefined) return [];
    const question = questionOf(unpricedRequest(record, as_of));
    const ln_likelihood = takesPart(question)
      ? // Hundredths are far finer than the estimate itself.
        Array.from(
          lnLikelihoodOf(
            posteriorOf(question, { record: false, clocks: shared_clocks.of(question) }),
            question.leak_prior,
          ),
          (ln) => Math.round(ln * 100) / 100,
        )
      : null;
    return [{ vehicle_id, stamp, ln_likelihood }];
  });
  await store.reckoning.saveLogs(as_of, logs);
}

async function reckonCohorts({ reckoning }: WorkspaceStore, run: Pick<FleetRun, "id" | "fresh_from">) {
  const cohorts = Array.from(await reckoning.likelihoods(), ([fleet_group, logs]) => {
    const start = startOf(logs.map(({ kind }) => kind));
    const fit = fitCohort(
      logs.map(({ ln_likelihood }) => ln_likelihood),
      start,
    );
    return { fleet_group, ...fit, used: cohortPrior(fit, start) };
  });
  await reckoning.saveCohorts(run, cohorts);
}

async function reckonAnswers(
  store: WorkspaceStore,
  run: Pick<FleetRun, "as_of" | "fresh_from">,
  tasks: readonly FleetTask[],
) {
  const records = new Map((await store.records(idsOf(tasks))).map((record) => [record.vehicle.id, record]));
  const answers: ReckonedAnswer[] = [];
  const kept: FleetTask[] = [];
  for (const task of tasks) {
    const record = records.get(task.vehicle_id);
    if (record === undefined) continue;
    const { before, used } = task;
    if (before !== null && before.as_of >= run.fresh_from && before.model_version === MODEL_VERSION) {
      // The change does not affect the model, like the workspace's name.
      const newer = record.charge_log.some(({ date }) => date > before.as_of);
      if (
        !newer &&
        (await contentHash([vehicleRequest(record, before.as_of), termsOf(record).currency, used])) ===
          before.input_hash
      ) {
        kept.push(task);
        continue;
      }
    }
    const request = vehicleRequest(record, run.as_of);
    const question = questionOf(request);
    const { audit, ...answer } = fleetAnswer(question, used, shared_clocks.of(question));
    answers.push({
      vehicle_id: task.vehicle_id,
      stamp: task.stamp,
      input_hash: await contentHash([request, termsOf(record).currency, used]),
      used,
      as_of: run.as_of,
      currency: termsOf(record).currency,
      answer,
      audit,
      ...figuresOf(answer, record.vehicle.nameplate_g),
    });
  }
  await store.reckoning.saveAnswers(answers);
  await store.reckoning.keepAnswers(kept);
}

function idsOf(tasks: readonly FleetTask[]): string[] {
  return tasks.map(({ vehicle_id }) => vehicle_id);
}

/** The parts of an answer that lists show. "As is" means topping off for ever, offered or not. */
function figuresOf(answer: Omit<FleetAnswer, "audit">, nameplate_g: number): FleetFigures {
  const { verdict, options, as_is, keep_years } = answer;
  const chosen = options.find(({ id }) => id === verdict.option) ?? null;
  const best = chosen ?? as_is;
  const is_test = chosen?.id === "dye-test" || chosen?.id === "electronic-test";
  return {
    leak_g_per_year: answer.leak_fraction.median * nameplate_g,
    charge_share: answer.charge_now_g.mean / nameplate_g,
    next_low: answer.next_low.p50,
    verdict: verdict.option,
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
