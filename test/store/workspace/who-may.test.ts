import { describe, expect, test } from "vitest";
import type { Role } from "../../../src/store/roles.ts";
import { type WorkspaceStore, workspaceStore } from "../../../src/store/workspace-store.ts";
import { DEFAULT_SETTINGS } from "../../../src/store/workspaces.ts";
import { engines, random, testClock } from "../engines.ts";
import { CAN, DYE_CLEAN, READ_LOW, TRUCK, VAN } from "../samples.ts";
import { anAnswer, aQuestion, type Ids, RecordsDatabase } from "./records-database.ts";

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
  const database = new RecordsDatabase(start);

  describe("from another workspace", () => {
    test("the table of methods by id leaves none out", async () => {
      const store = await database.newStore();
      const named = new Set([...BY_ID, ...CHANGING].map(([name]) => name.split(" ")[0]));
      const others = [
        "vehicles.list",
        "vehicles.count",
        "vehicles.hasExamples",
        "settings.get",
        "assessments.answers",
        "accessKeys.labels",
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
      const { store, ids } = await database.storeWithRecords();
      const before = await store.transfer.export();
      const stranger = await database.newStore();
      for (const [name, call] of BY_ID)
        await expect(call(stranger, ids), name).rejects.toMatchObject({ code: "not-found" });
      const after = await store.transfer.export();
      expect({ ...after, exported_at: "" }).toEqual({ ...before, exported_at: "" });
      expect(await stranger.vehicles.count()).toBe(0);
      expect((await store.accessKeys.list()).filter(({ revoked_at }) => revoked_at !== null)).toEqual([]);
    });

    test("lists, search, export and keys show nothing of it", async () => {
      const { ids } = await database.storeWithRecords();
      const stranger = await database.newStore();
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
      const { store, ids } = await database.storeWithRecords();
      const { workspaceId } = store;
      const restricted = workspaceStore({
        sql: database.sql,
        workspaceId,
        role,
        actor: role,
        now: testClock(),
        random,
      });
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
});
