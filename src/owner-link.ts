/**
 * `npm run owner-link`: a fresh owner's link into the records of this machine, for an owner who has lost every other
 * way in. Whoever may run commands on the machine may read its records anyway.
 */
import { join, resolve } from "node:path";
import { configFrom } from "./config.ts";
import { Problem } from "./core/problem.ts";
import { DATABASE_FILE, openDatabase } from "./store/migrations.ts";
import { workspaceStore } from "./store/workspace-store.ts";
import { ensureLocalWorkspace, LOCAL_WORKSPACE } from "./store/workspaces.ts";

async function ownerLink(): Promise<string> {
  const { data_dir } = configFrom(process.env);
  const sql = await openDatabase(join(resolve(data_dir), DATABASE_FILE));
  try {
    const now = () => new Date();
    const random = (bytes: number) => crypto.getRandomValues(new Uint8Array(bytes));
    await ensureLocalWorkspace({ sql, now });
    const store = workspaceStore({ sql, workspaceId: LOCAL_WORKSPACE, role: "owner", actor: "setup", now, random });
    const { key } = await store.accessKeys.create("link", "owner", "Made on the server");
    return key;
  } finally {
    sql.close();
  }
}

try {
  console.log(`Open this once, over HTTPS and under the name of your server: /access/${await ownerLink()}`);
} catch (error) {
  if (!(error instanceof Problem || error instanceof RangeError)) throw error;
  console.error(error.message);
  process.exitCode = 1;
}
