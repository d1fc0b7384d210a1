import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { eraseWorkspace } from "../../src/store/erase-workspace.ts";
import type { Sql } from "../../src/store/sql.ts";
import { engines, newStore } from "./engines.ts";
import { CAN, VAN } from "./samples.ts";

describe.each(engines)("erasing a workspace on $name", ({ name: engine, start }) => {
  let sql: Sql;
  let close: () => Promise<void>;
  beforeAll(async () => {
    ({ sql, close } = await start());
  });
  afterAll(() => close());

  async function filled() {
    const store = await newStore(sql);
    const { id } = await store.vehicles.create(VAN);
    await store.chargeLog.add(id, CAN);
    await store.notes.add(id, { body: "Rattles" });
    await store.accessKeys.create("link", "owner", "phone");
    return { store, id };
  }

  /** Every table of the schema with a workspace, and how many rows of this one it holds. */
  async function rowsOf(workspace_id: string) {
    const tables = await sql.all<{ name: string }>(
      `SELECT t.name FROM sqlite_schema AS t WHERE t.type = 'table'
       AND t.name NOT GLOB '_cf_*'
       AND EXISTS (SELECT 1 FROM pragma_table_info(t.name) WHERE name = 'workspace_id')`,
    );
    // An object has only those to which something may have been written.
    expect(tables.length).toBeGreaterThan(engine === "node:sqlite" ? 25 : 10);
    const counts = await sql.batch(
      tables.map(({ name }) => ({
        sql: `SELECT count(*) AS n FROM ${name} WHERE workspace_id = ?`,
        params: [workspace_id],
      })),
    );
    return counts.reduce((sum, [row]) => sum + Number(row!.n), 0);
  }

  test("leaves no row of it, and every row of another", async () => {
    const [gone, stays] = [await filled(), await filled()];
    const before = await rowsOf(stays.store.workspaceId);
    expect(await rowsOf(gone.store.workspaceId)).toBe(before);
    await eraseWorkspace(sql, gone.store.workspaceId);
    expect([await rowsOf(gone.store.workspaceId), await rowsOf(stays.store.workspaceId)]).toEqual([0, before]);
    expect((await stays.store.record(stays.id)).charge_log).toHaveLength(1);
  });

  test("leaves the rules of the schema as they were", async () => {
    const schema = () => sql.all("SELECT type, name, tbl_name, sql FROM sqlite_schema ORDER BY type, name");
    const { store, id } = await filled();
    const before = await schema();
    await eraseWorkspace(sql, (await filled()).store.workspaceId);
    expect(await schema()).toEqual(before);
    await expect(
      sql.all("DELETE FROM charge_log WHERE workspace_id = ? AND vehicle_id = ?", [store.workspaceId, id]),
    ).rejects.toThrow("only an example can be deleted");
  });
});
