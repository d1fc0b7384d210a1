import { join } from "node:path";
import { createTestHarness } from "wrangler";
import { placeOf } from "../../src/object-place.ts";
import { RemoteSql } from "../../src/store/object-sql.ts";
import type { Sql } from "../../src/store/sql.ts";
import type { Bindings } from "../../src/worker-app.ts";
import { once } from "./once.ts";
import { ROOT } from "./paths.ts";

/** The Worker as it is deployed, in the real runtime, once for all test files of a process. */
export const theWorker = once(async () => {
  const harness = createTestHarness({ workers: [{ configPath: join(ROOT, "wrangler.toml") }] });
  const { url } = await harness.listen();
  return { harness, url, close: () => harness.close() };
});

export async function bindings(): Promise<Bindings> {
  return (await theWorker()).harness.getWorker<Bindings>().getEnv();
}

/** The records of a new object, asked from outside. */
export async function newObject(): Promise<Sql> {
  const { WORKSPACES } = await bindings();
  const id = WORKSPACES.newUniqueId();
  return new RemoteSql(WORKSPACES.get(id), placeOf(id.toString()));
}
