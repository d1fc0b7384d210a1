import { join } from "node:path";
import { createTestHarness } from "wrangler";
import { placeOf } from "../../src/object-place.ts";
import { RemoteSql } from "../../src/store/object-sql.ts";
import type { Sql } from "../../src/store/sql.ts";
import type { Bindings, WorkspaceStub } from "../../src/worker-app.ts";
import { once } from "./once.ts";
import { ROOT } from "./paths.ts";

export type RunningWorker = Awaited<ReturnType<typeof startWorker>>;

/** The Worker in the real runtime, with some of the settings of `wrangler.toml` changed. */
export async function startWorker(vars: Partial<Record<keyof Bindings, string>> = {}) {
  const harness = createTestHarness({ workers: [{ configPath: join(ROOT, "wrangler.toml"), vars }] });
  const { url } = await harness.listen();
  return { harness, url, close: () => harness.close() };
}

/** The Worker as it is deployed, once for all test files of a process. */
export const theWorker = once(() => startWorker());

export async function bindings(worker?: RunningWorker): Promise<Bindings> {
  return (worker ?? (await theWorker())).harness.getWorker<Bindings>().getEnv();
}

/** The object whose keys begin with `place`, as the Worker reaches it. */
export async function objectAt(place: string, worker?: RunningWorker): Promise<WorkspaceStub> {
  const { WORKSPACES } = await bindings(worker);
  return WORKSPACES.get(WORKSPACES.idFromString(Buffer.from(place, "base64url").toString("hex")));
}

/** The records of a new object, asked from outside. */
export async function newObject(worker?: RunningWorker): Promise<Sql> {
  const { WORKSPACES } = await bindings(worker);
  const id = WORKSPACES.newUniqueId();
  return new RemoteSql(WORKSPACES.get(id), placeOf(id.toString()));
}
