import { describe, expect, test } from "vitest";
import { engines } from "../engines.ts";
import { acceptedQuote, INVOICE } from "../invoice-samples.ts";
import { cash, creditNote, InvoiceDatabase } from "./invoice-database.ts";

describe.each(engines)("invoices on $name", ({ start }) => {
  const database = new InvoiceDatabase(start);

  test("402.67, less 200.00 paid, less 100.00 given back: 102.67 owing; 50.00 more given back after all is paid: 50.00 to pay back", async () => {
    const { store, invoice } = await database.issued();
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

  test("a deposit counts as paid on one invoice: 402.67 less 100.00; on the next one, once it is taken back there", async () => {
    const store = await database.newStore();
    const about = await acceptedQuote(store);
    const deposit = { amount_minor: 100_00, paid_on: "2026-05-02", method: "cash" as const };
    await store.quotes.agree(about.quote_id, 3, { ready_by: null, extra_minor: 0, deposit });
    const paid = async (id: string) => (await store.invoices.account(id)).balance.paid_minor;
    const first = await store.invoices.issue(about, INVOICE, 1);
    expect([await paid(first.id), await store.invoices.openDeposit(about.quote_id)]).toEqual([100_00, 0]);
    const changed = { ready_by: null, extra_minor: 0, deposit: null };
    await expect(store.quotes.agree(about.quote_id, 4, changed)).rejects.toThrow("Someone else changed this");
    await store.invoices.credit(first, creditNote(402_67));
    const second = await store.invoices.issue(about, INVOICE, 1);
    expect(await paid(second.id)).toBe(0);
    await store.invoices.credit(second, creditNote(402_67));
    const [taken] = (await store.invoices.account(first.id)).payments;
    await store.invoices.reverse(first.id, taken!.id, "2026-05-03");
    expect(await store.invoices.openDeposit(about.quote_id)).toBe(100_00);
    const third = await store.invoices.issue(about, INVOICE, 1);
    expect(await paid(third.id)).toBe(100_00);
    expect(await paid(first.id)).toBe(0);
  });

  test("two payments of all that is owing at once: one is taken", async () => {
    const { store, invoice } = await database.issued();
    const both = await Promise.allSettled(
      [cash(402_67), cash(402_67)].map((one) => store.invoices.pay(invoice.id, one)),
    );
    expect(both.filter(({ status }) => status === "fulfilled")).toHaveLength(1);
  });

  test("a payment is taken back once, by a line of its own", async () => {
    const { store, invoice } = await database.issued();
    const paid = await store.invoices.pay(invoice.id, cash(200_00));
    const back = await store.invoices.reverse(invoice.id, paid.id, "2026-05-03");
    expect(back).toMatchObject({ amount_minor: -200_00, reverses: paid.id, paid_on: "2026-05-03" });
    await expect(store.invoices.reverse(invoice.id, paid.id, "2026-05-03")).rejects.toMatchObject({ code: "changed" });
    await expect(store.invoices.reverse(invoice.id, back.id, "2026-05-03")).rejects.toMatchObject({ code: "changed" });
    expect((await store.invoices.account(invoice.id)).payments).toHaveLength(2);
  });

  test("the tables refuse to change or delete what was issued or paid", async () => {
    const { store, invoice } = await database.issued();
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
      await expect(database.sql.all(change, of), change).rejects.toThrow();
  });
});
