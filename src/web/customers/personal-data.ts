import type { WorkspaceStore } from "../../store/workspace-store.ts";

/**
 * Everything in the records about one person, to be handed over on request: their own data, their vehicles with the
 * current entries and what came of each follow-up, their quotes, and what was billed and paid.
 */
export async function personalData(store: WorkspaceStore, customer_id: string, exported_at: string) {
  const [customer, owned, given] = await Promise.all([
    store.customers.get(customer_id),
    store.customers.vehiclesOf(customer_id),
    store.quotes.ofCustomer(customer_id),
  ]);
  const vehicles = await Promise.all(
    owned.map(async ({ id, words, plate, vin, odometer }) => {
      const { vehicle, charge_log, findings, readings, notes } = await store.record(id);
      const follow_ups = await store.followUps.closedOf(id);
      return { vehicle, on_paper: { words, plate, vin, odometer }, charge_log, findings, readings, notes, follow_ups };
    }),
  );
  // What was written and sent, without the shop's price book.
  const quotes = await Promise.all(
    given.map(async ({ id }) => {
      const { content, ...quote } = await store.quotes.get(id);
      const { book, ...said } = content;
      return { ...quote, content: said };
    }),
  );
  const billed = await store.invoices.ofCustomer(customer_id);
  const invoices = await Promise.all(
    billed.map(async ({ id }) => {
      const { invoice, payments } = await store.invoices.account(id);
      return { ...invoice, payments };
    }),
  );
  return { format: "seepwise-personal-data", version: 1, exported_at, customer, vehicles, quotes, invoices };
}
