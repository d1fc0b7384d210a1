import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { Conflict } from "../../src/store/errors.ts";
import type { Sql } from "../../src/store/sql.ts";
import { NEW_VEHICLE } from "../../src/store/vehicles.ts";
import { engines, newStore } from "./engines.ts";

const VAN = { ...NEW_VEHICLE, label: "Van 2", refrigerant: "R-134a", nameplate_g: 650 } as const;
const CAN = { date: "2026-04-20", cooling: "weak", added_g: 340, added_by: "cans" } as const;

describe.each(engines)("the charge log on $name", ({ start }) => {
  let sql: Sql;
  let close: () => Promise<void>;
  beforeAll(async () => {
    ({ sql, close } = await start());
  });
  afterAll(() => close());

  test("an added entry is listed with everything that was said, and null for the rest", async () => {
    const store = await newStore(sql);
    const van = await store.vehicles.create(VAN);
    const line = await store.chargeLog.add(van.id, CAN);
    expect(await store.chargeLog.list(van.id)).toEqual([line]);
  });

  test("correct", async () => {
    const store = await newStore(sql);
    const van = await store.vehicles.create(VAN, { charge_log: [CAN, CAN], notes: [{ body: "hello" }] });
    const [one, two] = await store.chargeLog.list(van.id);
    expect([one!.number, two!.number]).toEqual([1, 2]);
    const fixed = await store.chargeLog.correct(one!.id, 1, { ...CAN, added_g: 300 });
    expect(fixed).toMatchObject({ version: 2, change: "corrected", added_g: 300, number: 1 });
    await expect(store.chargeLog.correct(one!.id, 1, { ...CAN, added_g: 310 })).rejects.toThrow(Conflict);
  });
});
