import { describe, expect, test } from "vitest";
import { RETAIL_BOOK } from "../../../data/price-book.ts";
import { bookCsv, bookOfCsv } from "../../../src/web/prices/book-csv.ts";
import { textOf } from "../../support/page-form.ts";
import { bookForm, PricesDesk } from "./prices-desk.ts";

describe("the page of a price book", () => {
  const desk = new PricesDesk();

  test("a book is changed by its form, and is the workspace's own from then on", async () => {
    const form = await desk.formOf("/prices/retail");
    expect(Object.fromEntries(form)).toMatchObject({ "hours.hose": "1.5", tax_parts: "7", "per.R-134a": "oz" });
    form.set("labor_rate", "$1,095.25");
    form.set("hours.hose", "1.75");
    form.set("tax_labor", "2.5 %");
    form.set("supplies_most", "");
    form.delete("opened.joint");
    const answer = await desk.editor.post("/prices/retail", form);
    expect(answer.status).toBe(303);
    expect((await desk.store.priceBooks.get("retail")).book).toEqual({
      ...RETAIL_BOOK,
      labor_rate_micro: 1_095_250_000,
      places: {
        ...RETAIL_BOOK.places,
        hose: { ...RETAIL_BOOK.places.hose, hours_milli: 1750 },
        joint: { ...RETAIL_BOOK.places.joint, opened: false },
      },
      taxes: { ...RETAIL_BOOK.taxes, labor: { name: "Tax on labor", rate_ppm: 25_000 } },
      supplies: { ...RETAIL_BOOK.supplies, most_minor: null },
    });
    expect(textOf(await desk.editor.page("/prices/retail?saved=1"))).not.toContain("These are sample prices");
  });

  test("prices that depend on the vehicle may be left out, and go with the file", async () => {
    const form = await desk.formOf("/prices/retail");
    expect([form.get("parts.electric-compressor"), form.get("service_extra.R-1234yf")]).toEqual(["", ""]);
    form.set("parts.electric-compressor", "1,900");
    form.set("service_extra.R-1234yf", "70");
    expect((await desk.editor.post("/prices/retail", form)).status).toBe(303);
    const { book } = await desk.store.priceBooks.get("retail");
    expect(book.electric_compressor).toEqual({ parts_micro: 1_900_000_000 });
    expect(book.refrigerants["R-1234yf"]).toMatchObject({ service_extra_micro: 70_000_000 });
    expect(book.refrigerants["R-134a"]).toEqual(RETAIL_BOOK.refrigerants["R-134a"]);
    const exported = bookCsv(book);
    expect(bookOfCsv(exported, "USD")).toEqual({ ok: true, book });
    // A file of before they were asked for.
    const older = exported.replace(/^(hours|parts)\.electric.*\r\n/gm, "").replace(/^service_extra.*\r\n/gm, "");
    const { electric_compressor: _, ...rest } = book;
    expect(bookOfCsv(older, "USD")).toEqual({ ok: true, book: { ...rest, refrigerants: RETAIL_BOOK.refrigerants } });
  });

  test("what cannot be read is given back as it was typed, with what would be right", async () => {
    const form = await desk.formOf("/prices/retail");
    form.set("name", "");
    form.set("labor_rate", "dear");
    form.set("hours.hose", "101");
    form.set("tax_parts", "107");
    form.set("valid_days", "0");
    form.set("per.R-12", "stone");
    form.set("parts.joint", "1.1234567");
    const answer = await desk.editor.post("/prices/retail", form);
    const page = await answer.text();
    expect(answer.status).toBe(422);
    for (const field of ["name", "labor_rate", "hours.hose", "tax_parts", "valid_days", "per.R-12", "parts.joint"])
      expect(page).toContain(`href="#${field}"`);
    expect(page).toContain('value="dear"');
    expect(textOf(page)).toContain("Enter at most 6 decimals");
    expect((await desk.store.priceBooks.get("retail")).version).toBe(0);
  });

  test("two at one book: the second is told, and can put theirs in place", async () => {
    const [first, second] = [await desk.formOf("/prices/retail"), await desk.formOf("/prices/retail")];
    first.set("name", "First");
    second.set("name", "Second");
    await desk.editor.post("/prices/retail", first);
    const answer = await desk.editor.post("/prices/retail", second);
    const page = await answer.text();
    expect(answer.status).toBe(409);
    expect(page).toContain('value="Second"');
    const again = bookForm(page, "/prices/retail");
    expect((await desk.editor.post("/prices/retail", again)).status).toBe(303);
    expect((await desk.store.priceBooks.get("retail")).book.name).toBe("Second");
  });
});
