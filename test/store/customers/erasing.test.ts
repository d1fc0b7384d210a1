import { describe, expect, test } from "vitest";
import { Conflict } from "../../../src/store/errors.ts";
import { offeredQuote } from "../../../src/store/offered-quote.ts";
import type { WorkspaceStore } from "../../../src/store/workspace-store.ts";
import { workspaceStore } from "../../../src/store/workspace-store.ts";
import { engines, random, testClock } from "../engines.ts";
import { INVOICE } from "../invoice-samples.ts";
import { CONTENT, SNAPSHOT } from "../quote-samples.ts";
import { CAN, DYE_CLEAN, READ_LOW } from "../samples.ts";
import { CustomersDatabase, ON_PAPER, ROBIN, VIN } from "./customers-database.ts";

/** Robin with a record, and with a quote that was accepted. */
async function known(database: CustomersDatabase) {
  const all = await database.withTwo();
  const { store, robin, sedan } = all;
  const hisses = await store.chargeLog.add(sedan.id, { ...CAN, note: "Robin says it hisses" });
  await store.chargeLog.correct(hisses.id, 1, { ...CAN, note: "Featherstone heard it, not Robin" });
  await store.findings.add(sedan.id, { ...DYE_CLEAN, note: "asked Robin" });
  await store.readings.add(sedan.id, { ...READ_LOW, note: "Robin drove" });
  const call = await store.notes.add(sedan.id, { body: "Featherstone wants a call" });
  await store.notes.remove(call.id, 1);
  await store.followUps.close(sedan.id, "watch.2026-05-04", { outcome: "dismissed", words: "Robin has sold it" });
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
async function allText(database: CustomersDatabase, store: WorkspaceStore): Promise<string> {
  const tables = await database.sql.all<{ name: string }>("SELECT name FROM sqlite_master WHERE type = 'table'");
  const scoped = tables.filter(({ name }) => !/^(sqlite_|d1_|_cf_)/.test(name));
  const rows = await Promise.all(
    scoped.map(async ({ name }) => {
      const all = await database.sql.all<{ workspace_id: string }>(`SELECT * FROM ${name}`);
      return all.filter(({ workspace_id }) => workspace_id === store.workspaceId);
    }),
  );
  return JSON.stringify(rows);
}

describe.each(engines)("customers on $name", ({ start }) => {
  const database = new CustomersDatabase(start);

  describe("erasing a person", () => {
    test("leaves no trace of name, telephone, plate or VIN in any table, and every figure", async () => {
      const { store, robin, sedan, quote, token } = await known(database);
      const before = await store.quotes.get(quote);
      const figures = (await store.chargeLog.list(sedan.id)).map(({ note, ...rest }) => rest);
      const yes = { name: ROBIN.name, how: "phone" as const, on: "2026-05-02" };
      const { id: billed } = await store.invoices.issue(
        { quote_id: quote, vehicle_id: sedan.id, customer_id: robin.id },
        { ...INVOICE, customer: { name: ROBIN.name, address: "" }, extra: { lines: [], agreed_minor: 1, yes } },
        1,
      );
      const paid = { amount_minor: 1_00, paid_on: "2026-05-02", method: "cash" as const, note: "brought by Robin" };
      await store.invoices.pay(billed, paid);
      await store.customers.erase(robin.id, 1, { invoices: true });
      const text = await allText(database, store);
      for (const word of ["Robin", "robin", "Featherstone", "featherstone", "0142", "XR-7", "xr7402", VIN, "Hill Road"])
        expect(text, word).not.toContain(word);
      expect((await store.chargeLog.list(sedan.id)).map(({ note, ...rest }) => rest)).toEqual(figures);
      const { document } = await store.invoices.get(billed);
      expect([document.billed, document.extra?.yes]).toEqual([INVOICE.billed, { ...yes, name: "Erased" }]);
      const after = await store.quotes.get(quote);
      expect(after).toMatchObject({ status: "accepted", decided_option: "a", decided_name: "Erased", number: 1 });
      expect(after.snapshot!.options).toEqual(before.snapshot!.options);
      expect(after.content.options).toEqual(before.content.options);
      expect(after.snapshot!.vehicle.shown).toEqual({ ...ON_PAPER, plate: "", vin: "" });
      expect(await offeredQuote({ sql: database.sql }, token)).toBeNull();
      expect((await store.vehicles.get(sedan.id)).label).toBe(`Vehicle ${sedan.id.slice(0, 5)}`);
    });

    test("takes what a webhook was told and every waiting file along", async () => {
      const { store, robin, sedan, quote } = await known(database);
      await store.webhooks.save("https://shop.example/m", 0);
      await store.quotes.takeBackAnswer(quote, 5);
      const text = (async function* () {
        yield "vehicle,refrigerant\nFeatherstone's sedan,R-134a\n";
      })();
      const waiting = await store.imports.keep([{ name: "Featherstone.csv", text, answers: {} }]);
      const done = await store.imports.keep([{ name: "robin.csv", text, answers: {} }]);
      await store.imports.finish(
        done,
        { rows: ["Featherstone"] },
        [{ file: 0, text: "Featherstone's sedan,R-22" }],
        [],
      );
      expect(await store.webhooks.messages(9)).toHaveLength(1);
      await store.customers.erase(robin.id, 1, { invoices: true });
      expect(await allText(database, store)).not.toMatch(/Featherstone|robin\.csv/);
      expect(await store.webhooks.messages(9)).toEqual([]);
      await expect(store.imports.get(waiting)).rejects.toMatchObject({ code: "not-found" });
      expect((await store.vehicles.get(sedan.id)).nameplate_g).toBe(sedan.nameplate_g);
    });

    test.each([false, true])(
      "an export of before brings nobody back (taking its vehicles: %s)",
      async (take_vehicles) => {
        const { store, robin, kim, sedan } = await known(database);
        const spare = await store.quotes.create(sedan.id, { ...CONTENT, customer: ROBIN.name, customer_id: robin.id });
        await database.sql.batch([
          {
            sql: "INSERT INTO import_keys (workspace_id, source_key, vehicle_id) VALUES (?, ?, ?)",
            params: [store.workspaceId, "featherstone sedan", sedan.id],
          },
        ]);
        const before = await store.transfer.export();
        expect(before.fleet_names).toHaveLength(1);
        await store.quotes.discard(spare.id, 1);
        await store.customers.erase(robin.id, 1, { invoices: true });
        const erased = await allText(database, store);

        await store.transfer.import(before, { take_vehicles });
        const text = await allText(database, store);
        for (const word of [
          "Robin",
          "robin",
          "Featherstone",
          "featherstone",
          "0142",
          "XR-7",
          "xr7402",
          VIN,
          "Hill Road",
        ])
          expect(text, word).not.toContain(word);
        expect((await store.vehicles.get(sedan.id)).label).toBe(`Vehicle ${sedan.id.slice(0, 5)}`);
        expect(await store.customers.get(kim.id)).toEqual(kim);
        if (!take_vehicles) expect(text).toBe(erased);
      },
    );

    test("leaves everybody else as they were", async () => {
      const { store, robin, kim, truck } = await known(database);
      const note = await store.notes.add(truck.id, { body: "Kim's truck" });
      await store.customers.erase(robin.id, 1, { invoices: true });
      expect(await store.customers.get(kim.id)).toEqual(kim);
      expect(await store.notes.list(truck.id)).toEqual([note]);
      expect((await store.customers.list()).items.map(({ id }) => id)).toEqual([kim.id]);
    });

    test("takes an owner, and the version that was seen; an erased person cannot be changed or given a vehicle", async () => {
      const { store, robin, truck } = await known(database);
      const editor = workspaceStore({
        sql: database.sql,
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
      const { store, robin, sedan, quote } = await known(database);
      const of = [store.workspaceId, sedan.id];
      await expect(
        database.sql.all("UPDATE charge_log SET note = NULL WHERE workspace_id = ? AND vehicle_id = ?", of),
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
        await expect(database.sql.batch([open, change])).rejects.toThrow();
      await expect(
        database.sql.all("DELETE FROM customers WHERE workspace_id = ?", [store.workspaceId]),
      ).rejects.toThrow();
    });
  });
});
