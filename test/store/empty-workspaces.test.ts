import { addDays } from "date-fns";
import { expect, test } from "vitest";
import { endEmptyWorkspace } from "../../src/store/empty-workspaces.ts";
import { migrate } from "../../src/store/migrations.ts";
import { NodeSql } from "../../src/store/node-sqlite.ts";
import { ensureLocalWorkspace } from "../../src/store/workspaces.ts";
import { newStore } from "./engines.ts";
import { VAN } from "./samples.ts";

const BEGUN = new Date("2026-05-01T12:00:00Z");
const at = (days: number) => addDays(BEGUN, days);

test("a workspace in which nothing was kept for a month ends, and no other does", async () => {
  const sql = new NodeSql(":memory:");
  await migrate(sql);
  await ensureLocalWorkspace({ sql, now: () => BEGUN });
  const begin = () => newStore(sql, () => BEGUN);
  const [empty, vehicle, note, opened, priced] = [
    await begin(),
    await begin(),
    await begin(),
    await begin(),
    await begin(),
  ];
  await empty.accessKeys.create("link", "owner", "never used");
  await vehicle.vehicles.create(VAN);
  await note.customers.create({ name: "Invented Garage", phone: "", email: "", address: "", note: "" });
  const settings = await priced.settings.get();
  await sql.all("UPDATE workspaces SET updated_at = ? WHERE workspace_id = ? RETURNING workspace_id", [
    at(20).toISOString(),
    priced.workspaceId,
  ]);
  const key = await opened.accessKeys.create("api", "viewer", "a program");
  await sql.all("UPDATE access_keys SET last_used_at = ? WHERE id = ? RETURNING id", [at(25).toISOString(), key.id]);
  const there = async () =>
    (await sql.all<{ workspace_id: string }>("SELECT workspace_id FROM workspaces")).map((row) => row.workspace_id);
  const before = await there();

  expect(await endEmptyWorkspace(sql, at(29))).toBe(false);
  expect(await there()).toEqual(before);
  expect(await endEmptyWorkspace(sql, at(31))).toBe(true);
  expect(await there()).toEqual(before.filter((id) => id !== empty.workspaceId));
  expect(await endEmptyWorkspace(sql, at(31))).toBe(false);
  expect((await priced.settings.get()).name).toBe(settings.name);
  while (await endEmptyWorkspace(sql, at(90)));
  expect(new Set(await there())).toEqual(new Set(["local", vehicle.workspaceId, note.workspaceId]));
  sql.close();
});
