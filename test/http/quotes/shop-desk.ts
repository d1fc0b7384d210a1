import { beforeEach, expect } from "vitest";
import { VAN } from "../../store/samples.ts";
import type { LinksApp } from "../../support/links-app.ts";
import { EditorsDesk } from "../../support/links-desk.ts";
import { formIn, textOf } from "../../support/page-form.ts";
import { Person } from "../../support/person.ts";

export const LETTERHEAD = {
  version: "0",
  shop: "North Yard Cooling",
  address: "12 Mill Lane\nEastbrook",
  phone: "",
  email: "",
  certificate: "",
  tax_number: "",
  terms: "",
  number_format: "1,234.56",
};

/** A leak that is worth a search; dates far enough back for any clock. */
export const LOG = [
  { date: "2024-05-01", finish: "weighed" as const },
  { date: "2025-06-15", cooling: "weak" as const, added_g: 250, added_by: "scale" as const, finish: "gauges" as const },
  { date: "2026-05-01", cooling: "weak" as const },
];

/** A shop with a leaking van and its customer, new for each test of the `describe` it stands in. */
export class ShopDesk extends EditorsDesk {
  customer!: Person;
  /** The van's id. */
  vehicle!: string;

  constructor(start: () => Promise<LinksApp>) {
    super(start);
    beforeEach(async () => {
      this.customer = new Person(this.app);
      const { id } = await this.store.vehicles.create({ ...VAN, label: "White van" }, { charge_log: LOG });
      this.vehicle = id;
    });
  }

  get shop(): Person {
    return this.editor;
  }

  /** Begins a draft and gives its address. */
  async begin(fields: Record<string, string> = {}): Promise<string> {
    const answer = await this.shop.post(`/vehicles/${this.vehicle}/quotes`, {
      customer: "Robin Ames",
      keep_years: "5",
      book: "retail",
      ...fields,
    });
    expect(answer.status).toBe(303);
    return answer.headers.get("Location") ?? "";
  }

  /** The draft's form, changed and sent by its button that goes to `button` below the draft's address; "" saves. */
  async submit(path: string, button: string, change: (form: URLSearchParams) => void = () => {}) {
    const page = await this.shop.page(path);
    const form = formIn(page, "builder");
    change(form);
    if (button !== "") expect(page).toContain(` formaction="${path}/${button}"`);
    return this.shop.post(button === "" ? path : `${path}/${button}`, form);
  }

  /** The book that came with the program, as prices of the shop's own: with invented ones nothing is sent. */
  async ownPrices(): Promise<void> {
    const { book, version } = await this.store.priceBooks.get("retail");
    if (version === 0) await this.store.priceBooks.update("retail", 0, book);
  }

  /** A quote that was sent, and its customer's link. */
  async send(change?: (form: URLSearchParams) => void): Promise<{ path: string; link: string }> {
    await this.ownPrices();
    await this.shop.post("/prices/letterhead", LETTERHEAD);
    const path = await this.begin();
    const answer = await this.submit(path, "send", change);
    const page = await answer.text();
    expect(answer.status, textOf(page)).toBe(200);
    return { path, link: linkIn(page) };
  }
}

/** The address of a quote's customer, from the page that shows it once. */
export function linkIn(page: string): string {
  return new URL(/href="([^"]*\/q\/[\w-]{43,86})"/.exec(page)?.[1] ?? "").pathname;
}
