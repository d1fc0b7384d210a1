import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import type { AssessAnswer, AssessRequest } from "../../src/core/question/contract.ts";
import type { Role } from "../../src/store/roles.ts";
import type { Sql } from "../../src/store/sql.ts";
import { assessRequestOf } from "../../src/store/vehicle-record.ts";
import { type WorkspaceStore, workspaceStore } from "../../src/store/workspace-store.ts";
import {
  createWorkspace,
  DEFAULT_SETTINGS,
  ensureLocalWorkspace,
  LOCAL_WORKSPACE,
  type Settings,
} from "../../src/store/workspaces.ts";
import { engines, newStore, random, testClock } from "./engines.ts";
import { CAN, DYE_CLEAN, READ_LOW, TRUCK, VAN } from "./samples.ts";

/** Stands for the model: what it computes is not the store's business. */
const anAnswer = { as_of: "2026-05-01" } as AssessAnswer;
const aQuestion: AssessRequest = { as_of: "2026-05-01", vehicle: { refrigerant: "R-134a", nameplate_g: 650 } };

/** Ids of things in one workspace, to be tried from another. */
interface Ids {
  vehicle: string;
  entry: string;
  finding: string;
  readings: string;
  note: string;
  key: string;
}

/** Every method of the store that takes an id. */
const BY_ID: [name: string, call: (store: WorkspaceStore, ids: Ids) => Promise<unknown>][] = [
  ["record", (store, { vehicle }) => store.record(vehicle)],
  ["recordStamp", (store, { vehicle }) => store.recordStamp(vehicle)],
  ["vehicles.get", (store, { vehicle }) => store.vehicles.get(vehicle)],
  ["vehicles.update", (store, { vehicle }) => store.vehicles.update(vehicle, 1, TRUCK)],
  ["vehicles.update with a key", (store, { vehicle }) => store.vehicles.update(vehicle, 1, TRUCK, "k1")],
  ["vehicles.archive", (store, { vehicle }) => store.vehicles.archive(vehicle, 1)],
  ["vehicles.unarchive", (store, { vehicle }) => store.vehicles.unarchive(vehicle, 1)],
  ["chargeLog.list", (store, { vehicle }) => store.chargeLog.list(vehicle)],
  ["chargeLog.history", (store, { vehicle }) => store.chargeLog.history(vehicle)],
  ["chargeLog.add", (store, { vehicle }) => store.chargeLog.add(vehicle, CAN)],
  ["chargeLog.add with a key", (store, { vehicle }) => store.chargeLog.add(vehicle, CAN, "k2")],
  ["chargeLog.get", (store, { entry }) => store.chargeLog.get(entry)],
  ["chargeLog.versions", (store, { entry }) => store.chargeLog.versions(entry)],
  ["chargeLog.correct", (store, { entry }) => store.chargeLog.correct(entry, 1, { ...CAN, added_g: 1 })],
  ["chargeLog.remove", (store, { entry }) => store.chargeLog.remove(entry, 1)],
  ["chargeLog.undo", (store, { entry }) => store.chargeLog.undo(entry, 1)],
  ["findings.list", (store, { vehicle }) => store.findings.list(vehicle)],
  ["findings.history", (store, { vehicle }) => store.findings.history(vehicle)],
  ["findings.add", (store, { vehicle }) => store.findings.add(vehicle, DYE_CLEAN)],
  ["findings.get", (store, { finding }) => store.findings.get(finding)],
  ["findings.versions", (store, { finding }) => store.findings.versions(finding)],
  ["findings.correct", (store, { finding }) => store.findings.correct(finding, 1, { ...DYE_CLEAN, test: "visual" })],
  ["findings.remove", (store, { finding }) => store.findings.remove(finding, 1)],
  ["findings.undo", (store, { finding }) => store.findings.undo(finding, 1)],
  ["readings.list", (store, { vehicle }) => store.readings.list(vehicle)],
  ["readings.history", (store, { vehicle }) => store.readings.history(vehicle)],
  ["readings.add", (store, { vehicle }) => store.readings.add(vehicle, READ_LOW)],
  ["readings.get", (store, { readings }) => store.readings.get(readings)],
  ["readings.versions", (store, { readings }) => store.readings.versions(readings)],
  ["readings.correct", (store, { readings }) => store.readings.correct(readings, 1, { ...READ_LOW, vent_c: 1 })],
  ["readings.remove", (store, { readings }) => store.readings.remove(readings, 1)],
  ["readings.undo", (store, { readings }) => store.readings.undo(readings, 1)],
  ["notes.list", (store, { vehicle }) => store.notes.list(vehicle)],
  ["notes.history", (store, { vehicle }) => store.notes.history(vehicle)],
  ["notes.add", (store, { vehicle }) => store.notes.add(vehicle, { body: "x" })],
  ["notes.get", (store, { note }) => store.notes.get(note)],
  ["notes.versions", (store, { note }) => store.notes.versions(note)],
  ["notes.correct", (store, { note }) => store.notes.correct(note, 1, { body: "y" })],
  ["notes.remove", (store, { note }) => store.notes.remove(note, 1)],
  ["notes.undo", (store, { note }) => store.notes.undo(note, 1)],
  ["assessments.answer", (store, { vehicle }) => store.assessments.answer(vehicle, aQuestion, "1", () => anAnswer)],
  ["accessKeys.revoke", (store, { key }) => store.accessKeys.revoke(key)],
];

/** Every method of the store that changes records, and the role that it takes. */
const CHANGING: [name: string, needed: Role, call: (store: WorkspaceStore, ids: Ids) => Promise<unknown>][] = [
  ["settings.update", "editor", (store) => store.settings.update(DEFAULT_SETTINGS, 1)],
  ["vehicles.create", "editor", (store) => store.vehicles.create(VAN)],
  ["vehicles.deleteExamples", "editor", (store) => store.vehicles.deleteExamples()],
  ["transfer.import", "editor", async (store) => store.transfer.import(await store.transfer.export())],
  ["accessKeys.list", "owner", (store) => store.accessKeys.list()],
  ["accessKeys.create", "owner", (store) => store.accessKeys.create("api", "viewer", "x")],
  ["accessKeys.revoke", "owner", (store, { key }) => store.accessKeys.revoke(key)],
  ...BY_ID.filter(([name]) => /\.(?:add|correct|remove|undo|update|archive|unarchive)\b/.test(name)).map(
    ([name, call]): [string, Role, typeof call] => [name, "editor", call],
  ),
];

describe.each(engines)("a workspace on $name", ({ start }) => {
  let sql: Sql;
  let close: () => Promise<void>;
  beforeAll(async () => {
    ({ sql, close } = await start());
  });
  afterAll(() => close());

  async function storeWithRecords(): Promise<{ store: WorkspaceStore; ids: Ids }> {
    const store = await newStore(sql);
    const records = {
      charge_log: [CAN],
      findings: [DYE_CLEAN],
      readings: [READ_LOW],
      notes: [{ body: "mine" }],
    };
    const { id: vehicle } = await store.vehicles.create(VAN, records);
    const { charge_log, findings, readings, notes } = await store.record(vehicle);
    const { id: key } = await store.accessKeys.create("api", "editor", "laptop");
    const [entry, finding, read, note] = [charge_log[0]!.id, findings[0]!.id, readings[0]!.id, notes[0]!.id];
    return { store, ids: { vehicle, entry, finding, readings: read, note, key } };
  }

  describe("from another workspace", () => {
    test("the table of methods by id leaves none out", async () => {
      const store = await newStore(sql);
      const named = new Set([...BY_ID, ...CHANGING].map(([name]) => name.split(" ")[0]));
      const others = [
        "vehicles.list",
        "vehicles.count",
        "vehicles.hasExamples",
        "settings.get",
        "assessments.answers",
        "transfer.export",
        "transfer.charges",
      ];
      const parts = [
        "settings",
        "vehicles",
        "chargeLog",
        "findings",
        "readings",
        "notes",
        "assessments",
        "accessKeys",
        "transfer",
      ] as const;
      const methods = parts.flatMap((part) =>
        Object.getOwnPropertyNames(Object.getPrototypeOf(store[part])).map((method) => `${part}.${method}`),
      );
      const statements = /\.(?:constructor|(?:listing|reading)(?:OfSeveral)?|addition)$/;
      expect(methods.filter((name) => !statements.test(name) && !named.has(name) && !others.includes(name))).toEqual(
        [],
      );
    });

    test("every method with a guessed id finds nothing and changes nothing", async () => {
      const { store, ids } = await storeWithRecords();
      const before = await store.transfer.export();
      const stranger = await newStore(sql);
      for (const [name, call] of BY_ID)
        await expect(call(stranger, ids), name).rejects.toMatchObject({ code: "not-found" });
      const after = await store.transfer.export();
      expect({ ...after, exported_at: "" }).toEqual({ ...before, exported_at: "" });
      expect(await stranger.vehicles.count()).toBe(0);
      expect((await store.accessKeys.list()).filter(({ revoked_at }) => revoked_at !== null)).toEqual([]);
    });

    test("lists, search, export and keys show nothing of it", async () => {
      const { ids } = await storeWithRecords();
      const stranger = await newStore(sql);
      expect(await stranger.records([ids.vehicle])).toEqual([]);
      expect(await stranger.vehicles.hasExamples()).toBe(false);
      expect((await stranger.vehicles.list({ search: "mine" })).items).toEqual([]);
      expect(await stranger.transfer.export()).toMatchObject({ vehicles: [], charge_log: [], findings: [], notes: [] });
      expect(await stranger.transfer.charges()).toEqual([]);
      expect(await stranger.accessKeys.list()).toEqual([]);
    });
  });

  describe.each<Role>(["viewer", "editor"])("as %s", (role) => {
    test("everything can be read, and what takes more is refused without a change", async () => {
      const { store, ids } = await storeWithRecords();
      const { workspaceId } = store;
      const restricted = workspaceStore({ sql, workspaceId, role, actor: role, now: testClock(), random });
      const before = await store.transfer.export();
      for (const [name, needed, call] of CHANGING) {
        if (role === needed) continue;
        if (role === "editor" && needed === "editor") continue;
        await expect(call(restricted, ids), name).rejects.toMatchObject({ code: "forbidden" });
      }
      expect({ ...(await store.transfer.export()), exported_at: "" }).toEqual({ ...before, exported_at: "" });
      expect((await restricted.record(ids.vehicle)).vehicle.label).toBe(VAN.label);
    });
  });

  describe("settings", () => {
    const changed: Settings = {
      name: "Workshop",
      mass_unit: "lb-oz",
      temperature_unit: "C",
      pressure_unit: "bar-gauge",
      currency: "EUR",
      place: "eu",
      climate: "hot-desert",
      monthly_mean_c: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12],
      time_zone: "Europe/Lisbon",
      plan: { keep_years: 4 },
      prices: { can_price: 3 },
      assumptions: { heel: 0.2 },
    };

    test("update puts all in place of all", async () => {
      const store = await newStore(sql);
      const { workspaceId: workspace_id } = store;
      expect(await store.settings.get()).toMatchObject({ ...DEFAULT_SETTINGS, workspace_id, version: 1 });
      const updated = await store.settings.update(changed, 1);
      expect(updated).toMatchObject({ ...changed, workspace_id, version: 2, updated_by: "tester" });
      expect(await store.settings.get()).toEqual(updated);
    });

    test("of two tabs, the second is told what the first set", async () => {
      const store = await newStore(sql);
      const first = await store.settings.update(changed, 1);
      await expect(store.settings.update(DEFAULT_SETTINGS, 1)).rejects.toMatchObject({
        code: "changed",
        current: first,
      });
    });

    test("a double click sets once", async () => {
      const store = await newStore(sql);
      const [first, second] = await Promise.all([1, 2].map(() => store.settings.update(changed, 1, "key")));
      expect(first!.version).toBe(2);
      expect(second).toEqual(first);
    });

    test("the local workspace is made once, and stays as it was set", async () => {
      const now = testClock();
      await ensureLocalWorkspace({ sql, now, settings: { time_zone: "America/Chicago" } });
      const store = workspaceStore({ sql, workspaceId: LOCAL_WORKSPACE, role: "owner", actor: "local", now, random });
      expect(await store.settings.get()).toMatchObject({ time_zone: "America/Chicago", version: 1 });
      await store.settings.update(changed, 1);
      await ensureLocalWorkspace({ sql, now });
      expect(await store.settings.get()).toMatchObject(changed);
    });

    test("a workspace that does not exist has no settings", async () => {
      const store = workspaceStore({ sql, workspaceId: "none", role: "owner", actor: "x", now: testClock(), random });
      await expect(store.settings.get()).rejects.toMatchObject({ code: "not-found" });
    });

    test("two new workspaces have ids of their own", async () => {
      const make = () => createWorkspace({ sql, now: testClock(), random });
      expect(await make()).not.toBe(await make());
    });
  });

  describe("assessments.answer", () => {
    test("computes once for one question and one model, again for another of either", async () => {
      const store = await newStore(sql);
      const { id } = await store.vehicles.create(VAN);
      const assess = vi.fn(() => anAnswer);
      const later = { ...aQuestion, as_of: "2026-05-02" };
      expect(await store.assessments.answer(id, aQuestion, "1", assess)).toEqual(anAnswer);
      expect(await store.assessments.answer(id, { ...aQuestion }, "1", assess)).toEqual(anAnswer);
      expect(assess).toHaveBeenCalledTimes(1);
      await store.assessments.answer(id, later, "1", assess);
      await store.assessments.answer(id, aQuestion, "2", assess);
      expect(assess).toHaveBeenCalledTimes(3);
    });

    test("the order of fields in a question makes no difference", async () => {
      const store = await newStore(sql);
      const { id } = await store.vehicles.create(VAN);
      const assess = vi.fn(() => anAnswer);
      await store.assessments.answer(id, aQuestion, "1", assess);
      const { as_of, vehicle } = aQuestion;
      const { refrigerant, nameplate_g } = vehicle;
      await store.assessments.answer(id, { vehicle: { nameplate_g, refrigerant }, as_of }, "1", assess);
      expect(assess).toHaveBeenCalledTimes(1);
    });

    test("keeps the latest few of a vehicle, so that years of days do not pile up", async () => {
      const store = await newStore(sql);
      const { id } = await store.vehicles.create(VAN);
      for (let day = 10; day < 20; day += 1)
        await store.assessments.answer(id, { ...aQuestion, as_of: `2026-05-${day}` }, "1", () => anAnswer);
      const [row] = await sql.all<{ n: number }>("SELECT count(*) AS n FROM assessments WHERE vehicle_id = ?", [id]);
      expect(row!.n).toBe(5);
      const assess = vi.fn(() => anAnswer);
      await store.assessments.answer(id, { ...aQuestion, as_of: "2026-05-19" }, "1", assess);
      expect(assess).not.toHaveBeenCalled();
    });
  });

  describe("assessments.answers", () => {
    test("gives the kept ones and computes the rest, in the order asked", async () => {
      const store = await newStore(sql);
      const ids = await Promise.all(
        Array.from({ length: 12 }, async (_, i) => (await store.vehicles.create({ ...VAN, label: `Van ${i}` })).id),
      );
      const asked = ids.map((vehicle_id, i) => ({
        vehicle_id,
        request: { ...aQuestion, vehicle: { ...aQuestion.vehicle, nameplate_g: 600 + i } },
      }));
      const assess = vi.fn(({ vehicle }: AssessRequest) => ({ as_of: `${vehicle.nameplate_g}` }) as AssessAnswer);
      await store.assessments.answers(asked.slice(5), "1", assess);
      expect(assess).toHaveBeenCalledTimes(7);
      const answers = await store.assessments.answers(asked, "1", assess);
      expect(assess).toHaveBeenCalledTimes(12);
      expect(answers.map(({ as_of }) => Number(as_of))).toEqual(ids.map((_, i) => 600 + i));
      expect(await store.assessments.answer(ids[0]!, asked[0]!.request, "1", assess)).toEqual({ as_of: "600" });
      expect(assess).toHaveBeenCalledTimes(12);
      expect(await store.assessments.answers([], "1", assess)).toEqual([]);
    });

    test("keeps nothing under a vehicle of another workspace", async () => {
      const { ids } = await storeWithRecords();
      const stranger = await newStore(sql);
      const asked = [{ vehicle_id: ids.vehicle, request: aQuestion }];
      expect(await stranger.assessments.answers(asked, "1", () => anAnswer)).toEqual([anAnswer]);
      expect(await sql.all("SELECT 1 FROM assessments WHERE workspace_id = ?", [stranger.workspaceId])).toEqual([]);
    });
  });

  describe("records", () => {
    test("are those of record, in the order asked, without what is not there", async () => {
      const { store, ids } = await storeWithRecords();
      const { id: truck } = await store.vehicles.create(TRUCK, { charge_log: [CAN, { ...CAN, date: "2020-01-01" }] });
      const expected = await Promise.all(
        [truck, ids.vehicle].map(async (id) => {
          const { notes: _, ...record } = await store.record(id);
          return record;
        }),
      );
      expect(await store.records([truck, "nowhere", ids.vehicle])).toEqual(expected);
      expect(await store.records([])).toEqual([]);
    });
  });

  describe("recordStamp", () => {
    test("is the same until something of the record changes", async () => {
      const { store, ids } = await storeWithRecords();
      const { id: other } = await store.vehicles.create(VAN);
      const stamps = new Set([(await store.recordStamp(ids.vehicle)).stamp]);
      await store.chargeLog.add(other, CAN);
      stamps.add((await store.recordStamp(ids.vehicle)).stamp);
      expect(stamps.size).toBe(1);
      const changes = [
        () => store.chargeLog.correct(ids.entry, 1, { ...CAN, added_g: 300 }),
        () => store.chargeLog.undo(ids.entry, 2),
        () => store.findings.remove(ids.finding, 1),
        () => store.readings.remove(ids.readings, 1),
        () => store.notes.add(ids.vehicle, { body: "x" }),
        () => store.vehicles.archive(ids.vehicle, 1),
        () => store.settings.update({ ...DEFAULT_SETTINGS, mass_unit: "g" }, 1),
      ];
      for (const [i, change] of changes.entries()) {
        await change();
        stamps.add((await store.recordStamp(ids.vehicle)).stamp);
        expect(stamps.size, String(change)).toBe(i + 2);
      }
    });
  });

  describe("assessRequestOf", () => {
    const noClimate = () => null;

    test("takes the vehicle's own numbers before those of the workspace", async () => {
      const store = await newStore(sql);
      await store.settings.update(
        {
          ...DEFAULT_SETTINGS,
          plan: { keep_years: 9, service: "shop" },
          prices: { locate_fee: 50, can_price: 1, locations: { hose: { holds: 0.5, price: 1 }, joint: { price: 2 } } },
          assumptions: { heel: 0.4, discount: 0.01 },
        },
        1,
      );
      const truck = await store.vehicles.create(TRUCK);
      const request = assessRequestOf(await store.record(truck.id), "2026-05-01", noClimate);
      expect(request).toEqual({
        as_of: "2026-05-01",
        vehicle: {
          refrigerant: "R-1234yf",
          nameplate_g: 1234.5,
          kind: "heavy-vehicle",
          monthly_mean_c: TRUCK.monthly_mean_c,
        },
        log: [],
        findings: [],
        plan: { keep_years: 3, service: "shop", tools_owned: true, barred: ["top-off"] },
        prices: {
          locate_fee: 50,
          can_price: 14.5,
          locations: { joint: { price: 2 }, hose: { holds: 0.5, price: 410 } },
        },
        assumptions: { heel: 0.05, discount: 0.01 },
      });
    });

    test("looks for the climate at the vehicle first, then at the workspace", async () => {
      const climateMeans = (climate: string) => Array.from({ length: 12 }, () => climate.length);
      const store = await newStore(sql);
      const { id } = await store.vehicles.create(VAN);
      const means = async () =>
        assessRequestOf(await store.record(id), "2026-05-01", climateMeans).vehicle.monthly_mean_c?.[0] ?? null;
      expect(await means()).toBeNull();
      await store.settings.update({ ...DEFAULT_SETTINGS, climate: "abc" }, 1);
      expect(await means()).toBe(3);
      await store.vehicles.update(id, 1, { ...VAN, climate: "abcde" });
      expect(await means()).toBe(5);
    });

    // Low and high side 204.7 and 928.7 kPa absolute, 15 and 120 psi at sea level, on a day of 85 °F: low/low is
    // undercharge (trade training text T-22/8).
    test("readings of the last two weeks say whether it is low, until something is added or they get old", async () => {
      const store = await newStore(sql);
      const { id } = await store.vehicles.create({ ...VAN, plan: { readings: "not-low" } });
      const says = async (as_of: string) =>
        assessRequestOf(await store.record(id), as_of, noClimate).plan?.readings ?? null;
      expect(await says("2026-04-28")).toBe("not-low");
      await store.readings.add(id, READ_LOW);
      expect(await says("2026-04-27")).toBe("not-low");
      expect(await says("2026-04-28")).toBe("low");
      expect(await says("2026-05-12")).toBe("low");
      expect(await says("2026-05-13")).toBe("not-low");
      await store.chargeLog.add(id, { date: "2026-04-30", cooling: "weak" });
      expect(await says("2026-05-01")).toBe("low");
      await store.chargeLog.add(id, { date: "2026-05-01", added_g: 300 });
      expect(await says("2026-04-30")).toBe("low");
      expect(await says("2026-05-01")).toBe("not-low");
    });

    test("takes how it cooled when all was done as a look of its own, after the entry", async () => {
      const store = await newStore(sql);
      const { id } = await store.vehicles.create(VAN, { charge_log: [{ ...CAN, cooling_after: "ok" }, CAN] });
      const { log } = assessRequestOf(await store.record(id), "2026-05-01", noClimate);
      expect(log!.map(({ cooling, added_g = null }) => [cooling, added_g])).toEqual([
        ["weak", 340],
        ["ok", null],
        ["weak", 340],
      ]);
    });

    test("of the log takes the days up to the question's, and what the model takes at most", async () => {
      const store = await newStore(sql);
      const days = Array.from({ length: 205 }, (_, i) => new Date(Date.UTC(2020, 0, 1 + i)).toISOString().slice(0, 10));
      const charge_log = days.map((date) => ({ date, cooling: "ok" as const, note: "seen" }));
      const { id } = await store.vehicles.create(VAN, { charge_log, findings: [DYE_CLEAN] });
      const record = await store.record(id);
      const all = assessRequestOf(record, "2026-05-01", noClimate);
      expect(all.log).toHaveLength(200);
      expect(all.log![0]).toEqual({
        date: days[5],
        cooling: "ok",
        recovered_g: null,
        added_g: null,
        added_by: null,
        finish: null,
        repair: null,
      });
      expect(all.findings).toEqual([DYE_CLEAN]);
      const early = assessRequestOf(record, "2020-01-03", noClimate);
      expect(early.log!.map(({ date }) => date)).toEqual(["2020-01-01", "2020-01-02", "2020-01-03"]);
      expect(early.findings).toEqual([]);
      expect(assessRequestOf(record, "2060-01-02", noClimate).log).toHaveLength(200);
      expect(assessRequestOf(record, "2060-06-02", noClimate).log![0]!.date).toBe("2020-06-02");
    });
  });
});
