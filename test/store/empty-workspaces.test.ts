import { addDays } from "date-fns";
import { millisecondsInDay } from "date-fns/constants";
import { expect, test } from "vitest";
import { endEmptyWorkspace } from "../../src/store/empty-workspaces.ts";
import { RemoteSql } from "../../src/store/object-sql.ts";
import { ensureLocalWorkspace, settingsOf } from "../../src/store/workspaces.ts";
import { bindings } from "../support/worker.ts";
import { engines, newStore } from "./engines.ts";
import { VAN } from "./samples.ts";

const BEGUN = new Date("2026-05-01T12:00:00Z");
const at = (days: number) => addDays(BEGUN, days);

test.each(engines)(
  "a workspace in which nothing was kept for a month ends, and no other does: $name",
  async (engine) => {
    const { sql, close } = await engine.start();
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

    expect(await endEmptyWorkspace(sql, at(29), 30)).toBe(false);
    expect(await there()).toEqual(before);
    expect(await endEmptyWorkspace(sql, at(31), 30)).toBe(true);
    expect(await there()).toEqual(before.filter((id) => id !== empty.workspaceId));
    expect(await endEmptyWorkspace(sql, at(31), 30)).toBe(false);
    expect((await priced.settings.get()).name).toBe(settings.name);
    while (await endEmptyWorkspace(sql, at(90), 30));
    expect(new Set(await there())).toEqual(new Set(["local", vehicle.workspaceId, note.workspaceId]));
    await close();
  },
);

test("an object looks by itself whether anything was kept in it, and one that has a vehicle does not", async () => {
  const { WORKSPACES } = await bindings();
  const begun = async () => {
    const object = WORKSPACES.get(WORKSPACES.newUniqueId());
    return { object, store: await newStore(new RemoteSql(object, ""), () => new Date()) };
  };
  const [left, used] = [await begun(), await begun()];
  const in_days = ((await left.object.wakes()) ?? 0) / millisecondsInDay - Date.now() / millisecondsInDay;
  expect(in_days).toBeGreaterThan(29.9);
  expect(in_days).toBeLessThan(30.1);
  const again = await left.object.wakes();
  await left.store.settings.update({ ...settingsOf(await left.store.settings.get()), name: "Garage" }, 1);
  expect(await left.object.wakes()).toBe(again);
  await used.store.vehicles.create(VAN);
  expect(await endEmptyWorkspace(new RemoteSql(used.object, ""), addDays(new Date(), 100), 30)).toBe(false);
  expect(await endEmptyWorkspace(new RemoteSql(left.object, ""), addDays(new Date(), 100), 30)).toBe(true);
});
