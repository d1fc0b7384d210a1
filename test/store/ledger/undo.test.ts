import { describe, expect, test } from "vitest";
import type { ChargeLine } from "../../../src/core/question/record.ts";
import { ConstraintFailed } from "../../../src/store/errors.ts";
import { Database } from "../database.ts";
import { engines } from "../engines.ts";
import { CAN, READ_LOW } from "../samples.ts";

describe.each(engines)("ledgers on $name", ({ start }) => {
  const database = new Database(start);

  describe("remove and undo", () => {
    test("remove takes the entry out of the list and keeps what it said", async () => {
      const { store, van, line } = await database.vanWithEntry();
      const removed = await store.chargeLog.remove(line.id, 1);
      expect(removed).toMatchObject({ version: 2, change: "removed", added_g: 340 });
      expect(await store.chargeLog.list(van.id)).toEqual([]);
      expect(await store.chargeLog.get(line.id)).toEqual(removed);
    });

    test("each undo leads one step back, and its own undo forth again", async () => {
      const { store, van, line } = await database.vanWithEntry();
      const grams = async () => (await store.chargeLog.list(van.id)).map(({ added_g }) => added_g);
      await store.chargeLog.correct(line.id, 1, { ...CAN, added_g: 300 });
      await store.chargeLog.remove(line.id, 2);
      expect(await grams()).toEqual([]);
      expect(await store.chargeLog.undo(line.id, 3)).toMatchObject({ version: 4, change: "restored", added_g: 300 });
      expect(await grams()).toEqual([300]);
      expect(await store.chargeLog.undo(line.id, 4)).toMatchObject({ version: 5, change: "removed" });
      expect(await grams()).toEqual([]);
    });

    test("undo of a correction restores what was there before", async () => {
      const { store, line } = await database.vanWithEntry();
      await store.chargeLog.correct(line.id, 1, { ...CAN, added_g: 300 });
      expect(await store.chargeLog.undo(line.id, 2)).toMatchObject({ change: "restored", added_g: 340 });
    });

    test("undo of an addition is a removal", async () => {
      const { store, van, line } = await database.vanWithEntry();
      expect(await store.chargeLog.undo(line.id, 1)).toMatchObject({ change: "removed" });
      expect(await store.chargeLog.list(van.id)).toEqual([]);
    });

    test("a removed entry cannot be corrected, nor removed a second time", async () => {
      const { store, line } = await database.vanWithEntry();
      const removed = await store.chargeLog.remove(line.id, 1);
      await expect(store.chargeLog.correct(line.id, 2, { ...CAN, added_g: 1 })).rejects.toMatchObject({
        current: removed,
      });
      await expect(store.chargeLog.correct(line.id, 1, { ...CAN, added_g: 1 })).rejects.toMatchObject({
        current: removed,
      });
      expect(await store.chargeLog.remove(line.id, 2)).toEqual(removed);
      expect(await store.chargeLog.versions(line.id)).toHaveLength(2);
    });

    test("a line that is there cannot be changed or deleted by any statement", async () => {
      const { store, van, line } = await database.vanWithEntry();
      const read = await store.readings.add(van.id, READ_LOW);
      for (const [text, id] of [
        ["UPDATE charge_log SET added_g = 1 WHERE id = ?", line.id],
        ["DELETE FROM charge_log WHERE id = ?", line.id],
        ["UPDATE readings SET low_kpa = 1 WHERE id = ?", read.id],
        ["DELETE FROM readings WHERE id = ?", read.id],
      ] as const)
        await expect(database.sql.all(text, [id])).rejects.toThrow(ConstraintFailed);
    });
  });

  test("history comes page by page, each line once, newest first", async () => {
    const { store, van, line } = await database.vanWithEntry();
    for (let version = 1; version < 10; version += 1)
      await store.chargeLog.correct(line.id, version, { ...CAN, added_g: version });
    const lines: ChargeLine[] = [];
    let after: string | null = null;
    do {
      const page = await store.chargeLog.history(van.id, { limit: 4, after });
      lines.push(...page.items);
      after = page.next;
    } while (after !== null);
    expect(lines.map(({ version }) => version)).toEqual([10, 9, 8, 7, 6, 5, 4, 3, 2, 1]);
  });

  test.each(["", "7", "[1,2,3]", '["a","b"]', "nonsense"])("a page after %j cannot be asked for", async (after) => {
    const { store, van } = await database.vanWithEntry();
    await expect(store.chargeLog.history(van.id, { after })).rejects.toMatchObject({ code: "invalid" });
  });
});
