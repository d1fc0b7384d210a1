import { beforeEach, describe, expect, test } from "vitest";
import { RETAIL_BOOK } from "../../data/price-book.ts";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import { bookCsv, bookOfCsv } from "../../src/web/prices/book-csv.ts";
import { newStore } from "../store/engines.ts";
import { CONTENT } from "../store/quote-samples.ts";
import { VAN } from "../store/samples.ts";
import { bearer, type LinksApp, linksOnNode } from "../support/links-app.ts";
import { attribute, formFields, formsIn, textOf } from "../support/page-form.ts";
import { Person } from "../support/person.ts";

describe("price books", () => {
  let app: LinksApp;
  let store: WorkspaceStore;
  let shop: Person;
  beforeEach(async () => {
    app = await linksOnNode();
    store = await newStore(app.sql);
    shop = new Person(app, (await bearer(store, "editor")).headers);
  });

  const formTo = (page: string, action: string) =>
    formFields(formsIn(page).find((form) => attribute(form, "action") === action) ?? "");

  test("a retired book is only looked at, and brought back as it was", async () => {
    const winter = await store.priceBooks.create({ ...RETAIL_BOOK, name: "Winter" });
    await shop.post(`/prices/${winter.id}/archive`, { version: "1" });
    const retired = await shop.page(`/prices/${winter.id}`);
    expect(textOf(retired)).toContain("This book is retired");
    expect(textOf(retired)).not.toContain("Save these prices");
    const form = formTo(await shop.page("/prices"), `/prices/${winter.id}/restoration`);
    const back = await shop.post(`/prices/${winter.id}/restoration`, form);
    expect(back.headers.get("Location")).toBe(`/prices/${winter.id}`);
    expect((await store.priceBooks.get(winter.id)).book).toEqual(winter.book);
    expect((await store.priceBooks.list()).map(({ id }) => id)).toContain(winter.id);
  });

  test("no two books in the list have one name: made, saved or brought back; its own name may stay", async () => {
    const winter = await store.priceBooks.create({ ...RETAIL_BOOK, name: "Winter" });
    const twice = await shop.post("/prices", { name: " winter ", from: winter.id });
    expect([twice.status, textOf(await twice.text()).includes("Another book is called winter")]).toEqual([422, true]);
    const fields = formTo(await shop.page(`/prices/${winter.id}`), `/prices/${winter.id}`);
    expect((await shop.post(`/prices/${winter.id}`, fields)).status).toBe(303);
    const other = await store.priceBooks.create({ ...RETAIL_BOOK, name: "Summer" });
    const renamed = formTo(await shop.page(`/prices/${other.id}`), `/prices/${other.id}`);
    renamed.set("name", "Winter");
    expect((await shop.post(`/prices/${other.id}`, renamed)).status).toBe(422);
    await store.priceBooks.archive(winter.id, 2);
    expect((await shop.post(`/prices/${other.id}`, renamed)).status).toBe(303);
    const back = await shop.post(`/prices/${winter.id}/restoration`, { version: "3" });
    expect(back.status).toBe(422);
    expect(textOf(await back.text())).toContain("Another book is called Winter");
  });

  test("in a draft, lines change places, and pricing anew says what it changed", async () => {
    const { id } = await store.vehicles.create(VAN);
    const draft = await store.quotes.create(id, CONTENT);
    const path = `/vehicles/${id}/quotes/${draft.id}`;
    const texts = async () => (await store.quotes.get(draft.id)).content.options[0]!.lines.map(({ text }) => text);
    const before = await texts();
    const form = formTo(await shop.page(path), path);
    const second = form.getAll("line-a")[1]!;
    expect((await shop.post(`${path}/options/a/lines/${second}/up`, form)).status).toBe(303);
    expect(await texts()).toEqual([before[1], before[0], ...before.slice(2)]);
    const dearer = formTo(await shop.page(path), path);
    dearer.set(`price-a-${dearer.getAll("line-a")[0]}`, "1000");
    const answer = await shop.post(`${path}/options/a/renewal`, dearer);
    const to = answer.headers.get("Location")!;
    expect(textOf(await shop.page(to.split("#")[0]!))).toMatch(
      /Its lines are reset: \$1,\d{3}\.\d\d before, \$\d{3}\.\d\d now\./,
    );
  });
});

test("a shop's own lines: typed whole or not at all, kept, exported, and added to a quote with one press", async () => {
  const app = await linksOnNode();
  const store = await newStore(app.sql);
  const shop = new Person(app, (await bearer(store, "editor")).headers);
  const winter = await store.priceBooks.create({ ...RETAIL_BOOK, name: "Winter" });
  const formAt = async (path: string) =>
    formFields(formsIn(await shop.page(path)).find((form) => attribute(form, "action") === path) ?? "");
  const fields = await formAt(`/prices/${winter.id}`);
  fields.set("own_text.1", "Diagnosis, paid before");
  fields.set("parts_markup", "12.5");
  fields.set("minimum", "150");
  const half = await shop.post(`/prices/${winter.id}`, fields);
  expect([half.status, textOf(await half.text()).includes("Enter what this line costs")]).toEqual([422, true]);
  fields.set("own_price.1", "60");
  fields.set("own_kind.1", "credit");
  expect((await shop.post(`/prices/${winter.id}`, fields)).status).toBe(303);
  const { book } = await store.priceBooks.get(winter.id);
  const own = { text: "Diagnosis, paid before", price_micro: 60_000_000, kind: "credit", always: false };
  expect(book).toEqual({
    ...winter.book,
    parts_markup_ppm: 125_000,
    minimum_micro: 150_000_000,
    own_lines: { "1": own },
  });
  expect(bookOfCsv(bookCsv(book), "USD")).toEqual({ ok: true, book });
  expect(bookOfCsv(bookCsv(winter.book), "USD")).toEqual({ ok: true, book: winter.book });

  const { id } = await store.vehicles.create(VAN);
  const draft = await store.quotes.create(id, { ...CONTENT, book });
  const path = `/vehicles/${id}/quotes/${draft.id}`;
  const form = await formAt(path);
  form.set("own-line-b", "1");
  expect((await shop.post(`${path}/options/b/lines`, form)).status).toBe(303);
  const saved = await store.quotes.get(draft.id);
  expect(saved.content.options[1]!.lines.at(-1)).toMatchObject({ kind: "credit", unit_price_micro: 60_000_000 });
  const too_much = await formAt(path);
  too_much.set(`price-b-${too_much.getAll("line-b").at(-1)}`, "99999");
  const refused = await shop.post(path, too_much);
  expect(refused.status).toBe(422);
  expect(textOf(await refused.text())).toContain("A credit is more than the lines with the same tax come to");
  await app.close();
});
