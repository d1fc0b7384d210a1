import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { InvoiceDocument } from "../../src/core/quotes/invoice.ts";
import { UNNAMED_VEHICLE } from "../../src/core/quotes/quote-document.ts";
import { openDatabase } from "../../src/store/migrations.ts";
import type { Sql } from "../../src/store/sql.ts";
import { workspaceStore } from "../../src/store/workspace-store.ts";
import { engines, newStore, random, testClock } from "./engines.ts";
import { acceptedQuote, INVOICE } from "./invoice-samples.ts";
import { CONTENT } from "./quote-samples.ts";
import { VAN } from "./samples.ts";

const creditNote = (total_minor: number): InvoiceDocument => ({
  ...INVOICE,
  billed: { net_minor: total_minor, taxes: [], total_minor },
  credits: { number: 1, prefix: "", reason: "billed twice" },
});

const cash = (amount_minor: number) => ({ amount_minor, paid_on: "2026-05-02", method: "cash" as const, note: "" });

describe.each(engines)("invoices on $name", ({ start }) => {
  let sql: Sql;
  let close: () => Promise<void>;
  beforeAll(async () => {
    ({ sql, close } = await start());
  });
  afterAll(() => close());

  async function issued() {
    const store = await newStore(sql);
    const about = await acceptedQuote(store);
    return { store, about, invoice: await store.invoices.issue(about, INVOICE, 1) };
  }

  test("many at once get the numbers one after the other, without a gap and none twice", async () => {
    const store = await newStore(sql);
    const quotes: Awaited<ReturnType<typeof acceptedQuote>>[] = [];
    for (let i = 0; i < 24; i++) quotes.push(await acceptedQuote(store));
    const made = await Promise.all(quotes.map((about) => store.invoices.issue(about, INVOICE, 1001)));
    const numbers = made.map(({ number }) => number).toSorted((a, b) => a - b);
    expect(numbers).toEqual(Array.from({ length: 24 }, (_, i) => 1001 + i));
    const notes = await Promise.all(made.map((invoice) => store.invoices.credit(invoice, creditNote(1_00))));
    expect(notes.map(({ number }) => number).toSorted((a, b) => a - b)).toEqual(
      Array.from({ length: 24 }, (_, i) => 1 + i),
    );
  });

  test("one quote is billed once, however many press at once; again only when it was given back whole", async () => {
    const store = await newStore(sql);
    const about = await acceptedQuote(store);
    const tries = await Promise.allSettled(Array.from({ length: 8 }, () => store.invoices.issue(about, INVOICE, 1)));
    const done = tries.filter((one) => one.status === "fulfilled");
    expect(done).toHaveLength(1);
    const invoice = done[0]!.value;
    expect(invoice.number).toBe(1);
    await store.invoices.credit(invoice, creditNote(400_00));
    await expect(store.invoices.issue(about, INVOICE, 1)).rejects.toMatchObject({ code: "changed" });
    await store.invoices.credit(invoice, creditNote(2_67));
    expect((await store.invoices.issue(about, INVOICE, 1)).number).toBe(2);
  });

  test("the same press arriving twice makes one invoice, and uses up one number", async () => {
    const store = await newStore(sql);
    const about = await acceptedQuote(store);
    const one = await store.invoices.issue(about, INVOICE, 1, "key");
    expect(await store.invoices.issue(about, INVOICE, 1, "key")).toEqual(one);
    expect((await store.invoices.issue(await acceptedQuote(store), INVOICE, 1)).number).toBe(2);
  });

  test("only an accepted quote is billed, and no sample", async () => {
    const store = await newStore(sql);
    const { id: vehicle_id } = await store.vehicles.create(VAN);
    const { id: quote_id } = await store.quotes.create(vehicle_id, CONTENT);
    const about = { quote_id, vehicle_id, customer_id: null };
    await expect(store.invoices.issue(about, INVOICE, 1)).rejects.toMatchObject({ code: "changed" });
  });

  test("402.67, less 200.00 paid, less 100.00 given back: 102.67 owing; 50.00 more given back after all is paid: 50.00 to pay back", async () => {
    const { store, invoice } = await issued();
    const balance = async () => (await store.invoices.account(invoice.id)).balance;
    await store.invoices.pay(invoice.id, cash(200_00));
    await store.invoices.credit(invoice, creditNote(100_00));
    expect(await balance()).toEqual({ total_minor: 402_67, credited_minor: 100_00, paid_minor: 200_00 });
    await expect(store.invoices.pay(invoice.id, cash(102_68))).rejects.toMatchObject({ code: "changed" });
    await expect(store.invoices.pay(invoice.id, cash(-1))).rejects.toMatchObject({ code: "changed" });
    await store.invoices.pay(invoice.id, cash(102_67));
    await store.invoices.credit(invoice, creditNote(50_00));
    await expect(store.invoices.pay(invoice.id, cash(-50_01))).rejects.toMatchObject({ code: "changed" });
    await store.invoices.pay(invoice.id, cash(-50_00));
    expect(await balance()).toEqual({ total_minor: 402_67, credited_minor: 150_00, paid_minor: 252_67 });
    await expect(store.invoices.credit(invoice, creditNote(252_68))).rejects.toMatchObject({ code: "changed" });
  });

  test("two payments of all that is owing at once: one is taken", async () => {
    const { store, invoice } = await issued();
    const both = await Promise.allSettled(
      [cash(402_67), cash(402_67)].map((one) => store.invoices.pay(invoice.id, one)),
    );
    expect(both.filter(({ status }) => status === "fulfilled")).toHaveLength(1);
  });

  test("a payment is taken back once, by a line of its own", async () => {
    const { store, invoice } = await issued();
    const paid = await store.invoices.pay(invoice.id, cash(200_00));
    const back = await store.invoices.reverse(invoice.id, paid.id, "2026-05-03");
    expect(back).toMatchObject({ amount_minor: -200_00, reverses: paid.id, paid_on: "2026-05-03" });
    await expect(store.invoices.reverse(invoice.id, paid.id, "2026-05-03")).rejects.toMatchObject({ code: "changed" });
    await expect(store.invoices.reverse(invoice.id, back.id, "2026-05-03")).rejects.toMatchObject({ code: "changed" });
    expect((await store.invoices.account(invoice.id)).payments).toHaveLength(2);
  });

  test("the tables refuse to change or delete what was issued or paid", async () => {
    const { store, invoice } = await issued();
    await store.invoices.pay(invoice.id, cash(1_00));
    const of = [store.workspaceId];
    for (const change of [
      "UPDATE invoices SET number = 9 WHERE workspace_id = ?",
      "UPDATE invoices SET document = json_set(document, '$.billed.total_minor', 1) WHERE workspace_id = ?",
      "UPDATE invoices SET document = json_set(document, '$.customer.name', 'Other') WHERE workspace_id = ?",
      "DELETE FROM invoices WHERE workspace_id = ?",
      "UPDATE payments SET amount_minor = 2 WHERE workspace_id = ?",
      "DELETE FROM payments WHERE workspace_id = ?",
    ])
      await expect(sql.all(change, of), change).rejects.toThrow();
  });

  test("a quote that is billed keeps its answer", async () => {
    const { store, about } = await issued();
    await expect(store.quotes.takeBackAnswer(about.quote_id, 3)).rejects.toMatchObject({ code: "changed" });
  });

  test("are found by number, name, vehicle and plate, and by what is owing", async () => {
    const { store, invoice } = await issued();
    await store.invoices.credit(invoice, creditNote(1_00));
    const other = await acceptedQuote(store);
    const second = await store.invoices.issue(
      other,
      { ...INVOICE, prefix: "A-", customer: { name: "Kim", address: "" } },
      1,
    );
    await store.invoices.pay(second.id, cash(402_67));
    const found = async (text: string, open = false) =>
      (await store.invoices.search({ text, open, before: null, limit: 10 })).map(
        ({ kind, number }) => `${kind} ${number}`,
      );
    expect(await found("robin")).toEqual(["credit-note 1", "invoice 1"]);
    expect(await found("A-2")).toEqual(["invoice 2"]);
    expect(await found("xr-7")).toHaveLength(3);
    expect(await found("", true)).toEqual(["invoice 1"]);
    const [first] = await store.invoices.search({ text: "", open: false, before: null, limit: 1 });
    const rest = await store.invoices.search({ text: "", open: false, before: first!.id, limit: 10 });
    expect(rest).toHaveLength(2);
  });

  test("erasing a person leaves invoices as issued, unless their name is to go from them, too", async () => {
    const store = await newStore(sql);
    const people = await Promise.all(
      ["One", "Two"].map((name) => store.customers.create({ name, phone: "", email: "", address: "", note: "" })),
    );
    const [one, two] = await Promise.all(
      people.map(async ({ id }) => store.invoices.issue(await acceptedQuote(store, id), INVOICE, 1)),
    );
    await store.invoices.pay(two!.id, { ...cash(1_00), note: "from Robin" });
    await store.customers.erase(people[0]!.id, 1, { invoices: false });
    await store.customers.erase(people[1]!.id, 1, { invoices: true });
    expect(await store.invoices.get(one!.id)).toEqual(one);
    const { invoice, payments } = await store.invoices.account(two!.id);
    expect(invoice.document).toEqual({
      ...INVOICE,
      customer: { name: "Erased", address: "" },
      vehicle: { ...INVOICE.vehicle, shown: UNNAMED_VEHICLE },
    });
    expect(payments).toMatchObject([{ amount_minor: 1_00, note: "" }]);
  });

  test("travel with an export; two series are not mixed", async () => {
    const { store, invoice } = await issued();
    const paid = await store.invoices.pay(invoice.id, cash(2_00));
    await store.invoices.reverse(invoice.id, paid.id, "2026-05-03");
    await store.invoices.credit(invoice, creditNote(1_00));
    const document = await store.transfer.export();
    const empty = await newStore(sql);
    const report = await empty.transfer.import(document);
    expect(report).toMatchObject({ invoices: { added: 2 }, payments: { added: 2 } });
    expect(await empty.invoices.account(invoice.id)).toEqual(await store.invoices.account(invoice.id));
    expect(await empty.transfer.import(document)).toMatchObject({
      invoices: { same: 2, added: 0 },
      payments: { same: 2 },
    });
    const { store: other } = await issued();
    expect(await other.transfer.import(document)).toMatchObject({
      invoices: { added: 0, differing: 2 },
      payments: { added: 0, differing: 2 },
    });
    expect((await other.transfer.export()).invoices).toHaveLength(1);
  });
});

test("two programs on one file count in one series", async () => {
  const folder = mkdtempSync(join(tmpdir(), "seepwise-invoices-"));
  const file = join(folder, "records.sqlite");
  const [first, second] = [await openDatabase(file), await openDatabase(file)];
  try {
    const store = await newStore(first);
    const other = workspaceStore({
      sql: second,
      workspaceId: store.workspaceId,
      role: "owner",
      actor: "other",
      now: testClock(),
      random,
    });
    const quotes: Awaited<ReturnType<typeof acceptedQuote>>[] = [];
    for (let i = 0; i < 10; i++) quotes.push(await acceptedQuote(store));
    const made = await Promise.all(quotes.map((about, i) => (i % 2 ? other : store).invoices.issue(about, INVOICE, 1)));
    expect(made.map(({ number }) => number).toSorted((a, b) => a - b)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10]);
  } finally {
    first.close();
    second.close();
    rmSync(folder, { recursive: true });
  }
});
