import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { CustomerInput } from "../../src/store/customers.ts";
import { Conflict } from "../../src/store/errors.ts";
import { offeredQuote } from "../../src/store/offered-quote.ts";
import type { Sql } from "../../src/store/sql.ts";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import { workspaceStore } from "../../src/store/workspace-store.ts";
import { engines, newStore, random, testClock } from "./engines.ts";
import { CONTENT, SNAPSHOT } from "./quote-samples.ts";
import { CAN, DYE_CLEAN, READ_LOW, TRUCK, VAN } from "./samples.ts";

const ROBIN: CustomerInput = {
  name: "Robin Featherstone",
  phone: "+1 (555) 010-0142",
  email: "robin@example.com",
  address: "3 Hill Road\nEastbrook",
  note: "pays late",
};
const KIM: CustomerInput = { name: "Kim Öztürk", phone: "0171 2345678", email: "", address: "", note: "" };

/** A VIN whose check digit fits: the worked example of 49 CFR 565.15(c), as it is widely reprinted. */
const VIN = "1M8GDM9AXKP042788";
const ON_PAPER = { words: "2014 sedan, silver", plate: "XR-7 402", vin: VIN, odometer: "84,200 miles" };

describe.each(engines)("customers on $name", ({ start }) => {
  let sql: Sql;
  let close: () => Promise<void>;
  beforeAll(async () => {
    ({ sql, close } = await start());
  });
  afterAll(() => close());

  async function withTwo() {
    const store = await newStore(sql);
    const robin = await store.customers.create(ROBIN);
    const kim = await store.customers.create(KIM);
    const particulars = { ...ON_PAPER, customer_id: robin.id };
    const sedan = await store.vehicles.create({ ...VAN, label: "Featherstone's sedan" }, { particulars });
    const truck = await store.vehicles.create(TRUCK);
    await store.customers.setParticulars(truck.id, 0, {
      ...ON_PAPER,
      vin: "",
      plate: "KM 11",
      customer_id: kim.id,
    });
    return { store, robin, kim, sedan, truck };
  }

  test.each([
    ["part of a name", "feather", "Robin Featherstone"],
    ["both names, in any order", "featherstone ROBIN", "Robin Featherstone"],
    ["a name without its accents", "ozturk", "Kim Öztürk"],
    ["a plate, spaced otherwise", "xr7402", "Robin Featherstone"],
    ["a VIN in small letters", VIN.toLowerCase(), "Robin Featherstone"],
    ["the end of a VIN", "042788", "Robin Featherstone"],
    ["a telephone number, spaced otherwise", "5550100142", "Robin Featherstone"],
    ["one with its code where none is stored", "+49 171 2345678", "Kim Öztürk"],
    ["one without its code where one is stored", "(555) 010 0142", "Robin Featherstone"],
    ["a vehicle in the shop's words", "truck 7", "Kim Öztürk"],
    ["an e-mail address", "robin@example.com", "Robin Featherstone"],
  ])("are found by %s", async (_what, search, name) => {
    const { store } = await withTwo();
    expect((await store.customers.list({ search })).items.map((one) => one.name)).toEqual([name]);
  });

  test("are found page by page, by name, each with their vehicles", async () => {
    const { store, sedan } = await withTwo();
    const first = await store.customers.list({ limit: 1 });
    expect(first.items.map(({ name }) => name)).toEqual(["Kim Öztürk"]);
    const second = await store.customers.list({ limit: 1, after: first.next });
    expect(second.items).toMatchObject([
      { name: "Robin Featherstone", vehicles: [{ id: sedan.id, ...ON_PAPER, label: "Featherstone's sedan" }] },
    ]);
    expect(second.next).toBeNull();
    expect((await store.customers.list({ search: "nobody of that name" })).items).toEqual([]);
  });

  test("make their vehicles found by name, plate and VIN among the vehicles, too", async () => {
    const { store, sedan } = await withTwo();
    for (const search of ["robin", "xr-7", "XR7402", VIN])
      expect(
        (await store.vehicles.list({ search })).items.map(({ id }) => id),
        search,
      ).toEqual([sedan.id]);
  });

  test("a change names the version that was seen", async () => {
    const { store, robin, sedan } = await withTwo();
    const changed = await store.customers.update(robin.id, 1, { ...ROBIN, phone: "555 0199" });
    expect(changed).toMatchObject({ version: 2, phone: "555 0199" });
    await expect(store.customers.update(robin.id, 1, ROBIN)).rejects.toThrow(Conflict);
    await store.customers.setParticulars(sedan.id, 1, { ...ON_PAPER, plate: "NEW 1", customer_id: robin.id });
    await expect(store.customers.setParticulars(sedan.id, 1, { ...ON_PAPER, customer_id: null })).rejects.toThrow(
      Conflict,
    );
    expect((await store.customers.list({ search: "new1" })).items).toHaveLength(1);
  });

  test("the same press arriving twice makes one customer", async () => {
    const store = await newStore(sql);
    const [one, two] = [await store.customers.create(ROBIN, "key"), await store.customers.create(ROBIN, "key")];
    expect(two).toEqual(one);
    expect((await store.customers.list()).items).toHaveLength(1);
  });

  test("belong to one workspace", async () => {
    const { robin, sedan } = await withTwo();
    const elsewhere = await newStore(sql);
    await expect(elsewhere.customers.get(robin.id)).rejects.toMatchObject({ code: "not-found" });
    await expect(elsewhere.customers.particulars(sedan.id)).rejects.toMatchObject({ code: "not-found" });
    const own = await elsewhere.vehicles.create(VAN);
    await expect(
      elsewhere.customers.setParticulars(own.id, 0, { ...ON_PAPER, customer_id: robin.id }),
    ).rejects.toMatchObject({ code: "not-found" });
  });

  describe("erasing a person", () => {
    /** Robin with a record, and with a quote that was accepted. */
    async function known() {
      const all = await withTwo();
      const { store, robin, sedan } = all;
      await store.chargeLog.add(sedan.id, { ...CAN, note: "Robin says it hisses" });
      await store.findings.add(sedan.id, { ...DYE_CLEAN, note: "asked Robin" });
      await store.readings.add(sedan.id, { ...READ_LOW, note: "Robin drove" });
      await store.notes.add(sedan.id, { body: "Featherstone wants a call" });
      const content = {
        ...CONTENT,
        customer: ROBIN.name,
        customer_id: robin.id,
        vehicle_shown: ON_PAPER,
        note: "Dear Robin",
      };
      const snapshot = {
        ...SNAPSHOT,
        customer: ROBIN.name,
        note: "Dear Robin",
        vehicle: { ...SNAPSHOT.vehicle, label: ON_PAPER.words, shown: ON_PAPER },
      };
      const draft = await store.quotes.create(sedan.id, content);
      const { token } = await store.quotes.send(draft.id, 1, { content, snapshot });
      const said = { option: "a", name: ROBIN.name, keep_years: 5, how: "phone" as const };
      await store.quotes.recordAnswer(draft.id, 2, said);
      await store.quotes.takeBackAnswer(draft.id, 3);
      await store.quotes.recordAnswer(draft.id, 4, said);
      return { ...all, quote: draft.id, token: token! };
    }

    /** Every text of every table of a workspace. */
    async function allText(store: WorkspaceStore): Promise<string> {
      const tables = await sql.all<{ name: string }>("SELECT name FROM sqlite_master WHERE type = 'table'");
      const scoped = tables.filter(({ name }) => !/^(sqlite_|d1_|_cf_)/.test(name));
      const rows = await Promise.all(
        scoped.map(async ({ name }) => {
          const all = await sql.all<{ workspace_id: string }>(`SELECT * FROM ${name}`);
          return all.filter(({ workspace_id }) => workspace_id === store.workspaceId);
        }),
      );
      return JSON.stringify(rows);
    }

    test("leaves no trace of name, telephone, plate or VIN in any table, and every figure", async () => {
      const { store, robin, sedan, quote, token } = await known();
      const before = await store.quotes.get(quote);
      const figures = (await store.chargeLog.list(sedan.id)).map(({ note, ...rest }) => rest);
      await store.customers.erase(robin.id, 1, { invoices: true });
      const text = await allText(store);
      for (const word of ["Robin", "robin", "Featherstone", "featherstone", "0142", "XR-7", "xr7402", VIN, "Hill Road"])
        expect(text, word).not.toContain(word);
      expect((await store.chargeLog.list(sedan.id)).map(({ note, ...rest }) => rest)).toEqual(figures);
      const after = await store.quotes.get(quote);
      expect(after).toMatchObject({ status: "accepted", decided_option: "a", decided_name: "Erased", number: 1 });
      expect(after.snapshot!.options).toEqual(before.snapshot!.options);
      expect(after.content.options).toEqual(before.content.options);
      expect(after.snapshot!.vehicle.shown).toEqual({ ...ON_PAPER, plate: "", vin: "" });
      expect(await offeredQuote({ sql }, token)).toBeNull();
      expect((await store.vehicles.get(sedan.id)).label).toBe(`Vehicle ${sedan.id.slice(0, 5)}`);
    });

    test("leaves everybody else as they were", async () => {
      const { store, robin, kim, truck } = await known();
      const note = await store.notes.add(truck.id, { body: "Kim's truck" });
      await store.customers.erase(robin.id, 1, { invoices: true });
      expect(await store.customers.get(kim.id)).toEqual(kim);
      expect(await store.notes.list(truck.id)).toEqual([note]);
      expect((await store.customers.list()).items.map(({ id }) => id)).toEqual([kim.id]);
    });

    test("takes an owner, and the version that was seen; an erased person cannot be changed or given a vehicle", async () => {
      const { store, robin, truck } = await known();
      const editor = workspaceStore({
        sql,
        workspaceId: store.workspaceId,
        role: "editor",
        actor: "tester",
        now: testClock(),
        random,
      });
      await expect(editor.customers.erase(robin.id, 1, { invoices: true })).rejects.toMatchObject({
        code: "forbidden",
      });
      await expect(store.customers.erase(robin.id, 7, { invoices: true })).rejects.toThrow(Conflict);
      expect((await store.customers.get(robin.id)).name).toBe(ROBIN.name);
      await store.customers.erase(robin.id, 1, { invoices: true });
      await expect(store.customers.update(robin.id, 2, ROBIN)).rejects.toThrow(Conflict);
      await expect(
        store.customers.setParticulars(truck.id, 1, { ...ON_PAPER, customer_id: robin.id }),
      ).rejects.toMatchObject({ code: "not-found" });
    });

    test("the tables refuse any other change of a ledger or a sent quote, erasing or not", async () => {
      const { store, robin, sedan, quote } = await known();
      const of = [store.workspaceId, sedan.id];
      await expect(
        sql.all("UPDATE charge_log SET note = NULL WHERE workspace_id = ? AND vehicle_id = ?", of),
      ).rejects.toThrow();
      const open = {
        sql: "UPDATE customers SET erasing = 1 WHERE workspace_id = ? AND id = ?",
        params: [store.workspaceId, robin.id],
      };
      for (const change of [
        { sql: "UPDATE charge_log SET added_g = 1 WHERE workspace_id = ? AND vehicle_id = ?", params: of },
        {
          sql: "UPDATE quotes SET snapshot = json_set(snapshot, '$.options', json('[]')) WHERE workspace_id = ? AND id = ?",
          params: [store.workspaceId, quote],
        },
      ])
        await expect(sql.batch([open, change])).rejects.toThrow();
      await expect(sql.all("DELETE FROM customers WHERE workspace_id = ?", [store.workspaceId])).rejects.toThrow();
    });
  });
});
