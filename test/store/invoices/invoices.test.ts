import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { UNNAMED_VEHICLE } from "../../../src/core/quotes/quote-document.ts";
import { openDatabase } from "../../../src/store/migrations.ts";
import { workspaceStore } from "../../../src/store/workspace-store.ts";
import { engines, newStore, random, testClock } from "../engines.ts";
import { acceptedQuote, INVOICE } from "../invoice-samples.ts";
import { CONTENT } from "../quote-samples.ts";
import { VAN } from "../samples.ts";
import { cash, creditNote, InvoiceDatabase } from "./invoice-database.ts";

describe.each(engines)("invoices on $name", ({ start }) => {
  const database = new InvoiceDatabase(start);

  test("many at once get the numbers one after the other, without a gap and none twice", async () => {
    const store = await database.newStore();
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
    const store = await database.newStore();
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
    const store = await database.newStore();
    const about = await acceptedQuote(store);
    const one = await store.invoices.issue(about, INVOICE, 1, "key");
    expect(await store.invoices.issue(about, INVOICE, 1, "key")).toEqual(one);
    expect((await store.invoices.issue(await acceptedQuote(store), INVOICE, 1)).number).toBe(2);
  });

  test("only an accepted quote is billed, and no sample", async () => {
    const store = await database.newStore();
    const { id: vehicle_id } = await store.vehicles.create(VAN);
    const { id: quote_id } = await store.quotes.create(vehicle_id, CONTENT);
    const about = { quote_id, vehicle_id, customer_id: null };
    await expect(store.invoices.issue(about, INVOICE, 1)).rejects.toMatchObject({ code: "changed" });
  });

  test("a quote that is billed keeps its answer", async () => {
    const { store, about } = await database.issued();
    await expect(store.quotes.takeBackAnswer(about.quote_id, 3)).rejects.toMatchObject({ code: "changed" });
  });

  test("are found by number, name, vehicle and plate, and by what is owing", async () => {
    const { store, invoice } = await database.issued();
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
    const store = await database.newStore();
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
    const { store, invoice } = await database.issued();
    const paid = await store.invoices.pay(invoice.id, cash(2_00));
    await store.invoices.reverse(invoice.id, paid.id, "2026-05-03");
    await store.invoices.credit(invoice, creditNote(1_00));
    const document = await store.transfer.export();
    const empty = await database.newStore();
    const report = await empty.transfer.import(document);
    expect(report).toMatchObject({ invoices: { added: 2 }, payments: { added: 2 } });
    expect(await empty.invoices.account(invoice.id)).toEqual(await store.invoices.account(invoice.id));
    expect(await empty.transfer.import(document)).toMatchObject({
      invoices: { same: 2, added: 0 },
      payments: { same: 2 },
    });
    const { store: other } = await database.issued();
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
    const each = <T>(of: (by: typeof store, i: number) => Promise<T>) =>
      Promise.all(quotes.map((_, i) => of(i % 2 ? other : store, i)));
    const sorted = (made: readonly { number: number }[]) => made.map(({ number }) => number).toSorted((a, b) => a - b);
    const ten = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10];
    const made = await each((by, i) => by.invoices.issue(quotes[i]!, INVOICE, 1));
    expect(sorted(made)).toEqual(ten);
    expect(sorted(await each((by, i) => by.invoices.credit(made[i]!, creditNote(1_00))))).toEqual(ten);
    const { id } = await store.vehicles.create(VAN);
    expect(sorted(await each((by) => by.quotes.create(id, CONTENT)))).toEqual(ten.map((number) => number + 10));
  } finally {
    first.close();
    second.close();
    rmSync(folder, { recursive: true });
  }
});
