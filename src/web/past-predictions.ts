import type { Prediction, ReplayRequest } from "../core/hindsight/replay.ts";
import { contentHash } from "../store/hash.ts";
import type { AssessedRecord } from "../store/vehicle-record.ts";
import type { WorkspaceStore } from "../store/workspace-store.ts";
import type { Deps } from "./edge/deps.ts";
import { unpricedRequest } from "./vehicle-answer.ts";

/**
 * The request of a replay: the log alone, without findings and readings, and with the prior of the kind of vehicle,
 * since a group's was fitted to what came later, too.
 */
export function replayRequest(record: AssessedRecord, as_of: string): ReplayRequest {
  const { vehicle, log, logged, assumptions } = unpricedRequest(record, as_of);
  return { as_of, vehicle, log, logged, assumptions };
}

/** Hash of all that the predictions rest on. Not of the day: it changes no prediction that has come true. */
export async function hashOf({ as_of: _, ...request }: ReplayRequest): Promise<string> {
  return contentHash(request);
}

/** The past charges of a vehicle, predicted again: as the fleet's work has them, else computed now. */
export async function pastPredictions(
  { model }: Pick<Deps, "model">,
  store: WorkspaceStore,
  record: AssessedRecord,
  as_of: string,
): Promise<Prediction[]> {
  const request = replayRequest(record, as_of);
  // A charge can only be judged by an entry after it.
  if ((request.log ?? []).length < 2) return [];
  const kept = await store.predictions.ofVehicle(record.vehicle.id, await hashOf(request));
  return kept ?? model.replayed(request);
}
