import { afterAll, beforeAll } from "vitest";
import type { Sql } from "../../src/store/sql.ts";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import { newStore } from "./engines.ts";
import { CAN, VAN } from "./samples.ts";

/** The database of an engine, for the `describe` it stands in: `const database = new Database(start)`. */
export class Database {
  sql!: Sql;
  #close!: () => Promise<void>;

  constructor(start: () => Promise<{ sql: Sql; close(): Promise<void> }>) {
    beforeAll(async () => {
      const { sql, close } = await start();
      this.sql = sql;
      this.#close = close;
    });
    afterAll(() => this.#close());
  }

  /** A workspace of its own for one test. */
  newStore(now?: () => Date): Promise<WorkspaceStore> {
    return newStore(this.sql, now);
  }

  /** A van with one entry in its log. */
  async vanWithEntry() {
    const store = await this.newStore();
    const van = await store.vehicles.create(VAN, { charge_log: [CAN] });
    const [line] = await store.chargeLog.list(van.id);
    return { store, van, line: line! };
  }
}
