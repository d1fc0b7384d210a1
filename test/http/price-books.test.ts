import { describe, expect, test } from "vitest";
import { RETAIL_BOOK } from "../../data/price-book.ts";
import { bookCsv, bookOfCsv } from "../../src/web/prices/book-csv.ts";
import { CONTENT } from "../store/quote-samples.ts";
import { VAN } from "../store/samples.ts";
import { linksOnNode } from "../support/links-app.ts";
import { EditorsDesk } from "../support/links-desk.ts";
import { attribute, formFields, formsIn, textOf } from "../support/page-form.ts";

describe("price books", () => {
  const desk = new EditorsDesk(linksOnNode);

  /** The form in a page that is sent to `action`; the page is the one at `action` unless another is given. */
  const formAt = async (action: string, page?: string) =>
    formFields(
      formsIn(page ?? (await desk.editor.page(action))).find((form) => attribute(form, "action") === action) ?? "",
    );

  test("a retired book is only looked at, and brought back as it was", async () => {
    const winter = await desk.store.priceBooks.create({ ...RETAIL_BOOK, name: "Winter" });
    await desk.editor.post(`/prices/${winter.id}/archive`, { version: "1" });
    const retired = await desk.editor.page(`/prices/${winter.id}`);
    expect(textOf(retired)).toContain("This book is retired");
    expect(textOf(retired)).not.toContain("Save these prices");
    const form = await formAt(`/prices/${winter.id}/restoration`, await desk.editor.page("/prices"));
    const back = await desk.editor.post(`/prices/${winter.id}/restoration`, form);
    expect(back.headers.get("Location")).toBe(`/prices/${winter.id}`);
    expect((await desk.store.priceBooks.get(winter.id)).book).toEqual(winter.book);
    expect((await desk.store.priceBooks.list()).map(({ id }) => id)).toContain(winter.id);
  });

  test("no two books in the list have one name: made, saved or brought back; its own name may stay", async () => {
    const winter = await desk.store.priceBooks.create({ ...RETAIL_BOOK, name: "Winter" });
    const twice = await desk.editor.post("/prices", { name: " winter ", from: winter.id });
    expect([twice.status, textOf(await twice.text()).includes("Another book is called winter")]).toEqual([422, true]);
    const fields = await formAt(`/prices/${winter.id}`);
    expect((await desk.editor.post(`/prices/${winter.id}`, fields)).status).toBe(303);
    const other = await desk.store.priceBooks.create({ ...RETAIL_BOOK, name: "Summer" });
    const renamed = await formAt(`/prices/${other.id}`);
    renamed.set("name", "Winter");
    expect((await desk.editor.post(`/prices/${other.id}`, renamed)).status).toBe(422);
    await desk.store.priceBooks.archive(winter.id, 2);
    expect((await desk.editor.post(`/prices/${other.id}`, renamed)).status).toBe(303);
    const back = await desk.editor.post(`/prices/${winter.id}/restoration`, { version: "3" });
    expect(back.status).toBe(422);
    expect(textOf(await back.text())).toContain("Another book is called Winter");
  });

  test("in a draft, lines change places, and pricing anew says what it changed", async () => {
    const { id } = await desk.store.vehicles.create(VAN);
    const draft = await desk.store.quotes.create(id, CONTENT);
    const path = `/vehicles/${id}/quotes/${draft.id}`;
    const texts = async () => (await desk.store.quotes.get(draft.id)).content.options[0]!.lines.map(({ text }) => text);
    const before = await texts();
    const form = await formAt(path);
    const second = form.getAll("line-a")[1]!;
    expect((await desk.editor.post(`${path}/options/a/lines/${second}/up`, form)).status).toBe(303);
    expect(await texts()).toEqual([before[1], before[0], ...before.slice(2)]);
    const dearer = await formAt(path);
    dearer.set(`price-a-${dearer.getAll("line-a")[0]}`, "1000");
    const answer = await desk.editor.post(`${path}/options/a/renewal`, dearer);
    const to = answer.headers.get("Location")!;
    expect(textOf(await desk.editor.page(to.split("#")[0]!))).toMatch(
      /Its lines are reset: \$1,\d{3}\.\d\d before, \$\d{3}\.\d\d now\./,
    );
  });

  test("a shop's own lines: typed whole or not at all, kept, exported, and added to a quote with one press", async () => {
    const winter = await desk.store.priceBooks.create({ ...RETAIL_BOOK, name: "Winter" });
    const fields = await formAt(`/prices/${winter.id}`);
    fields.set("own_text.1", "Diagnosis, paid before");
    fields.set("parts_markup", "12.5");
    fields.set("minimum", "150");
    const half = await desk.editor.post(`/prices/${winter.id}`, fields);
    expect([half.status, textOf(await half.text()).includes("Enter what this line costs")]).toEqual([422, true]);
    fields.set("own_price.1", "60");
    fields.set("own_kind.1", "credit");
    expect((await desk.editor.post(`/prices/${winter.id}`, fields)).status).toBe(303);
    const { book } = await desk.store.priceBooks.get(winter.id);
    const own = { text: "Diagnosis, paid before", price_micro: 60_000_000, kind: "credit", always: false };
    expect(book).toEqual({
      ...winter.book,
      parts_markup_ppm: 125_000,
      minimum_micro: 150_000_000,
      own_lines: { "1": own },
    });
    expect(bookOfCsv(bookCsv(book), "USD")).toEqual({ ok: true, book });
    expect(bookOfCsv(bookCsv(winter.book), "USD")).toEqual({ ok: true, book: winter.book });

    const { id } = await desk.store.vehicles.create(VAN);
    const draft = await desk.store.quotes.create(id, { ...CONTENT, book });
    const path = `/vehicles/${id}/quotes/${draft.id}`;
    const form = await formAt(path);
    form.set("own-line-b", "1");
    expect((await desk.editor.post(`${path}/options/b/lines`, form)).status).toBe(303);
    const saved = await desk.store.quotes.get(draft.id);
    expect(saved.content.options[1]!.lines.at(-1)).toMatchObject({ kind: "credit", unit_price_micro: 60_000_000 });
    const too_much = await formAt(path);
    too_much.set(`price-b-${too_much.getAll("line-b").at(-1)}`, "99999");
    const refused = await desk.editor.post(path, too_much);
    expect(refused.status).toBe(422);
    expect(textOf(await refused.text())).toContain("A credit is more than the lines with the same tax come to");
  });
});
