import { describe, expect, test } from "vitest";
import type { ImportReport } from "../../../src/store/transfer.ts";
import { assessRequestOf } from "../../../src/store/vehicle-record.ts";
import type { WorkspaceStore } from "../../../src/store/workspace-store.ts";
import { engines } from "../engines.ts";
import { CAN, HARD_TEXTS, VAN } from "../samples.ts";

import { NOTHING, NOTHING_ELSE, rowsOf, sent, TransferDatabase } from "./transfer-database.ts";

describe.each(engines)("export and import of records on $name", ({ start }) => {
  const database = new TransferDatabase(start);

  test("export, then import into an empty workspace, gives the same rows, history and all", async () => {
    const store = await database.filled();
    const empty = await database.newStore();
    const report = await empty.transfer.import(sent(await store.transfer.export()));
    expect(report).toEqual({
      settings: "taken",
      vehicles: { ...NOTHING, added: 2 },
      charge_log: { ...NOTHING, added: 6 },
      findings: { ...NOTHING, added: 1 },
      readings: { ...NOTHING, added: 2 },
      notes: { ...NOTHING, added: HARD_TEXTS.length },
      ...NOTHING_ELSE,
    } satisfies ImportReport);
    expect(await rowsOf(database.sql, empty)).toEqual(await rowsOf(database.sql, store));
  });

  test("the same vehicles put the same questions to the model, and are found by the same words", async () => {
    const store = await database.filled();
    const empty = await database.newStore();
    await empty.transfer.import(sent(await store.transfer.export()));
    for (const { id } of (await store.vehicles.list()).items) {
      const question = async (from: WorkspaceStore) => assessRequestOf(await from.record(id), "2026-05-01", () => null);
      expect(await question(empty)).toEqual(await question(store));
    }
    expect(await empty.vehicles.count({ search: "שלום" })).toBe(1);
  });

  test("the same document a second time adds nothing", async () => {
    const store = await database.filled();
    const document = sent(await store.transfer.export());
    const before = await rowsOf(database.sql, store);
    expect(await store.transfer.import(document)).toEqual({
      settings: "same",
      vehicles: { ...NOTHING, same: 2 },
      charge_log: { ...NOTHING, same: 6 },
      findings: { ...NOTHING, same: 1 },
      readings: { ...NOTHING, same: 2 },
      notes: { ...NOTHING, same: HARD_TEXTS.length },
      ...NOTHING_ELSE,
    });
    expect(await rowsOf(database.sql, store)).toEqual(before);
  });

  test("a dry run tells what would happen, and changes nothing", async () => {
    const document = sent(await (await database.filled()).transfer.export());
    const empty = await database.newStore();
    const before = await rowsOf(database.sql, empty);
    const dry = await empty.transfer.import(document, { dry_run: true });
    expect(await rowsOf(database.sql, empty)).toEqual(before);
    expect(await empty.transfer.import(document)).toEqual(dry);
  });

  test("charges gives the entries that hold now, by vehicle and date", async () => {
    const store = await database.filled();
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
    const store = await database.newStore();
    const body = "x".repeat(500);
    const charge_log = Array.from({ length: 200 }, () => ({ ...CAN, note: body }));
    const { id } = await store.vehicles.create(VAN, { charge_log });
    const document = sent(await store.transfer.export());
    const many = Array.from({ length: 20 }, (_, v) => v).flatMap((v) =>
      document.charge_log.map((line) => ({ ...line, id: `${line.id}-${v}`, vehicle_id: `${id}-${v}` })),
    );
    const vehicles = Array.from({ length: 20 }, (_, v) => ({ ...document.vehicles[0]!, id: `${id}-${v}` }));
    const big = await database.newStore();
    const report = await big.transfer.import(sent({ ...document, vehicles, charge_log: many }));
    expect(report.charge_log).toEqual({ ...NOTHING, added: 4000 });
    expect(await big.chargeLog.list(`${id}-19`)).toHaveLength(200);
  });
});
