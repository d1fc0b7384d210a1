import { describe, expect, test } from "vitest";
import type { ChargeEntryInput, VehicleInput } from "../../../src/core/question/record.ts";
import type { UpsertCall } from "../../../src/store/upsert-shapes.ts";
import type { WorkspaceStore } from "../../../src/store/workspace-store.ts";
import { Database } from "../database.ts";
import { engines } from "../engines.ts";
import { VAN } from "../samples.ts";

const BUS: Partial<VehicleInput> = { label: "Bus 1", refrigerant: "R-134a", nameplate_g: 4000, depot: "North" };
const WEAK: ChargeEntryInput = { date: "2026-04-20", cooling: "weak", added_g: 900 };

/** A call of one program, with vehicles and events by their external ids. */
function call(
  vehicles: Record<string, Partial<VehicleInput>>,
  events: Record<string, [vehicle: string, entry: ChargeEntryInput]> = {},
  source = "workshop",
): UpsertCall {
  return {
    source,
    vehicles: Object.entries(vehicles).map(([external_id, said]) => ({ item: { external_id, id: null, said } })),
    events: Object.entries(events).map(([external_id, [vehicle, entry]]) => ({
      item: { external_id, vehicle: { external_id: vehicle }, entry },
    })),
  };
}

/** Refuses more than three nameplate charges at once. */
const check = ({ added_g }: ChargeEntryInput, { nameplate_g }: Pick<VehicleInput, "nameplate_g">) =>
  (added_g ?? 0) > 3 * nameplate_g ? [{ path: "added_g", message: "Too much." }] : [];

async function sent(store: WorkspaceStore, what: UpsertCall, key: string | null = null) {
  const { answer } = await store.fleetUpsert.apply(what, check, key);
  return answer;
}

const outcomes = ({ vehicles, events }: Awaited<ReturnType<typeof sent>>) =>
  [...vehicles, ...events].map(({ outcome }) => outcome);

describe.each(engines)("what other programs send of a fleet, on $name", ({ start }) => {
  const database = new Database(start);

  test("is created, then the same, then changed, and an event corrects its entry", async () => {
    const store = await database.newStore();
    const first = await sent(store, call({ b1: BUS }, { w1: ["b1", WEAK] }));
    expect(outcomes(first)).toEqual(["created", "created"]);
    expect(outcomes(await sent(store, call({ b1: BUS }, { w1: ["b1", WEAK] })))).toEqual(["same", "same"]);
    // What is absent stays as it is, and an event may stand without its vehicle.
    const later = await sent(store, call({ b1: { depot: "South" } }, { w1: ["b1", { ...WEAK, added_g: 850 }] }));
    expect(outcomes(later)).toEqual(["changed", "changed"]);
    expect(later.vehicles[0]!.id).toBe(first.vehicles[0]!.id);
    expect(await store.vehicles.get(first.vehicles[0]!.id!)).toMatchObject({ ...BUS, depot: "South", version: 2 });
    const versions = await store.chargeLog.versions(first.events[0]!.id!);
    expect(versions.map(({ change, added_g }) => [change, added_g])).toEqual([
      ["added", 900],
      ["corrected", 850],
    ]);
    expect(outcomes(await sent(store, call({}, { w2: ["b1", { ...WEAK, date: "2026-04-22" }] })))).toEqual(["created"]);
  });

  test("does not take back what somebody corrected or removed here, until the program says something new", async () => {
    const store = await database.newStore();
    const both = call({ b1: BUS }, { w1: ["b1", WEAK], w2: ["b1", { ...WEAK, date: "2026-04-21" }] });
    const { events, vehicles } = await sent(store, both);
    await store.chargeLog.correct(events[0]!.id!, 1, { ...WEAK, added_g: 700 });
    await store.chargeLog.remove(events[1]!.id!, 1);
    await store.vehicles.update(vehicles[0]!.id!, 1, {
      ...(await store.vehicles.get(vehicles[0]!.id!)),
      depot: "East",
    });
    expect(outcomes(await sent(store, both))).toEqual(["same", "same", "same"]);
    expect((await store.vehicles.get(vehicles[0]!.id!)).depot).toBe("East");
    const news = call({}, { w1: ["b1", { ...WEAK, added_g: 600 }], w2: ["b1", { ...WEAK, added_g: 1 }] });
    const answer = await sent(store, news);
    expect(outcomes(answer)).toEqual(["changed", "refused"]);
    expect(answer.events[1]!.issues[0]!.message).toContain("was removed here");
  });

  test("is refused item by item, and no half of one is stored", async () => {
    const store = await database.newStore();
    const answer = await sent(
      store,
      call(
        { b1: BUS, b2: { label: "Bus 2" } },
        {
          good: ["b1", WEAK],
          much: ["b1", { ...WEAK, added_g: 20_000 }],
          lost: ["b2", WEAK],
          unknown: ["b9", WEAK],
        },
      ),
    );
    expect(outcomes(answer)).toEqual(["created", "refused", "created", "refused", "refused", "refused"]);
    expect(answer.vehicles[1]!.issues.map(({ path }) => path)).toEqual(["refrigerant", "nameplate_g"]);
    expect(answer.events.map(({ issues }) => issues.map(({ path }) => path))).toEqual([
      [],
      ["added_g"],
      ["vehicle"],
      ["vehicle"],
    ]);
    expect(await store.vehicles.count()).toBe(1);
    expect(await store.chargeLog.list(answer.vehicles[0]!.id!)).toHaveLength(1);
  });

  test("finds a vehicle that is here by its name, once, and an entry that says the same", async () => {
    const store = await database.newStore();
    const here = await store.vehicles.create({ ...VAN, ...BUS }, { charge_log: [WEAK, WEAK] });
    const two = await sent(
      store,
      call({ b1: { ...BUS, label: "  bus  1" } }, { w1: ["b1", WEAK], w2: ["b1", WEAK], w3: ["b1", WEAK] }),
    );
    expect(two.vehicles[0]).toMatchObject({ outcome: "changed", id: here.id });
    expect(outcomes(two).slice(1)).toEqual(["same", "same", "created"]);
    expect(new Set(two.events.map(({ id }) => id)).size).toBe(3);
    // Another of that name is another vehicle: the first has an id of this source.
    expect((await sent(store, call({ b2: BUS }))).vehicles[0]!.outcome).toBe("created");
    // Another program has ids of its own; of two with one name it has to say which.
    const other = await sent(store, call({ x: { ...BUS, label: "bus 1" } }, {}, "telematics"));
    expect(other.vehicles[0]).toMatchObject({ outcome: "refused", issues: [{ path: "label" }] });
  });

  test("under a key is stored once, and another call under it is refused", async () => {
    const store = await database.newStore();
    const first = await sent(store, call({ b1: BUS }, { w1: ["b1", WEAK] }), "k");
    const again = await store.fleetUpsert.apply(call({ b1: BUS }, { w1: ["b1", WEAK] }), check, "k");
    expect(again).toEqual({ answer: first, repeated: true });
    await expect(sent(store, call({ b1: { depot: "South" } }), "k")).rejects.toMatchObject({ code: "invalid" });
    expect((await store.vehicles.get(first.vehicles[0]!.id!)).version).toBe(1);
    const [one, two] = await Promise.all([
      sent(store, call({ b5: { ...BUS, label: "Bus 5" } }), "k2"),
      sent(store, call({ b5: { ...BUS, label: "Bus 5" } }), "k2"),
    ]);
    expect(one).toEqual(two);
    expect(await store.vehicles.count()).toBe(2);
  });

  test("is of one workspace, and an import is not undone under it", async () => {
    const store = await database.newStore();
    const stranger = await database.newStore();
    const { vehicles } = await sent(store, call({ b1: BUS }));
    const answer = await sent(stranger, {
      source: "workshop",
      vehicles: [{ item: { external_id: "b1", id: vehicles[0]!.id, said: BUS } }],
      events: [{ item: { external_id: "w", vehicle: { id: vehicles[0]!.id! }, entry: WEAK } }],
    });
    expect(outcomes(answer)).toEqual(["refused", "refused"]);
    expect((await store.fleet.told({ limit: 5, after: null })).items[0]!.external_ids).toEqual([
      { source: "workshop", external_id: "b1" },
    ]);
  });
});
