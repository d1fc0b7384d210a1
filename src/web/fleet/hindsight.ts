import { MODEL_VERSION } from "../../core/assess.ts";
import { dayNumber, isoFromDay } from "../../core/quantities/dates.ts";
import type { PredictionTask } from "../../store/predictions.ts";
import { hashOf, replayRequest } from "../past-predictions.ts";
import { inPortions, type Reckoner, recordsOf } from "./slices.ts";

/**
 * Past charges predicted again, in slices, each of which stores its results. A slice may be repeated or lost without
 * harm.
 */

/** Days after which the charges are looked at again. Only which of them have come due changes with time alone. */
const GOOD_FOR_DAYS = 30;

/** The earliest day whose predictions still hold on `today`. */
export function hindsightFreshFrom(today: string): string {
  return isoFromDay(dayNumber(today) - GOOD_FOR_DAYS);
}

/** Predicts the charges of the next `vehicles` of the run. True while more remain. */
export async function hindsightSlice({ store, model }: Reckoner, vehicles: number): Promise<boolean> {
  const { predictions } = store;
  const run = await predictions.underWay();
  if (run === null) return false;
  const tasks = await predictions.tasks(vehicles);
  if (tasks.length === 0) {
    await predictions.finish(run.id);
    return false;
  }
  const days = { from: hindsightFreshFrom(run.as_of), until: run.as_of };
  const asked = await Promise.all(
    (await recordsOf(store, tasks)).map(async ([task, record]) => {
      const request = replayRequest(record, run.as_of);
      return { task, request, input_hash: await hashOf(request) };
    }),
  );
  const anew = asked.filter(({ task, input_hash }) => !stillHolds(task, input_hash, days));
  const said = await inPortions(anew, model, (portion) => model.replays(portion.map(({ request }) => request)));
  await predictions.save(
    run.as_of,
    anew.map(({ task: { vehicle_id, stamp }, input_hash }, i) => ({
      vehicle_id,
      stamp,
      input_hash,
      predictions: said[i]!,
    })),
  );
  await predictions.keep(asked.filter((one) => !anew.includes(one)).map(({ task }) => task));
  return true;
}

function stillHolds({ before }: PredictionTask, input_hash: string, days: { from: string; until: string }): boolean {
  return (
    before !== null &&
    before.as_of >= days.from &&
    before.as_of <= days.until &&
    before.model_version === MODEL_VERSION &&
    before.input_hash === input_hash
  );
}
