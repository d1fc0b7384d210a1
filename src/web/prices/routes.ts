import { type Context, Hono } from "hono";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import { type BookFields, BookPage } from "../../../views/prices/book-page.tsx";
import { type LetterheadFields, LetterheadPage } from "../../../views/prices/letterhead-page.tsx";
import { PricesPage } from "../../../views/prices/prices-page.tsx";
import { bookBounds, type PriceBook } from "../../core/quotes/price-book.ts";
import { Conflict } from "../../store/errors.ts";
import { newId } from "../../store/ids.ts";
import type { StoredLetterhead } from "../../store/letterheads.ts";
import type { StoredBook } from "../../store/price-books.ts";
import { mayAct } from "../../store/roles.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import type { Deps } from "../edge/deps.ts";
import { unlessOvertaken } from "../edge/overtaken.ts";
import { answerPage } from "../edge/page.ts";
import { formOf, uploadOf, versionOf } from "../forms/posted-form.ts";
import { workspacePrices } from "../workspace.ts";
import { bookCsv, bookOfCsv } from "./book-csv.ts";
import { type AmountStyle, blankBook, fieldsOfBook, fieldsOfForm, readBook } from "./book-form.ts";
import { letterheadFields, readLetterhead } from "./letterhead-form.ts";

/** Price books and the head of a quote: `/prices`. */
export function pricesRoutes(deps: Deps) {
  return (
    new Hono<GrantedEnv>()
      .get("/prices", requireRole("viewer"), (c) => answerPrices(c, deps, []))
      // Another book, with the prices of one that is there.
      .post("/prices", requireRole("editor"), async (c) => {
        const form = await formOf(c);
        const name = (form.get("name") ?? "").trim();
        const message = nameFault(name) ?? (await nameTaken(c, name, null));
        if (message !== null) return answerPrices(c, deps, [{ field: "new-name", message }]);
        const { book } = await c.var.store.priceBooks.get(form.get("from") ?? "");
        const made = await c.var.store.priceBooks.create({ ...book, name }, form.get("submit_key"));
        return c.redirect(`/prices/${made.id}`, 303);
      })
      .post("/prices/import", requireRole("editor"), async (c) => {
        const { files, fields } = await uploadOf(c);
        const file = files.get("file");
        if (file === undefined)
          return answerPrices(c, deps, [{ field: "file", message: "Choose the file with the price book" }]);
        const [id = "", version] = (fields.get("into") ?? "").split(" ");
        const { priceBooks, settings } = c.var.store;
        const { currency } = id === "" ? await settings.get() : (await priceBooks.get(id)).book;
        const read = bookOfCsv(await file.text(), currency);
        if (!read.ok) return answerPrices(c, deps, [{ field: "file", message: read.messages.join(" ") }]);
        const key = fields.get("submit_key");
        const books = await priceBooks.list();
        const stored =
          id === ""
            ? await priceBooks.create({ ...read.book, name: freeName(read.book.name, books) }, key)
            : await priceBooks.update(
                id,
                Number(version),
                { ...read.book, name: nameInPlace(read.book, id, books) },
                key,
              );
        return c.redirect(`/prices/${stored.id}?saved=1`, 303);
      })
      .get("/prices/letterhead", requireRole("viewer"), async (c) => {
        const stored = await c.var.store.letterheads.get();
        return answerLetterhead(c, deps, { ...stored.letterhead }, stored, [], false, backOf(c.req.query("back")));
      })
      .post("/prices/letterhead", requireRole("editor"), async (c) => {
        const form = await formOf(c);
        const fields = letterheadFields(form);
        const read = readLetterhead(fields);
        const back = backOf(form.get("back") ?? undefined);
        const version = versionOf(form);
        if (!read.ok) return answerLetterhead(c, deps, fields, { version }, read.errors, false, back);
        const { letterheads } = c.var.store;
        const saved = await unlessOvertaken(letterheads.update(read.letterhead, version, form.get("submit_key")));
        if (saved instanceof Conflict) return answerLetterhead(c, deps, fields, saved.current, [], true, back);
        return c.redirect(back, 303);
      })
      // A book in the workspace's currency whose prices are typed: none are taken over from another currency.
      .get("/prices/new", requireRole("editor"), async (c) => {
        const { currency } = await c.var.store.settings.get();
        return answerNewBook(c, deps, currency, blankBook(await styleOf(c, { currency })), []);
      })
      .post("/prices/new", requireRole("editor"), async (c) => {
        const form = await formOf(c);
        const fields = fieldsOfForm(form);
        const { currency } = await c.var.store.settings.get();
        const read = readBook(fields, await styleOf(c, { currency }));
        if (!read.ok) return answerNewBook(c, deps, currency, fields, read.errors);
        const taken = await nameTaken(c, read.book.name, null);
        if (taken !== null) return answerNewBook(c, deps, currency, fields, [{ field: "name", message: taken }]);
        const made = await c.var.store.priceBooks.create(read.book, form.get("submit_key"));
        return c.redirect(`/prices/${made.id}?saved=1`, 303);
      })
      .get("/prices/:id", requireRole("viewer"), async (c) => {
        const stored = await c.var.store.priceBooks.get(c.req.param("id"));
        return answerBook(c, deps, stored, fieldsOfBook(stored.book, await styleOf(c, stored.book)), [], false);
      })
      .post("/prices/:id", requireRole("editor"), async (c) => {
        const form = await formOf(c);
        const { priceBooks } = c.var.store;
        const stored = await priceBooks.get(c.req.param("id"));
        if (stored.archived_at !== null) return c.redirect(`/prices/${stored.id}`, 303);
        const fields = fieldsOfForm(form);
        const version = versionOf(form);
        const read = readBook(fields, await styleOf(c, stored.book));
        if (!read.ok) return answerBook(c, deps, { ...stored, version }, fields, read.errors, false);
        const renamed = !sameName(read.book.name, stored.book.name);
        const taken = renamed ? await nameTaken(c, read.book.name, stored.id) : null;
        if (taken !== null)
          return answerBook(c, deps, { ...stored, version }, fields, [{ field: "name", message: taken }], false);
        const saved = await unlessOvertaken(priceBooks.update(stored.id, version, read.book, form.get("submit_key")));
        if (saved instanceof Conflict) return answerBook(c, deps, saved.current, fields, [], true);
        return c.redirect(`/prices/${saved.id}?saved=1`, 303);
      })
      .post("/prices/:id/archive", requireRole("editor"), async (c) => {
        await c.var.store.priceBooks.archive(c.req.param("id"), versionOf(await formOf(c)));
        return c.redirect("/prices", 303);
      })
      .post("/prices/:id/restoration", requireRole("editor"), async (c) => {
        const { priceBooks } = c.var.store;
        const { id, book } = await priceBooks.get(c.req.param("id"));
        const message = await nameTaken(c, book.name, id);
        if (message !== null) return answerPrices(c, deps, [{ field: `restore-${id}`, message }]);
        const restored = await priceBooks.restore(id, versionOf(await formOf(c)));
        return c.redirect(`/prices/${restored.id}`, 303);
      })
      .get("/prices/:id/book.csv", requireRole("viewer"), async (c) => {
        const { book } = await c.var.store.priceBooks.get(c.req.param("id"));
        c.header("Content-Type", "text/csv; charset=utf-8");
        c.header("Content-Disposition", 'attachment; filename="price-book.csv"');
        return c.body(bookCsv(book));
      })
  );
}

async function answerPrices(c: Context<GrantedEnv>, deps: Deps, errors: FieldError[]) {
  const { priceBooks, letterheads, settings } = c.var.store;
  const [books, retired, own, { letterhead }, workspace] = await Promise.all([
    priceBooks.list(),
    priceBooks.retired(),
    priceBooks.own(),
    letterheads.get(),
    settings.get(),
  ]);
  const page = PricesPage({
    books,
    retired,
    letterhead,
    used: workspacePrices(workspace, own),
    format: letterhead.number_format,
    may_change: mayAct(c.var.access.role, "editor"),
    submit_key: newId(deps.random),
    errors,
    asset: deps.asset,
  });
  return answerPage(c, page, errors.length > 0 ? 422 : 200);
}

async function answerBook(
  c: Context<GrantedEnv>,
  deps: Deps,
  { id, version, book, invented, archived_at }: StoredBook,
  fields: BookFields,
  errors: FieldError[],
  changed: boolean,
) {
  const { currency } = await c.var.store.settings.get();
  const page = BookPage({
    wanted: currency === book.currency ? null : currency,
    id,
    version,
    name: book.name,
    invented,
    fields,
    errors,
    currency: book.currency,
    may_change: archived_at === null && mayAct(c.var.access.role, "editor"),
    retired: archived_at !== null,
    saved: c.req.query("saved") !== undefined,
    changed,
    submit_key: newId(deps.random),
    asset: deps.asset,
  });
  return answerPage(c, page, changed ? 409 : errors.length > 0 ? 422 : 200);
}

function answerNewBook(
  c: Context<GrantedEnv>,
  deps: Deps,
  currency: string,
  fields: BookFields,
  errors: FieldError[],
): Response | Promise<Response> {
  const page = BookPage({
    id: null,
    version: 0,
    name: "",
    invented: false,
    wanted: null,
    fields,
    errors,
    currency,
    may_change: true,
    retired: false,
    saved: false,
    changed: false,
    submit_key: newId(deps.random),
    asset: deps.asset,
  });
  return answerPage(c, page, errors.length > 0 ? 422 : 200);
}

function answerLetterhead(
  c: Context<GrantedEnv>,
  deps: Deps,
  fields: LetterheadFields,
  { version }: Pick<StoredLetterhead, "version">,
  errors: FieldError[],
  changed: boolean,
  back: string,
) {
  const page = LetterheadPage({
    fields,
    version,
    errors,
    changed,
    may_change: mayAct(c.var.access.role, "editor"),
    submit_key: newId(deps.random),
    back,
    asset: deps.asset,
  });
  return answerPage(c, page, changed ? 409 : errors.length > 0 ? 422 : 200);
}

/** How amounts in some currency are written here. */
async function styleOf(c: Context<GrantedEnv>, { currency }: { currency: string }): Promise<AmountStyle> {
  const { letterhead } = await c.var.store.letterheads.get();
  return { currency, format: letterhead.number_format };
}

function nameFault(name: string): string | null {
  if (name === "") return "Enter a name for the book, like Fleet account";
  return [...name].length > bookBounds.name_chars ? `Keep the name to ${bookBounds.name_chars} characters` : null;
}

/** Two books in the list must not be taken for each other. `id` is the one that is to have the name. */
async function nameTaken(c: Context<GrantedEnv>, name: string, id: string | null): Promise<string | null> {
  const books = await c.var.store.priceBooks.list();
  const taken = books.some((one) => one.id !== id && sameName(one.book.name, name));
  return taken ? `Another book is called ${name}: choose a name that tells them apart` : null;
}

/** The name of a book that came in a file; with a number where another has it. */
function freeName(name: string, books: readonly StoredBook[]): string {
  const taken = (one: string) => books.some(({ book }) => sameName(book.name, one));
  let free = name;
  for (let n = 2; taken(free); n++) free = `${name} ${n}`;
  return free;
}

/** A file in place of a book brings its name, unless another book has that. */
function nameInPlace({ name }: PriceBook, id: string, books: readonly StoredBook[]): string {
  const taken = books.some((one) => one.id !== id && sameName(one.book.name, name));
  return taken ? (books.find((one) => one.id === id)?.book.name ?? name) : name;
}

function sameName(one: string, other: string): boolean {
  return one.trim().toLocaleLowerCase() === other.trim().toLocaleLowerCase();
}

/** Only to a page of ours: an address that was brought along must not lead elsewhere. */
function backOf(back: string | undefined): string {
  return back !== undefined && /^\/vehicles\/[\w-]+\/quotes(?:\/[\w-]+)?$/.test(back) ? back : "/prices";
}
