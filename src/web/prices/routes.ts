import { type Context, Hono } from "hono";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import type { BookFields } from "../../../views/prices/book-form.tsx";
import { BookPage } from "../../../views/prices/book-page.tsx";
import { type LetterheadFields, LetterheadPage } from "../../../views/prices/letterhead-page.tsx";
import { PricesPage } from "../../../views/prices/prices-page.tsx";
import { readLogo } from "../../core/quotes/logo.ts";
import { bookBounds, type PriceBook } from "../../core/quotes/price-book.ts";
import { Conflict } from "../../store/errors.ts";
import { newId } from "../../store/ids.ts";
import type { StoredLetterhead } from "../../store/letterheads.ts";
import { BookNameTaken, bookNameKey, freeBookName, type StoredBook } from "../../store/price-books.ts";
import { mayAct } from "../../store/roles.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import type { Deps } from "../edge/deps.ts";
import { handlersWith } from "../edge/handler.ts";
import { unlessOvertaken } from "../edge/overtaken.ts";
import { answerPage } from "../edge/page.ts";
import { formOf, versionOf } from "../forms/posted-form.ts";
import { bytesOf, textOf, uploadOf } from "../forms/upload.ts";
import { workspacePrices } from "../workspace.ts";
import { bookCsv, bookOfCsv } from "./book-csv.ts";
import { type AmountStyle, blankBook, fieldsOfBook, fieldsOfForm, readBook } from "./book-form.ts";
import { fieldsOfLetterhead, letterheadFields, readLetterhead } from "./letterhead-form.ts";

/** Price books and the head of a quote: `/prices`. */
export function pricesRoutes(deps: Deps) {
  const viewer = requireRole("viewer");
  const editor = requireRole("editor");
  const by = handlersWith(deps);
  const app = new Hono<GrantedEnv>();
  app.get("/prices", viewer, by(showPrices));
  app.post("/prices", editor, by(copyBook));
  app.post("/prices/import", editor, by(importBook));
  app.get("/prices/letterhead", viewer, by(answerLetterhead));
  app.post("/prices/letterhead", editor, by(saveLetterhead));
  app.post("/prices/letterhead/logo", editor, by(saveLogo));
  app.post("/prices/letterhead/logo/removal", editor, by(removeLogo));
  app.get("/prices/new", editor, by(answerBlankBook));
  app.post("/prices/new", editor, by(makeBook));
  app.get("/prices/:id", viewer, by(answerStoredBook));
  app.post("/prices/:id", editor, by(saveBook));
  app.post("/prices/:id/archive", editor, by(archiveBook));
  app.post("/prices/:id/restoration", editor, by(restoreBook));
  app.get("/prices/:id/book.csv", viewer, by(answerBookFile));
  return app;
}

/** POST `/prices`: another book, with the prices of one that is there. */
async function copyBook(c: Context<GrantedEnv>, deps: Deps) {
  const form = await formOf(c);
  const name = (form.get("name") ?? "").trim();
  const message = nameFault(name) ?? (await nameTaken(c, name, null));
  if (message !== null) return showPrices(c, deps, [{ field: "new-name", message }]);
  const { book } = await c.var.store.priceBooks.get(form.get("from") ?? "");
  const made = await unlessTaken(c.var.store.priceBooks.create({ ...book, name }, form.get("submit_key")));
  if (made instanceof BookNameTaken) return showPrices(c, deps, [{ field: "new-name", message: made.message }]);
  return c.redirect(`/prices/${made.id}`, 303);
}

/** POST `/prices/import`: a new book from a file, or a file in place of a book that is there. */
async function importBook(c: Context<GrantedEnv>, deps: Deps) {
  const { files, fields } = await uploadOf(c);
  const file = files.get("file");
  if (file === undefined)
    return showPrices(c, deps, [{ field: "file", message: "Choose the file with the price book" }]);
  const [id = "", version] = (fields.get("into") ?? "").split(" ");
  const { priceBooks, settings } = c.var.store;
  const { currency } = id === "" ? await settings.get() : (await priceBooks.get(id)).book;
  const read = bookOfCsv(textOf(file.pieces), currency);
  if (!read.ok) return showPrices(c, deps, [{ field: "file", message: read.messages.join(" ") }]);
  const key = fields.get("submit_key");
  const books = await priceBooks.list();
  const others = books.map(({ book }) => book.name);
  const stored = await unlessTaken(
    id === ""
      ? priceBooks.create({ ...read.book, name: freeBookName(read.book.name, others) }, key)
      : priceBooks.update(id, Number(version), { ...read.book, name: nameInPlace(read.book, id, books) }, key),
  );
  if (stored instanceof BookNameTaken) return showPrices(c, deps, [{ field: "file", message: stored.message }]);
  return c.redirect(`/prices/${stored.id}?saved=1`, 303);
}

async function answerLetterhead(c: Context<GrantedEnv>, deps: Deps) {
  const stored = await c.var.store.letterheads.get();
  return showLetterhead(c, deps, fieldsOfLetterhead(stored.letterhead), stored, [], false, backOf(c.req.query("back")));
}

async function saveLetterhead(c: Context<GrantedEnv>, deps: Deps) {
  const form = await formOf(c);
  const fields = letterheadFields(form);
  const read = readLetterhead(fields);
  const back = backOf(form.get("back") ?? undefined);
  const version = versionOf(form);
  if (!read.ok) return showLetterhead(c, deps, fields, { version }, read.errors, false, back);
  const { letterheads } = c.var.store;
  const { logo } = (await letterheads.get()).letterhead;
  const saved = await unlessOvertaken(letterheads.update({ ...read.input, logo }, version, form.get("submit_key")));
  if (saved instanceof Conflict) return showLetterhead(c, deps, fields, saved.current, [], true, back);
  return c.redirect(back, 303);
}

/** POST `/prices/letterhead/logo`: a picture in place of the one that is there. */
async function saveLogo(c: Context<GrantedEnv>, deps: Deps) {
  const { files, fields } = await uploadOf(c);
  const file = files.get("logo");
  const read = file === undefined ? { fault: "Choose a picture" } : readLogo(bytesOf(file.pieces));
  return "fault" in read ? refuseLogo(c, deps, read.fault) : putLogo(c, deps, read.logo, fields);
}

/** POST `/prices/letterhead/logo/removal` */
async function removeLogo(c: Context<GrantedEnv>, deps: Deps) {
  return putLogo(c, deps, "", await formOf(c));
}

async function putLogo(c: Context<GrantedEnv>, deps: Deps, logo: string, form: URLSearchParams) {
  const { letterheads } = c.var.store;
  const { letterhead, version } = await letterheads.get();
  if (version === 0) return refuseLogo(c, deps, "Save the name of the shop first");
  const changed = letterheads.update({ ...letterhead, logo }, versionOf(form), form.get("submit_key"));
  const saved = await unlessOvertaken(changed);
  if (!(saved instanceof Conflict)) return c.redirect("/prices/letterhead#logo-entry", 303);
  return showLetterhead(c, deps, fieldsOfLetterhead(saved.current.letterhead), saved.current, [], true, "/prices");
}

async function refuseLogo(c: Context<GrantedEnv>, deps: Deps, message: string) {
  const stored = await c.var.store.letterheads.get();
  const errors = [{ field: "logo", message }];
  return showLetterhead(c, deps, fieldsOfLetterhead(stored.letterhead), stored, errors, false, "/prices");
}

/** GET `/prices/new`: a book in the workspace's currency, to be filled in; no price comes from another currency. */
async function answerBlankBook(c: Context<GrantedEnv>, deps: Deps) {
  const { currency } = await c.var.store.settings.get();
  return showNewBook(c, deps, currency, blankBook(await styleOf(c, { currency })), []);
}

async function makeBook(c: Context<GrantedEnv>, deps: Deps) {
  const form = await formOf(c);
  const fields = fieldsOfForm(form);
  const { currency } = await c.var.store.settings.get();
  const read = readBook(fields, await styleOf(c, { currency }));
  if (!read.ok) return showNewBook(c, deps, currency, fields, read.errors);
  const taken = await nameTaken(c, read.book.name, null);
  if (taken !== null) return showNewBook(c, deps, currency, fields, [{ field: "name", message: taken }]);
  const made = await unlessTaken(c.var.store.priceBooks.create(read.book, form.get("submit_key")));
  if (made instanceof BookNameTaken)
    return showNewBook(c, deps, currency, fields, [{ field: "name", message: made.message }]);
  return c.redirect(`/prices/${made.id}?saved=1`, 303);
}

async function answerStoredBook(c: Context<GrantedEnv>, deps: Deps) {
  const stored = await c.var.store.priceBooks.get(idOf(c));
  return showBook(c, deps, stored, fieldsOfBook(stored.book, await styleOf(c, stored.book)), [], false);
}

async function saveBook(c: Context<GrantedEnv>, deps: Deps) {
  const form = await formOf(c);
  const { priceBooks } = c.var.store;
  const stored = await priceBooks.get(idOf(c));
  if (stored.archived_at !== null) return c.redirect(`/prices/${stored.id}`, 303);
  const fields = fieldsOfForm(form);
  const version = versionOf(form);
  const read = readBook(fields, await styleOf(c, stored.book));
  if (!read.ok) return showBook(c, deps, { ...stored, version }, fields, read.errors, false);
  const renamed = !sameName(read.book.name, stored.book.name);
  const taken = renamed ? await nameTaken(c, read.book.name, stored.id) : null;
  if (taken !== null)
    return showBook(c, deps, { ...stored, version }, fields, [{ field: "name", message: taken }], false);
  const saving = unlessTaken(priceBooks.update(stored.id, version, read.book, form.get("submit_key")));
  const saved = await unlessOvertaken<StoredBook | BookNameTaken, StoredBook>(saving);
  if (saved instanceof BookNameTaken)
    return showBook(c, deps, { ...stored, version }, fields, [{ field: "name", message: saved.message }], false);
  if (saved instanceof Conflict) return showBook(c, deps, saved.current, fields, [], true);
  return c.redirect(`/prices/${saved.id}?saved=1`, 303);
}

async function archiveBook(c: Context<GrantedEnv>) {
  await c.var.store.priceBooks.archive(idOf(c), versionOf(await formOf(c)));
  return c.redirect("/prices", 303);
}

async function restoreBook(c: Context<GrantedEnv>, deps: Deps) {
  const { priceBooks } = c.var.store;
  const { id, book } = await priceBooks.get(idOf(c));
  const message = await nameTaken(c, book.name, id);
  if (message !== null) return showPrices(c, deps, [{ field: `restore-${id}`, message }]);
  const restored = await unlessTaken(priceBooks.restore(id, versionOf(await formOf(c))));
  if (restored instanceof BookNameTaken)
    return showPrices(c, deps, [{ field: `restore-${id}`, message: restored.message }]);
  return c.redirect(`/prices/${restored.id}`, 303);
}

async function answerBookFile(c: Context<GrantedEnv>) {
  const { book } = await c.var.store.priceBooks.get(idOf(c));
  c.header("Content-Type", "text/csv; charset=utf-8");
  c.header("Content-Disposition", 'attachment; filename="price-book.csv"');
  return c.body(bookCsv(book));
}

/** The book of the address. */
function idOf(c: Context<GrantedEnv>): string {
  return c.req.param("id") ?? "";
}

async function showPrices(c: Context<GrantedEnv>, deps: Deps, errors: FieldError[] = []) {
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

async function showBook(
  c: Context<GrantedEnv>,
  deps: Deps,
  { id, version, book, sample, archived_at }: StoredBook,
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
    sample,
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

function showNewBook(
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
    sample: false,
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

async function showLetterhead(
  c: Context<GrantedEnv>,
  deps: Deps,
  fields: LetterheadFields,
  { version }: Pick<StoredLetterhead, "version">,
  errors: FieldError[],
  changed: boolean,
  back: string,
) {
  const { logo } = (await c.var.store.letterheads.get()).letterhead;
  const page = LetterheadPage({
    fields,
    version,
    logo,
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

/** No two listed books may share a name. `id` is the book that is to have the name. */
async function nameTaken(c: Context<GrantedEnv>, name: string, id: string | null): Promise<string | null> {
  const books = await c.var.store.priceBooks.list();
  const taken = books.some((one) => one.id !== id && sameName(one.book.name, name));
  return taken ? `Another book is called ${name}: choose a name that tells them apart` : null;
}

/** What was saved, or that someone else took the name first. */
function unlessTaken<Saved>(saving: Promise<Saved>): Promise<Saved | BookNameTaken> {
  return saving.catch((error: unknown) => {
    if (error instanceof BookNameTaken) return error;
    throw error;
  });
}

/** The name for a book that a file replaces: the one in the file, unless another book has it. */
function nameInPlace({ name }: PriceBook, id: string, books: readonly StoredBook[]): string {
  const taken = books.some((one) => one.id !== id && sameName(one.book.name, name));
  return taken ? (books.find((one) => one.id === id)?.book.name ?? name) : name;
}

function sameName(one: string, other: string): boolean {
  return bookNameKey(one) === bookNameKey(other);
}

/** Allows only our own pages: an address in a query must not redirect elsewhere. */
function backOf(back: string | undefined): string {
  return back !== undefined && /^\/vehicles\/[\w-]+\/quotes(?:\/[\w-]+)?$/.test(back) ? back : "/prices";
}
