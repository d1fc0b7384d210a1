import { describe, expect, test } from "vitest";
import { RETAIL_BOOK } from "../../../data/price-book.ts";
import { settingsOf } from "../../../src/store/workspaces.ts";
import { bookCsv } from "../../../src/web/prices/book-csv.ts";
import { textOf } from "../../support/page-form.ts";
import { LETTERHEAD } from "../quotes/shop-desk.ts";
import { PricesDesk } from "./prices-desk.ts";

describe("the price books of a workspace", () => {
  const desk = new PricesDesk();

  test("begin with invented ones, and say so", async () => {
    const page = textOf(await desk.editor.page("/prices"));
    expect(page).toContain("These are sample prices");
    expect(page).toMatch(/Fleet account sample prices \$96\.00/);
    expect(page).toMatch(/Retail sample prices \$110\.00/);
  });

  test("another book begins with the prices of one, and a book can be put away", async () => {
    expect((await desk.editor.post("/prices", { name: " ", from: "retail" })).status).toBe(422);
    const made = await desk.editor.post("/prices", { name: "Winter", from: "retail" });
    const path = made.headers.get("Location") ?? "";
    expect((await desk.formOf(path)).get("labor_rate")).toBe("110.00");
    expect((await desk.editor.post("/prices", { name: "None", from: "constructor" })).status).toBe(404);
    await desk.editor.post(`${path}/archive`, { version: "1" });
    const [, in_use] = /<table class="price-books">([\s\S]*?)<\/table>/.exec(await desk.editor.page("/prices")) ?? [];
    expect(in_use).toContain("Retail");
    expect(in_use).not.toContain("Winter");
  });

  test("a viewer sees the prices and cannot change them", async () => {
    const viewer = await desk.as("viewer");
    const page = await viewer.page("/prices/retail");
    expect(page).toContain("<fieldset disabled");
    expect(page).not.toContain("Save these prices");
    expect((await desk.upload(bookCsv(RETAIL_BOOK), "", viewer)).status).toBe(403);
  });
});

describe("a price book in other money", () => {
  const desk = new PricesDesk();

  test("the amounts of another currency and another way of writing", async () => {
    const { id } = await desk.store.priceBooks.create({ ...RETAIL_BOOK, currency: "JPY" });
    await desk.editor.post("/prices/letterhead", { ...LETTERHEAD, number_format: "1.234,56" });
    const form = await desk.formOf(`/prices/${id}`);
    expect(form.get("labor_rate")).toBe("110");
    expect(form.get("hours.hose")).toBe("1,5");
    form.set("labor_rate", "8.900");
    form.set("supplies_most", "3.500");
    form.set("refrigerant.R-134a", "12,5");
    expect((await desk.editor.post(`/prices/${id}`, form)).status).toBe(303);
    expect((await desk.store.priceBooks.get(id)).book).toMatchObject({
      currency: "JPY",
      labor_rate_micro: 8_900_000_000,
      supplies: { most_minor: 3500 },
      refrigerants: { "R-134a": { price_micro: 12_500_000 } },
    });
  });

  test("a new book in the workspace's currency begins without a price, and is used once it is saved", async () => {
    const settings = await desk.store.settings.get();
    await desk.store.settings.update({ ...settingsOf(settings), currency: "EUR" }, settings.version);
    const form = await desk.formOf("/prices/new");
    expect(form.get("labor_rate")).toBe("");
    expect(form.get("hours.hose")).toBe("1.5");
    const refused = await desk.editor.post("/prices/new", form);
    expect(refused.status).toBe(422);
    expect(await refused.text()).toContain("Enter a price");
    for (const [name, value] of form) if (value === "" && name !== "supplies_most") form.set(name, "20");
    const made = await desk.editor.post("/prices/new", form);
    expect(made.status).toBe(303);
    const [own] = await desk.store.priceBooks.own();
    expect(own!.book).toMatchObject({ currency: "EUR", labor_rate_micro: 20_000_000 });
    expect(await desk.editor.page("/prices")).toContain("used for answers");
  });
});
