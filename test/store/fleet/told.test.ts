import { describe, expect, test } from "vitest";
import type { Sql } from "../../../src/store/sql.ts";
import type { WorkspaceStore } from "../../../src/store/workspace-store.ts";
import { engines } from "../engines.ts";
import { AS_OF, FleetDatabase, reckoned } from "./fleet-database.ts";

async function told(sql: Sql, { workspaceId }: WorkspaceStore) {
  const rows = await sql.all<{ body: string }>(
    "SELECT body FROM webhook_messages WHERE workspace_id = ? ORDER BY created_at, id",
    [workspaceId],
  );
  return rows.map(({ body }) => JSON.parse(body) as { event: string; at: string; fleet: Told });
}

interface Told {
  first: number;
  changed: number;
  changes: { vehicle_id: string; recommendation: object; watch_month: object }[];
}

describe.each(engines)("what other programs are told of a fleet, on $name", ({ start }) => {
  const database = new FleetDatabase(start);

  test("one message a run: first answers are counted, changes are listed once", async () => {
    const store = await database.newFleet(12);
    await store.webhooks.save("https://fleet.example/messages", 0);
    await reckoned(store);
    const [first] = await told(database.sql, store);
    expect(first).toMatchObject({ event: "fleet.answers-changed", fleet: { first: 12, changed: 0, changes: [] } });
    await reckoned(store);
    expect(await told(database.sql, store)).toHaveLength(1);

    // A repair that the answers did not know of: nothing is recommended as before.
    const { items } = await store.fleet.told({ limit: 50, after: null });
    const meant = items.find(({ answer }) => answer?.verdict === "repair") ?? items[0]!;
    await store.chargeLog.add(meant.id, { date: AS_OF, repair: "hose", finish: "weighed", cooling: "weak" });
    await reckoned(store);
    const news = (await told(database.sql, store)).slice(1);
    expect(news).toHaveLength(1);
    const { fleet, at } = news[0]!;
    const now = await store.fleet.told({ limit: 50, after: null, changed_since: at });
    expect(fleet).toMatchObject({ first: 0, changed: now.items.length });
    const of_it = now.items.find(({ id }) => id === meant.id)!.answer!;
    expect(fleet.changes.find(({ vehicle_id }) => vehicle_id === meant.id)).toEqual({
      vehicle_id: meant.id,
      recommendation: { before: meant.answer!.verdict, now: of_it.verdict },
      watch_month: { before: meant.answer!.watch_month, now: of_it.watch_month },
    });
  });

  test("without a webhook nothing waits, and what changed can be asked for", async () => {
    const store = await database.newFleet(3);
    await reckoned(store);
    expect(await told(database.sql, store)).toEqual([]);
    const [one] = (await store.fleet.told({ limit: 1, after: null })).items;
    expect(one!.answer!.changed_at).not.toBeNull();
    expect((await store.fleet.told({ limit: 5, after: null, changed_since: "2999-01-01" })).items).toEqual([]);
  });

  test("pages go by id: what is added or renamed meanwhile moves nothing", async () => {
    const store = await database.newFleet(9);
    const before = (await store.fleet.told({ limit: 50, after: null })).items.map(({ id }) => id);
    const seen: string[] = [];
    let after: string | null = null;
    do {
      const page = await store.fleet.told({ limit: 2, after });
      seen.push(...page.items.map(({ id }) => id));
      if (seen.length === 4) {
        const renamed = await store.vehicles.get(before.at(-1)!);
        await store.vehicles.update(renamed.id, 1, { ...renamed, label: "AAA" });
        await store.fleetImport.add([
          { ...renamed, key: "aab", id: null, label: "AAB", entries: [] },
          { ...renamed, key: "zzz", id: null, label: "ZZZ", entries: [] },
        ]);
      }
      after = page.next === null ? null : (JSON.parse(page.next)[0] as string);
    } while (after !== null);
    expect(seen.filter((id) => before.includes(id))).toEqual(before);
  });
});
