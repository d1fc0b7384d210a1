import { describe, expect, test } from "vitest";
import { FLEET_BOOK, RETAIL_BOOK } from "../../../data/price-book.ts";
import { bookCsv, bookOfCsv } from "../../../src/web/prices/book-csv.ts";
import { textOf } from "../../support/page-form.ts";
import { PricesDesk } from "./prices-desk.ts";

describe("a price book as a file", () => {
  const desk = new PricesDesk();

  test("what is exported comes back the same, into a new book or in place of one", async () => {
    const answer = await desk.editor.get("/prices/retail/book.csv");
    expect(answer.headers.get("Content-Type")).toBe("text/csv; charset=utf-8");
    const text = await answer.text();
    expect(text).toMatch(/^item,value\r\ncurrency,USD\r\nname,Retail\r\nlabor_rate,110\.00\r\n/);
    const made = await desk.upload(text);
    expect(made.status).toBe(303);
    const id = /\/prices\/(\w+)/.exec(made.headers.get("Location") ?? "")?.[1] ?? "";
    // No two books in the list have one name.
    expect((await desk.store.priceBooks.get(id)).book).toEqual({ ...RETAIL_BOOK, name: "Retail 2" });
    expect((await desk.upload(text, "fleet 0")).status).toBe(303);
    expect((await desk.store.priceBooks.get("fleet")).book).toEqual({ ...RETAIL_BOOK, name: FLEET_BOOK.name });
  });

  test("a wrong file changes nothing, and the page says what is wrong", async () => {
    for (const [text, message] of [
      ["", "Choose the file with the price book"],
      ["a,b\r\n1,2\r\n", "Its first row says item,value"],
      [bookCsv({ ...RETAIL_BOOK, currency: "EUR" }), "Row 2: the file counts in EUR, and here is USD."],
    ] as const) {
      const answer = await desk.upload(text);
      expect(answer.status).toBe(422);
      expect(textOf(await answer.text())).toContain(message);
    }
    expect(await desk.store.priceBooks.list()).toHaveLength(2);
  });

  test("in place of a book that someone else has changed meanwhile, it is refused", async () => {
    await desk.store.priceBooks.update("retail", 0, RETAIL_BOOK);
    expect((await desk.upload(bookCsv(RETAIL_BOOK), "retail 0")).status).toBe(409);
  });
});

describe("bookOfCsv(text)", () => {
  const text = bookCsv(RETAIL_BOOK);

  test("reads what spreadsheets make of it: semicolons, tabs, a byte order mark, a decimal comma, empty rows", () => {
    const rows = text.trim().split("\r\n");
    const semicolons = rows.map((row) => row.replace(",", ";").replace(/(?<=\d)\.(?=\d)/, ",")).join("\n");
    for (const variant of [
      `\uFEFF${text}`,
      rows.map((row) => row.replace(",", "\t")).join("\r\n"),
      `${text}\r\n\r\n,\r\n`,
      rows.toReversed().slice(0, -1).toSpliced(0, 0, rows[0]!).join("\n"),
      semicolons,
    ])
      expect(bookOfCsv(variant, "USD")).toEqual({ ok: true, book: RETAIL_BOOK });
  });

  test.each([
    ["an unknown item", `${text}polish,5\r\n`, /^Row \d+: there is no item “polish”/],
    ["an item twice", `${text}recover,5\r\n`, /^Row \d+: recover is there twice; it stands in row \d+\.$/],
    ["an item missing", text.replace(/^recover,.*\r\n/m, ""), /^These items are missing: recover\.$/],
    ["a number that is none", text.replace("recover,45.00", "recover,cheap"), /^Row \d+: recover: Enter a price/],
    ["a rate over 100", text.replace("tax_parts,7", "tax_parts,107"), /^Row \d+: tax_parts: Enter a percentage/],
    ["a quotation mark that is never closed", `${text}"name,x`, /^This is not a price book/],
  ])("refuses %s", (_what, csv, message) => {
    const read = bookOfCsv(csv, "USD");
    expect(read).toMatchObject({ ok: false, messages: [expect.stringMatching(message)] });
  });

  test("a name that a spreadsheet would run is guarded on the way out, and the same on the way in", () => {
    const book = { ...RETAIL_BOOK, name: '=HYPERLINK("x","y")' };
    const guarded = bookCsv(book);
    expect(guarded).toContain(`name,"'=HYPERLINK(""x"",""y"")"`);
    expect(bookOfCsv(guarded, "USD")).toEqual({ ok: true, book });
  });
});
