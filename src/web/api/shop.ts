import { QUOTE_STATES } from "../../core/quotes/quote.ts";
import { keyOf, pageOf } from "../../store/page.ts";
import type { Deps } from "../edge/deps.ts";
import { oneOf } from "../forms/typed-values.ts";
import { paging, param, today, uncachedJson, wrongQuery } from "./asked.ts";
import type { Api, ApiContext } from "./operation.ts";

/** Customers, quotes and invoices as JSON, to be read: lists page by page, and each one whole. */
export function addShop(api: Api, deps: Deps): void {
  const reads = { method: "get", role: "viewer" } as const;
  api.add(
    {
      ...reads,
      path: "/api/customers",
      id: "listCustomers",
      summary: "Customers by name, with their vehicles as papers name them.",
      query: ["search", "limit", "after"],
      gives: "CustomerPage",
    },
    async (c) => uncachedJson(c, await c.var.store.customers.list({ search: searched(c), ...paging(c) })),
  );
  api.add(
    { ...reads, path: "/api/customers/:id", id: "readCustomer", summary: "One customer.", gives: "Customer" },
    async (c) => uncachedJson(c, await c.var.store.customers.get(param(c, "id"))),
  );
  api.add(
    {
      ...reads,
      path: "/api/quotes",
      id: "listQuotes",
      summary: "Quotes, newest first.",
      query: ["search", "state", "limit", "after"],
      gives: "QuotePage",
    },
    async (c) => {
      const { limit, after } = paging(c);
      const [before] = after === null ? [null] : (keyOf(after, ["number"]) as [number]);
      const looked_for = { text: searched(c), state: stateAsked(c), today: await today(c, deps), before };
      const found = await c.var.store.quotes.search({ ...looked_for, limit: limit + 1 });
      return uncachedJson(
        c,
        pageOf(found, limit, ({ number }) => [number]),
      );
    },
  );
  api.add(
    { ...reads, path: "/api/quotes/:id", id: "readQuote", summary: "One quote, with what was sent.", gives: "Quote" },
    async (c) => uncachedJson(c, await c.var.store.quotes.get(param(c, "id"))),
  );
  api.add(
    {
      ...reads,
      path: "/api/invoices",
      id: "listInvoices",
      summary: "Invoices and credit notes, newest first.",
      query: ["search", "limit", "after"],
      gives: "InvoicePage",
    },
    async (c) => {
      const { limit, after } = paging(c);
      const [before] = after === null ? [null] : (keyOf(after, ["string"]) as [string]);
      const looked_for = { text: searched(c), open: false, before };
      const found = await c.var.store.invoices.search({ ...looked_for, limit: limit + 1 });
      return uncachedJson(
        c,
        pageOf(found, limit, ({ id }) => [id]),
      );
    },
  );
  api.add(
    {
      ...reads,
      path: "/api/invoices/:id",
      id: "readInvoice",
      summary: "One invoice or credit note as it was issued, with payments and what is given back.",
      gives: "InvoiceAccount",
    },
    async (c) => uncachedJson(c, await c.var.store.invoices.account(param(c, "id"))),
  );
}

function searched(c: ApiContext): string {
  return (c.req.query("search") ?? "").trim().slice(0, 120);
}

function stateAsked(c: ApiContext) {
  const asked = c.req.query("state");
  const state = oneOf(QUOTE_STATES, asked ?? null) ?? null;
  if (asked === undefined || state !== null) return state;
  throw wrongQuery("state", `Give one of ${QUOTE_STATES.join(", ")}.`);
}
