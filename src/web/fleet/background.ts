import { unfinishedFleets } from "../../store/fleet-reckoning.ts";
import { unfinishedPredictions } from "../../store/predictions.ts";
import type { Sql } from "../../store/sql.ts";
import { type WorkspaceStore, workspaceStore } from "../../store/workspace-store.ts";
import type { Workspace } from "../../store/workspaces.ts";
import type { Deps } from "../edge/deps.ts";
import type { Model } from "../edge/model.ts";
import { todayIn } from "../workspace.ts";
import { freshFrom, reckonSlice } from "./reckoning.ts";

/** Vehicles computed between other requests where that is done in place: some 50 ms. */
const SLICE_IN_BACKGROUND = 12;
/** Vehicles for each thread: reading and storing them takes some ten milliseconds, in which the threads rest. */
const SLICE_OF_A_THREAD = 24;
/** Vehicles per progress request, on a runtime without background work. */
const SLICE_IN_REQUEST = 12;

/** Starts computing what is new, changed or outdated. */
export async function beginReckoning(
  deps: Pick<Deps, "keepWorking" | "model" | "now">,
  store: WorkspaceStore,
  workspace: Pick<Workspace, "time_zone">,
): Promise<void> {
  const today = todayIn(workspace, deps.now());
  await store.reckoning.begin(today, freshFrom(today));
  await workOnFleet(deps, store);
}

/** Continues a run: in the background or, where there is none, by one slice now. */
export async function workOnFleet(
  { keepWorking, model }: Pick<Deps, "keepWorking" | "model">,
  store: WorkspaceStore,
): Promise<void> {
  if (keepWorking === null) await reckonSlice({ store, model }, SLICE_IN_REQUEST);
  else keepWorking(`fleet ${store.workspaceId}`, () => reckonSlice({ store, model }, sliceOf(model)));
}

/**
 * Vehicles computed between other requests.
 *
 * @internal Called from outside by the bench alone.
 */
export function sliceOf({ side_by_side }: Pick<Model, "side_by_side">): number {
  return side_by_side === 1 ? SLICE_IN_BACKGROUND : side_by_side * SLICE_OF_A_THREAD;
}

/** After a start, resumes the runs that the stop interrupted. */
export async function resumeFleets(
  deps: Pick<Deps, "now" | "random" | "keepWorking" | "model">,
  sql: Sql,
): Promise<void> {
  for (const store of await unfinishedStores(deps, sql)) await workOnFleet(deps, store);
}

/** Computes one slice of each run. False when none is left. */
export async function workOnce(deps: Pick<Deps, "now" | "random" | "model">, sql: Sql): Promise<boolean> {
  const { model } = deps;
  let more = false;
  for (const store of await unfinishedStores(deps, sql))
    more = (await reckonSlice({ store, model }, SLICE_IN_BACKGROUND)) || more;
  return more;
}

async function unfinishedStores({ now, random }: Pick<Deps, "now" | "random">, sql: Sql): Promise<WorkspaceStore[]> {
  return (await unfinishedWork(sql)).map((workspaceId) =>
    workspaceStore({ sql, workspaceId, role: "editor", actor: "reckoning", now, random }),
  );
}

/** Workspaces with a fleet's run that is not at its end, or with past charges still to be predicted. */
export async function unfinishedWork(sql: Sql): Promise<string[]> {
  return [...new Set([...(await unfinishedFleets(sql)), ...(await unfinishedPredictions(sql))])];
}
