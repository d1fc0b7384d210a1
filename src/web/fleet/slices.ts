import type { AssessedRecord } from "../../store/vehicle-record.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import type { Model } from "../edge/model.ts";

/** What the slices of a fleet's work have in common. */

/** Whose fleet it is, and what computes it. */
export interface Reckoner {
  store: WorkspaceStore;
  model: Model;
}

/** Vehicles that a thread is given at a time: some ten milliseconds of work, so that threads end together. */
const PORTION = 4;

/** The tasks whose vehicle is still here, each with its record. */
export async function recordsOf<Task extends { vehicle_id: string }>(
  store: WorkspaceStore,
  tasks: readonly Task[],
): Promise<[task: Task, record: AssessedRecord][]> {
  const records = await store.records(tasks.map(({ vehicle_id }) => vehicle_id));
  const by_id = new Map(records.map((record) => [record.vehicle.id, record]));
  return tasks.flatMap((task) => {
    const record = by_id.get(task.vehicle_id);
    return record === undefined ? [] : [[task, record] as [Task, AssessedRecord]];
  });
}

/** `compute` of everything asked, a portion at a time for each that is computed side by side; in the same order. */
export async function inPortions<Asked, Said>(
  asked: readonly Asked[],
  { side_by_side }: Pick<Model, "side_by_side">,
  compute: (portion: readonly Asked[]) => Promise<Said[]>,
): Promise<Said[]> {
  const size = side_by_side === 1 ? Math.max(1, asked.length) : PORTION;
  const portions: Promise<Said[]>[] = [];
  for (let from = 0; from < asked.length; from += size) portions.push(compute(asked.slice(from, from + size)));
  return (await Promise.all(portions)).flat();
}
