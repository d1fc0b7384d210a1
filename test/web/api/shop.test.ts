import { Ajv2020 } from "ajv/dist/2020.js";
import addFormats from "ajv-formats";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { createApp } from "../../../src/app.ts";
import { openDatabase } from "../../../src/store/migrations.ts";
import type { Sql } from "../../../src/store/sql.ts";
import type { WorkspaceStore } from "../../../src/store/workspace-store.ts";
import type { App } from "../../../src/web/edge/deps.ts";
import { newStore, random } from "../../store/engines.ts";
import { acceptedQuote, INVOICE } from "../../store/invoice-samples.ts";
import { CONTENT } from "../../store/quote-samples.ts";
import { testDeps } from "../../support/deps.ts";
import { bearer } from "../../support/links-app.ts";

/** Customers, quotes and invoices over the API, held against its own description by an independent reader. */
describe("a shop's lists over the API", () => {
  let sql: Sql & { close(): void };
  let app: App;
  let store: WorkspaceStore;
  let headers: Record<string, string>;
  // A record of the six locations names them as required, and by one pattern: not each by itself.
  const ajv = new Ajv2020({ strict: true, strictRequired: false, allowUnionTypes: true, allErrors: true });
  const ids = { customer: "", quote: "", invoice: "" };

  beforeAll(async () => {
    sql = await openDatabase(":memory:");
    app = createApp(testDeps({ sql: () => sql, access_mode: "links", random }));
    store = await newStore(sql);
    headers = (await bearer(store, "viewer")).headers;
    addFormats.default(ajv);
    ajv.addVocabulary(["openapi", "info", "servers", "security", "paths", "webhooks", "components"]);
    ajv.addSchema({ $id: "api", ...((await (await app.request("/api/openapi.json")).json()) as object) });

    const robin = { name: "Robin Ames", phone: "555-0142", email: "", address: "3 Hill Road", note: "" };
    ids.customer = (await store.customers.create(robin)).id;
    const accepted = await acceptedQuote(store, ids.customer);
    ids.quote = accepted.quote_id;
    const on_paper = { words: "2014 sedan", plate: "XR-7 402", vin: "", odometer: "" };
    await store.customers.setParticulars(accepted.vehicle_id, 0, { customer_id: ids.customer, ...on_paper });
    for (let i = 0; i < 4; i++) await store.quotes.create(accepted.vehicle_id, { ...CONTENT, customer: "Kim" });
    const invoice = await store.invoices.issue(accepted, INVOICE, 1);
    ids.invoice = invoice.id;
    await store.invoices.pay(ids.invoice, { amount_minor: 100_00, paid_on: "2026-05-01", method: "card", note: "" });
    const credit = { ...INVOICE, billed: { net_minor: 10_00, taxes: [], total_minor: 10_00 } };
    await store.invoices.credit(invoice, { ...credit, credits: { number: 1, prefix: "", reason: "one hose" } });
  });
  afterAll(() => sql.close());

  async function read(path: string, as = headers) {
    const answer = await app.request(path, { headers: as });
    return {
      status: answer.status,
      body: (await answer.json()) as { items: { number: number }[]; next: string | null },
    };
  }

  test.each([
    ["CustomerPage", () => "/api/customers"],
    ["Customer", () => `/api/customers/${ids.customer}`],
    ["QuotePage", () => "/api/quotes"],
    ["Quote", () => `/api/quotes/${ids.quote}`],
    ["InvoicePage", () => "/api/invoices"],
    ["InvoiceAccount", () => `/api/invoices/${ids.invoice}`],
  ])("%s is as described", async (name, path) => {
    const { status, body } = await read(path());
    const fits = ajv.compile({ $ref: `api#/components/schemas/${name}` });
    fits(body);
    expect([status, fits.errors ?? []]).toEqual([200, []]);
  });

  test("a long list is read to its end, each once", async () => {
    const numbers: number[] = [];
    let after = "";
    for (let page = 0; page < 5; page++) {
      const { body } = await read(`/api/quotes?limit=2${after === "" ? "" : `&after=${encodeURIComponent(after)}`}`);
      numbers.push(...body.items.map(({ number }) => number));
      if (body.next === null) break;
      after = body.next;
    }
    expect(numbers).toEqual([5, 4, 3, 2, 1]);
    const first = await read("/api/invoices?limit=1");
    const second = await read(`/api/invoices?limit=1&after=${encodeURIComponent(first.body.next ?? "")}`);
    expect([second.body.items.length, second.body.next]).toEqual([1, null]);
  });

  test("searched and narrowed; what is asked wrongly is named", async () => {
    expect((await read("/api/quotes?state=accepted")).body.items.map(({ number }) => number)).toEqual([1]);
    expect((await read("/api/customers?search=featherstone")).body.items).toEqual([]);
    expect((await read("/api/customers?search=xr7402")).body.items).toHaveLength(1);
    for (const wrong of [
      "/api/quotes?state=open",
      "/api/quotes?after=5",
      "/api/invoices?after=[5]",
      "/api/quotes?limit=0",
    ])
      expect((await read(wrong)).status, wrong).toBe(422);
  });

  test("no key of a customer's link is told, and another shop's records are not found", async () => {
    expect(JSON.stringify((await read(`/api/quotes/${ids.quote}`)).body)).not.toMatch(/token/);
    const other = (await bearer(await newStore(sql), "owner")).headers;
    for (const path of [`/api/quotes/${ids.quote}`, `/api/invoices/${ids.invoice}`, `/api/customers/${ids.customer}`])
      expect((await read(path, other)).status, path).toBe(404);
    expect((await read("/api/quotes", other)).body.items).toEqual([]);
  });
});
