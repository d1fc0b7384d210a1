import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { FLEET_BOOK, RETAIL_BOOK } from "../../data/price-book.ts";
import type { Role } from "../../src/store/roles.ts";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import { settingsOf } from "../../src/store/workspaces.ts";
import { bookCsv, bookOfCsv } from "../../src/web/prices/book-csv.ts";
import { newStore } from "../store/engines.ts";
import { browser, type LinksApp, linksOnNode } from "../support/links-app.ts";
import { formIn, textOf } from "../support/page-form.ts";

describe("price books by their pages", () => {
  let app: LinksApp;
  let store: WorkspaceStore;
  let cookie: Record<string, string>;
  beforeAll(async () => {
    app = await linksOnNode();
  });
  beforeEach(async () => {
    store = await newStore(app.sql);
    cookie = await cookieOf("editor");
  });
  afterAll(() => app.close());

  async function cookieOf(role: Role) {
    return (await browser(app, store, role)).headers;
  }

  const get = (path: string) => app.request(path, { headers: cookie });
  const post = (path: string, fields: URLSearchParams | Record<string, string>) =>
    app.request(path, {
      method: "POST",
      headers: { ...cookie, "Sec-Fetch-Site": "same-origin", "Content-Type": "application/x-www-form-urlencoded" },
      body: new URLSearchParams(fields).toString(),
    });

  async function upload(text: string, into = ""): Promise<Response> {
    const boundary = "seepwise-test-boundary";
    const part = (head: string, value: string) =>
      `--${boundary}\r\nContent-Disposition: form-data; ${head}\r\n\r\n${value}\r\n`;
    return app.request("/prices/import", {
      method: "POST",
      headers: {
        ...cookie,
        "Sec-Fetch-Site": "same-origin",
        "Content-Type": `multipart/form-data; boundary=${boundary}`,
      },
      body: [
        part('name="into"', into),
        part('name="file"; filename="book.csv"\r\nContent-Type: text/csv', text),
        `--${boundary}--\r\n`,
      ].join(""),
    });
  }

  async function formOf(path: string): Promise<URLSearchParams> {
    const page = await (await get(path)).text();
    return formIn(page.replace(`<form method="post" action="${path}"`, `$& id="book"`), "book");
  }

  test("begin with invented ones, and say so", async () => {
    const page = textOf(await (await get("/prices")).text());
    expect(page).toContain("These are sample prices");
    expect(page).toMatch(/Fleet account sample prices \$96\.00/);
    expect(page).toMatch(/Retail sample prices \$110\.00/);
  });

  test("a book is changed by its form, and is the workspace's own from then on", async () => {
    const form = await formOf("/prices/retail");
    expect(Object.fromEntries(form)).toMatchObject({ "hours.hose": "1.5", tax_parts: "7", "per.R-134a": "oz" });
    form.set("labor_rate", "$1,095.25");
    form.set("hours.hose", "1.75");
    form.set("tax_labor", "2.5 %");
    form.set("supplies_most", "");
    form.delete("opened.joint");
    const answer = await post("/prices/retail", form);
    expect(answer.status).toBe(303);
    expect((await store.priceBooks.get("retail")).book).toEqual({
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
    expect(textOf(await (await get("/prices/retail?saved=1")).text())).not.toContain("These are sample prices");
  });

  test("prices that depend on the vehicle may be left out, and go with the file", async () => {
    const form = await formOf("/prices/retail");
    expect([form.get("parts.electric-compressor"), form.get("service_extra.R-1234yf")]).toEqual(["", ""]);
    form.set("parts.electric-compressor", "1,900");
    form.set("service_extra.R-1234yf", "70");
    expect((await post("/prices/retail", form)).status).toBe(303);
    const { book } = await store.priceBooks.get("retail");
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
    const form = await formOf("/prices/retail");
    form.set("name", "");
    form.set("labor_rate", "dear");
    form.set("hours.hose", "101");
    form.set("tax_parts", "107");
    form.set("valid_days", "0");
    form.set("per.R-12", "stone");
    form.set("parts.joint", "1.1234567");
    const answer = await post("/prices/retail", form);
    const page = await answer.text();
    expect(answer.status).toBe(422);
    for (const field of ["name", "labor_rate", "hours.hose", "tax_parts", "valid_days", "per.R-12", "parts.joint"])
      expect(page).toContain(`href="#${field}"`);
    expect(page).toContain('value="dear"');
    expect(textOf(page)).toContain("Enter at most 6 decimals");
    expect((await store.priceBooks.get("retail")).version).toBe(0);
  });

  test("two at one book: the second is told, and can put theirs in place", async () => {
    const [first, second] = [await formOf("/prices/retail"), await formOf("/prices/retail")];
    first.set("name", "First");
    second.set("name", "Second");
    await post("/prices/retail", first);
    const answer = await post("/prices/retail", second);
    const page = await answer.text();
    expect(answer.status).toBe(409);
    expect(page).toContain('value="Second"');
    const again = formIn(page.replace('<form method="post" action="/prices/retail"', `$& id="book"`), "book");
    expect((await post("/prices/retail", again)).status).toBe(303);
    expect((await store.priceBooks.get("retail")).book.name).toBe("Second");
  });

  test("another book begins with the prices of one, and a book can be put away", async () => {
    expect((await post("/prices", { name: " ", from: "retail" })).status).toBe(422);
    const made = await post("/prices", { name: "Winter", from: "retail" });
    const path = made.headers.get("Location") ?? "";
    expect((await formOf(path)).get("labor_rate")).toBe("110.00");
    expect((await post("/prices", { name: "None", from: "constructor" })).status).toBe(404);
    await post(`${path}/archive`, { version: "1" });
    const [, in_use] = /<table class="price-books">([\s\S]*?)<\/table>/.exec(await (await get("/prices")).text()) ?? [];
    expect(in_use).toContain("Retail");
    expect(in_use).not.toContain("Winter");
  });

  test("the amounts of another currency and another way of writing", async () => {
    const { id } = await store.priceBooks.create({ ...RETAIL_BOOK, currency: "JPY" });
    const letterhead = { shop: "Kita", address: "", phone: "", email: "", certificate: "", tax_number: "", terms: "" };
    await post("/prices/letterhead", { ...letterhead, version: "0", number_format: "1.234,56" });
    const form = await formOf(`/prices/${id}`);
    expect(form.get("labor_rate")).toBe("110");
    expect(form.get("hours.hose")).toBe("1,5");
    form.set("labor_rate", "8.900");
    form.set("supplies_most", "3.500");
    form.set("refrigerant.R-134a", "12,5");
    expect((await post(`/prices/${id}`, form)).status).toBe(303);
    expect((await store.priceBooks.get(id)).book).toMatchObject({
      currency: "JPY",
      labor_rate_micro: 8_900_000_000,
      supplies: { most_minor: 3500 },
      refrigerants: { "R-134a": { price_micro: 12_500_000 } },
    });
  });

  test("a new book in the workspace's currency begins without a price, and is used once it is saved", async () => {
    const settings = await store.settings.get();
    await store.settings.update({ ...settingsOf(settings), currency: "EUR" }, settings.version);
    const form = await formOf("/prices/new");
    expect(form.get("labor_rate")).toBe("");
    expect(form.get("hours.hose")).toBe("1.5");
    const refused = await post("/prices/new", form);
    expect(refused.status).toBe(422);
    expect(await refused.text()).toContain("Enter a price");
    for (const [name, value] of form) if (value === "" && name !== "supplies_most") form.set(name, "20");
    const made = await post("/prices/new", form);
    expect(made.status).toBe(303);
    const [own] = await store.priceBooks.own();
    expect(own!.book).toMatchObject({ currency: "EUR", labor_rate_micro: 20_000_000 });
    expect(await (await get("/prices")).text()).toContain("used for answers");
  });

  describe("as a file", () => {
    test("what is exported comes back the same, into a new book or in place of one", async () => {
      const answer = await get("/prices/retail/book.csv");
      expect(answer.headers.get("Content-Type")).toBe("text/csv; charset=utf-8");
      const text = await answer.text();
      expect(text).toMatch(/^item,value\r\ncurrency,USD\r\nname,Retail\r\nlabor_rate,110\.00\r\n/);
      const made = await upload(text);
      expect(made.status).toBe(303);
      const id = /\/prices\/(\w+)/.exec(made.headers.get("Location") ?? "")?.[1] ?? "";
      // No two books in the list have one name.
      expect((await store.priceBooks.get(id)).book).toEqual({ ...RETAIL_BOOK, name: "Retail 2" });
      expect((await upload(text, "fleet 0")).status).toBe(303);
      expect((await store.priceBooks.get("fleet")).book).toEqual({ ...RETAIL_BOOK, name: FLEET_BOOK.name });
    });

    test("a wrong file changes nothing, and the page says what is wrong", async () => {
      for (const [text, message] of [
        ["", "Choose the file with the price book"],
        ["a,b\r\n1,2\r\n", "Its first row says item,value"],
        [bookCsv({ ...RETAIL_BOOK, currency: "EUR" }), "Row 2: the file counts in EUR, and here is USD."],
      ] as const) {
        const answer = await upload(text);
        expect(answer.status).toBe(422);
        expect(textOf(await answer.text())).toContain(message);
      }
      expect(await store.priceBooks.list()).toHaveLength(2);
    });

    test("in place of a book that someone else has changed meanwhile, it is refused", async () => {
      await store.priceBooks.update("retail", 0, RETAIL_BOOK);
      expect((await upload(bookCsv(RETAIL_BOOK), "retail 0")).status).toBe(409);
    });
  });

  test("a viewer sees the prices and cannot change them", async () => {
    cookie = await cookieOf("viewer");
    const page = await (await get("/prices/retail")).text();
    expect(page).toContain("<fieldset disabled");
    expect(page).not.toContain("Save these prices");
    expect((await upload(bookCsv(RETAIL_BOOK))).status).toBe(403);
  });

  test("the head of a quote needs a name; going on leads to our own pages only", async () => {
    const fields = {
      version: "0",
      shop: "",
      address: "",
      phone: "",
      email: "",
      certificate: "",
      tax_number: "",
      terms: "",
      number_format: "1,234.56",
    };
    expect((await post("/prices/letterhead", fields)).status).toBe(422);
    const lead = async (back: string, version: string) =>
      (await post("/prices/letterhead", { ...fields, shop: "North", back, version })).headers.get("Location");
    expect(await lead("/vehicles/abc/quotes/def", "0")).toBe("/vehicles/abc/quotes/def");
    for (const [i, back] of ["https://elsewhere.example", "//elsewhere.example", "/vehicles/../x", ""].entries())
      expect(await lead(back, String(i + 1))).toBe("/prices");
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
