import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { ChargeEntryInput } from "../../src/store/charge-log.ts";
import { NodeSql } from "../../src/store/node-sqlite.ts";
import type { Sql } from "../../src/store/sql.ts";
import type { ImportReport, WorkspaceDocument } from "../../src/store/transfer.ts";
import { assessRequestOf } from "../../src/store/vehicle-record.ts";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import { DEFAULT_SETTINGS } from "../../src/store/workspaces.ts";
import { parseWorkspaceDocument } from "../../src/web/transfer-schema.ts";
import { engines, newStore } from "./engines.ts";
import { CAN, DYE_CLEAN, HARD_TEXTS, READ_LOW, TRUCK, VAN } from "./samples.ts";

const TABLES = ["workspaces", "vehicles", "charge_log", "findings", "readings", "notes"] as const;

/** Every row of a workspace with every column, the workspace's own id apart. */
async function rowsOf(sql: Sql, { workspaceId }: WorkspaceStore) {
  const order = {
    workspaces: "1",
    vehicles: "id",
    charge_log: "id, version",
    findings: "id, version",
    readings: "id, version",
    notes: "id, version",
  };
  const tables = await sql.batch(
    TABLES.map((table) => ({
      sql: `SELECT * FROM ${table} WHERE workspace_id = ? ORDER BY ${order[table]}`,
      params: [workspaceId],
    })),
  );
  return Object.fromEntries(TABLES.map((table, i) => [table, tables[i]!.map((row) => ({ ...row, workspace_id: "" }))]));
}

/** What travels: through JSON text and the check on the way in. */
function sent(document: WorkspaceDocument): WorkspaceDocument {
  const parsed = parseWorkspaceDocument(JSON.parse(JSON.stringify(document)));
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.issues));
  return parsed.document;
}

const NOTHING = { added: 0, same: 0, differing: 0 };

describe.each(engines)("export and import on $name", ({ start }) => {
  let sql: Sql;
  let close: () => Promise<void>;
  beforeAll(async () => {
    ({ sql, close } = await start());
  });
  afterAll(() => close());

  /** A workspace with corrections, removals, an archived vehicle and hard texts in it. */
  async function filled(): Promise<WorkspaceStore> {
    const store = await newStore(sql);
    await store.settings.update({ ...DEFAULT_SETTINGS, name: "Workshop", prices: { can_price: 3 } }, 1);
    const notes = HARD_TEXTS.map((body) => ({ body }));
    const van = await store.vehicles.create(VAN, { charge_log: [CAN, CAN], findings: [DYE_CLEAN], notes });
    const truck = await store.vehicles.create(TRUCK, { charge_log: [{ ...CAN, added_g: 12 * 28.349523125 }] });
    await store.vehicles.archive(truck.id, 1);
    const read = await store.readings.add(truck.id, READ_LOW);
    await store.readings.correct(read.id, 1, { ...READ_LOW, vent_c: 12 });
    const [first, second] = await store.chargeLog.list(van.id);
    await store.chargeLog.correct(first!.id, 1, { ...CAN, added_g: 300, note: "=1+1" });
    await store.chargeLog.undo(first!.id, 2);
    await store.chargeLog.remove(second!.id, 1);
    return store;
  }

  test("export, then import into an empty workspace, gives the same rows, history and all", async () => {
    const store = await filled();
    const empty = await newStore(sql);
    const report = await empty.transfer.import(sent(await store.transfer.export()));
    expect(report).toEqual({
      settings: "taken",
      vehicles: { ...NOTHING, added: 2 },
      charge_log: { ...NOTHING, added: 6 },
      findings: { ...NOTHING, added: 1 },
      readings: { ...NOTHING, added: 2 },
      notes: { ...NOTHING, added: HARD_TEXTS.length },
      differing_vehicles: [],
    } satisfies ImportReport);
    expect(await rowsOf(sql, empty)).toEqual(await rowsOf(sql, store));
  });

  test("the same vehicles put the same questions to the model, and are found by the same words", async () => {
    const store = await filled();
    const empty = await newStore(sql);
    await empty.transfer.import(sent(await store.transfer.export()));
    for (const { id } of (await store.vehicles.list()).items) {
      const question = async (from: WorkspaceStore) => assessRequestOf(await from.record(id), "2026-05-01", () => null);
      expect(await question(empty)).toEqual(await question(store));
    }
    expect(await empty.vehicles.count({ search: "שלום" })).toBe(1);
  });

  test("the same document a second time adds nothing", async () => {
    const store = await filled();
    const document = sent(await store.transfer.export());
    const before = await rowsOf(sql, store);
    expect(await store.transfer.import(document)).toEqual({
      settings: "same",
      vehicles: { ...NOTHING, same: 2 },
      charge_log: { ...NOTHING, same: 6 },
      findings: { ...NOTHING, same: 1 },
      readings: { ...NOTHING, same: 2 },
      notes: { ...NOTHING, same: HARD_TEXTS.length },
      differing_vehicles: [],
    });
    expect(await rowsOf(sql, store)).toEqual(before);
  });

  test("a dry run tells what would happen, and changes nothing", async () => {
    const document = sent(await (await filled()).transfer.export());
    const empty = await newStore(sql);
    const before = await rowsOf(sql, empty);
    const dry = await empty.transfer.import(document, { dry_run: true });
    expect(await rowsOf(sql, empty)).toEqual(before);
    expect(await empty.transfer.import(document)).toEqual(dry);
  });

  test("what was added since on either side comes together", async () => {
    const store = await newStore(sql);
    const van = await store.vehicles.create(VAN, { charge_log: [CAN] });
    const copy = await newStore(sql);
    await copy.transfer.import(sent(await store.transfer.export()));
    await copy.chargeLog.add(van.id, { ...CAN, added_g: 50 });
    await store.chargeLog.add(van.id, { ...CAN, added_g: 60 });
    const report = await store.transfer.import(sent(await copy.transfer.export()));
    expect(report.charge_log).toEqual({ added: 1, same: 1, differing: 0 });
    const grams = (await store.chargeLog.list(van.id)).map(({ added_g }) => added_g);
    expect(new Set(grams)).toEqual(new Set([340, 50, 60]));
  });

  test("a correction made elsewhere arrives as the newer line", async () => {
    const store = await newStore(sql);
    const van = await store.vehicles.create(VAN, { charge_log: [CAN] });
    const copy = await newStore(sql);
    await copy.transfer.import(sent(await store.transfer.export()));
    const [line] = await copy.chargeLog.list(van.id);
    const corrected = await copy.chargeLog.correct(line!.id, 1, { ...CAN, added_g: 300 });
    await store.transfer.import(sent(await copy.transfer.export()));
    expect(await store.chargeLog.list(van.id)).toEqual([corrected]);
  });

  test("where two copies corrected one entry, ours stays, theirs is reported, and nothing is built on top", async () => {
    const store = await newStore(sql);
    const van = await store.vehicles.create(VAN, { charge_log: [CAN] });
    const copy = await newStore(sql);
    await copy.transfer.import(sent(await store.transfer.export()));
    const [line] = await copy.chargeLog.list(van.id);
    await copy.chargeLog.correct(line!.id, 1, { ...CAN, added_g: 10 });
    await copy.chargeLog.correct(line!.id, 2, { ...CAN, added_g: 11 });
    const ours = await store.chargeLog.correct(line!.id, 1, { ...CAN, added_g: 20 });
    const report = await store.transfer.import(sent(await copy.transfer.export()));
    expect(report.charge_log).toEqual({ added: 0, same: 1, differing: 2 });
    expect(report.differing_vehicles).toEqual([{ id: van.id, label: VAN.label }]);
    expect(await store.chargeLog.list(van.id)).toEqual([ours]);
  });

  test("a vehicle that differs stays ours, or becomes theirs when the person says so", async () => {
    const store = await newStore(sql);
    const van = await store.vehicles.create(VAN);
    const copy = await newStore(sql);
    await copy.transfer.import(sent(await store.transfer.export()));
    await copy.vehicles.update(van.id, 1, TRUCK);
    const document = sent(await copy.transfer.export());
    const report = await store.transfer.import(document);
    expect(report).toMatchObject({
      vehicles: { differing: 1 },
      differing_vehicles: [{ id: van.id, label: VAN.label }],
    });
    expect(await store.vehicles.get(van.id)).toEqual(van);
    await store.transfer.import(document, { take_vehicles: true });
    expect(await store.vehicles.get(van.id)).toMatchObject({ ...TRUCK, version: 2 });
    expect((await store.transfer.import(document)).vehicles).toEqual({ added: 0, same: 1, differing: 0 });
    expect(await store.vehicles.count({ search: "truck" })).toBe(1);
  });

  test("settings that someone has set are kept", async () => {
    const store = await filled();
    const other = await newStore(sql);
    const set = await other.settings.update({ ...DEFAULT_SETTINGS, name: "Mine" }, 1);
    expect(await other.transfer.import(sent(await store.transfer.export()))).toMatchObject({ settings: "kept" });
    expect(await other.settings.get()).toEqual(set);
  });

  test("an import that meets another writer adds nothing and can be repeated", async () => {
    const document = sent(await (await filled()).transfer.export());
    const empty = await newStore(sql);
    const both = await Promise.allSettled([empty.transfer.import(document), empty.transfer.import(document)]);
    expect(both.filter(({ status }) => status === "fulfilled").length).toBeGreaterThanOrEqual(1);
    for (const attempt of both)
      if (attempt.status === "rejected") expect(attempt.reason).toMatchObject({ code: "changed" });
    expect((await empty.transfer.import(document)).charge_log).toEqual({ ...NOTHING, same: 6 });
  });

  test("a document whose lines hang in the air is refused whole by the tables too", async () => {
    const document = await (await filled()).transfer.export();
    const empty = await newStore(sql);
    const lines = document.charge_log.filter(({ version }) => version !== 1);
    await expect(empty.transfer.import({ ...document, charge_log: lines })).rejects.toThrow();
    expect(await empty.vehicles.count()).toBe(0);
  });

  test("charges gives the entries that hold now, by vehicle and date", async () => {
    const store = await filled();
    const charges = (await store.transfer.charges()).map(({ label, date, added_g, nameplate_g }) => [
      label,
      date,
      added_g,
      nameplate_g,
    ]);
    expect(charges).toEqual([
      ["Truck 7", "2026-04-20", 12 * 28.349523125, 1234.5],
      ["Van 2", "2026-04-20", 340, 650],
    ]);
  });

  test("several thousand lines go in as one change", async () => {
    const store = await newStore(sql);
    const body = "x".repeat(500);
    const charge_log = Array.from({ length: 200 }, () => ({ ...CAN, note: body }));
    const { id } = await store.vehicles.create(VAN, { charge_log });
    const document = sent(await store.transfer.export());
    const many = Array.from({ length: 20 }, (_, v) => v).flatMap((v) =>
      document.charge_log.map((line) => ({ ...line, id: `${line.id}-${v}`, vehicle_id: `${id}-${v}` })),
    );
    const vehicles = Array.from({ length: 20 }, (_, v) => ({ ...document.vehicles[0]!, id: `${id}-${v}` }));
    const big = await newStore(sql);
    const report = await big.transfer.import(sent({ ...document, vehicles, charge_log: many }));
    expect(report.charge_log).toEqual({ ...NOTHING, added: 4000 });
    expect(await big.chargeLog.list(`${id}-19`)).toHaveLength(200);
  });
});

test("any text and any amount survive the round trip", async () => {
  const { start } = engines[0]!;
  const { sql, close } = await start();
  expect(sql).toBeInstanceOf(NodeSql);
  const text = fc.string({ unit: "binary", minLength: 1, maxLength: 40 });
  const amount = fc.option(fc.double({ min: 0, max: 60_000, noNaN: true }));
  const entry: fc.Arbitrary<ChargeEntryInput> = fc.record({
    date: fc.constant("2026-04-20"),
    added_g: amount,
    recovered_g: amount,
    note: fc.option(text, { nil: null }),
  });
  await fc.assert(
    fc.asyncProperty(
      text,
      fc.array(entry, { maxLength: 5 }),
      fc.array(text, { maxLength: 3 }),
      async (label, log, bodies) => {
        fc.pre([label, ...bodies].every((body) => body.replaceAll("\0", "") !== ""));
        const store = await newStore(sql);
        await store.vehicles.create({ ...VAN, label }, { charge_log: log, notes: bodies.map((body) => ({ body })) });
        const empty = await newStore(sql);
        await empty.transfer.import(sent(await store.transfer.export()));
        expect(await rowsOf(sql, empty)).toEqual(await rowsOf(sql, store));
      },
    ),
    { numRuns: 300 },
  );
  await close();
});
