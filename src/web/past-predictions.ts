import type { Prediction, ReplayRequest } from "../core/hindsight/replay.ts";
import { contentHash } from "../store/hash.ts";
import type { AssessedRecord } from "../store/vehicle-record.ts";
import type { WorkspaceStore } from "../store/workspace-store.ts";
import type { Deps } from "./edge/deps.ts";
import { unpricedRequest } from "./vehicle-answer.ts";

/**
 * What a replay is asked: of the record nothing that stands beside the log, and the prior of the kind of vehicle: that
 * of a group was fitted to what came later.
 */
export function replayRequest(record: AssessedRecord, as_of: string): ReplayRequest {
  const { vehicle, log, logged, assumptions } = unpricedRequest(record, as_of);
  return { as_of, vehicle, log, logged, assumptions };
}

/** Of all that the predictions rest on; the day alone changes none that has come. */
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
  // One entry is no charge with something after it.
  if ((request.log ?? []).length < 2) return [];
  const kept = await store.predictions.ofVehicle(record.vehicle.id, await hashOf(request));
  return kept ?? model.replayed(request);
}
