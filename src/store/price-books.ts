import { FLEET_BOOK, RETAIL_BOOK } from "../../data/price-book.ts";
import { Problem } from "../core/problem.ts";
import type { Revision } from "../core/question/record.ts";
import { bookBounds, type PriceBook } from "../core/quotes/price-book.ts";
import { insertRows } from "./bulk.ts";
import { assignments, type Columns, json, namesOf, nullable, rowReader, rowWriter, text } from "./columns.ts";
import { Conflict, ConstraintFailed, notFound } from "./errors.ts";
import { REVISION, revisionNow } from "./revision.ts";
import type { Scope, Submission, SubmitKey } from "./scope.ts";
import type { Param, Statement } from "./sql.ts";
import { searchText, sortKey } from "./text.ts";
import { atVersion, versionedChange } from "./versioned-change.ts";

export interface StoredBook {
  id: string;
  book: PriceBook;
  /** Of those that every workspace begins with: nobody has put in prices yet. */
  sample: boolean;
  archived_at: string | null;
  /** 0 for a sample. */
  version: number;
  updated_at: string | null;
  updated_by: string | null;
}

/** A book that a workspace has made its own, with all that is kept of it. */
export interface OwnBook extends Revision {
  id: string;
  book: PriceBook;
  archived_at: string | null;
}

const BOOK: Columns<OwnBook> = {
  id: text,
  book: json(),
  archived_at: nullable(text),
  ...REVISION,
};

/** Reads every `ownBookOf`. */
export const readOwnBooks: Statement = {
  sql: `SELECT ${namesOf(BOOK).join(", ")} FROM price_books WHERE workspace_id = :workspace ORDER BY id`,
};

export const ownBookOf = rowReader(BOOK);

const bookRow = rowWriter(BOOK);
/** A book as its table holds it. */
export function ownBookRow(one: OwnBook): Record<string, Param> {
  return { ...bookRow(one), name_key: bookNameKey(one.book.name) };
}

/** Names are one where their keys are: case, accents and spaces make no difference. */
export function bookNameKey(name: string): string {
  return searchText(name).replace(/\s+/g, " ").trim();
}

/** A name that is not taken: numbered where it is. */
export function freeBookName(name: string, others: readonly string[]): string {
  const taken = new Set(others.map(bookNameKey));
  const shorter = [...name].slice(0, bookBounds.name_chars - NUMBER_CHARS).join("");
  let free = name;
  for (let n = 2; taken.has(bookNameKey(free)); n++) free = `${shorter} ${n}`;
  return free;
}

/** Room for a number behind a name. */
const NUMBER_CHARS = 6;

/** Another book in use has the name by now. */
export class BookNameTaken extends Problem {
  constructor() {
    super("changed", "Another book has this name by now: choose one that tells them apart");
  }
}

/** The books of a workspace in which nobody has saved them yet, by their ids. */
const SAMPLES: Readonly<Record<string, PriceBook>> = { retail: RETAIL_BOOK, fleet: FLEET_BOOK };

/**
 * The price books of a workspace. It begins with sample ones; saving one of those makes it the workspace's own.
 * Whoever changes a book names the version that they saw; if there is a newer one, `Conflict` carries it and nothing is
 * stored.
 */
export class PriceBooks {
  readonly #scope: Scope;

  constructor(scope: Scope) {
    this.#scope = scope;
  }

  /** Those in use, by name. */
  async list(): Promise<StoredBook[]> {
    return (await this.#all()).filter(({ archived_at }) => archived_at === null);
  }

  /** Those that the workspace has made its own, archived ones too, in no order that means anything. */
  async own(): Promise<OwnBook[]> {
    return (await this.#scope.all(readOwnBooks.sql)).map(ownBookOf);
  }

  /** Throws `Problem` not-found. */
  async get(id: string): Promise<StoredBook> {
    const found = (await this.#all()).find((one) => one.id === id);
    if (found === undefined) throw notFound("price book");
    return found;
  }

  async create(book: PriceBook, submit_key: SubmitKey = null): Promise<StoredBook> {
    const id = this.#scope.newId();
    return this.#insert(id, book, submit_key);
  }

  /** Puts `book` in place of version `version`. */
  async update(id: string, version: number, book: PriceBook, submit_key: SubmitKey = null): Promise<StoredBook> {
    if (version === 0 && Object.hasOwn(SAMPLES, id)) return this.#insert(id, book, submit_key);
    return this.#change(id, version, { book }, submit_key);
  }

  /** Takes a book out of the list. Quotes that were made with it stay as they are. */
  async archive(id: string, version: number, submit_key: SubmitKey = null): Promise<StoredBook> {
    if (version === 0 && Object.hasOwn(SAMPLES, id))
      return this.#insert(id, SAMPLES[id]!, submit_key, this.#scope.now());
    return this.#change(id, version, { archived_at: this.#scope.now() }, submit_key);
  }

  /** Those that were taken out of the list, by name. */
  async retired(): Promise<StoredBook[]> {
    return (await this.#all()).filter(({ archived_at }) => archived_at !== null);
  }

  /** Puts a book back into the list. */
  restore(id: string, version: number, submit_key: SubmitKey = null): Promise<StoredBook> {
    return this.#change(id, version, { archived_at: null }, submit_key);
  }

  async #all(): Promise<StoredBook[]> {
    const stored = (await this.own()).map(storedBook);
    const ids = new Set(stored.map(({ id }) => id));
    const sample = Object.entries(SAMPLES)
      .filter(([id]) => !ids.has(id))
      .map(([id, book]): StoredBook => ({ ...UNTOUCHED, id, book }));
    return [...stored, ...sample].toSorted((a, b) => (nameKey(a) < nameKey(b) ? -1 : 1));
  }

  /** The book under this id, if it is no sample. */
  async #mine(id: string): Promise<StoredBook | null> {
    return (await this.#all()).find((one) => one.id === id && !one.sample) ?? null;
  }

  async #insert(
    id: string,
    book: PriceBook,
    submit_key: SubmitKey,
    archived_at: string | null = null,
  ): Promise<StoredBook> {
    const row = ownBookRow({ id, book, archived_at, ...revisionNow(this.#scope) });
    const [insert] = insertRows("price_books", [row]);
    const content = [book, archived_at !== null];
    const submission = { key: submit_key, content, subject_id: id, subject_version: 1 };
    // Someone else has made the sample book theirs first.
    return this.#stored({ ...submission, statements: [insert!], taken: "price_books.workspace_id" });
  }

  async #change(
    id: string,
    version: number,
    change: { book: PriceBook } | { archived_at: string | null },
    submit_key: SubmitKey,
  ): Promise<StoredBook> {
    const set =
      "book" in change ? { book: JSON.stringify(change.book), name_key: bookNameKey(change.book.name) } : change;
    const update = {
      sql: `UPDATE price_books SET ${assignments(set)}, version = version + 1, updated_at = ?, updated_by = ?
        WHERE workspace_id = :workspace AND id = ?`,
      params: [...Object.values(set), this.#scope.now(), this.#scope.actor, id],
    };
    const said = "book" in set ? set.book : set.archived_at === null ? "restore" : "archive";
    const content = [id, version, said];
    const submission = { key: submit_key, content, subject_id: id, subject_version: version + 1 };
    return this.#stored({ ...submission, statements: [atVersion("price_books", version, { id }), update] });
  }

  /** Throws `BookNameTaken` where another book in use has the name. */
  async #stored(change: Submission & { statements: readonly Statement[]; taken?: string }): Promise<StoredBook> {
    try {
      return (await versionedChange(this.#scope, { ...change, read: (id) => this.get(id) })).current;
    } catch (error) {
      if (!(error instanceof ConstraintFailed) || error.what !== "price_books.name_key") throw error;
      // A sample that someone else has made theirs meanwhile has its own name, too.
      const here = change.taken === undefined ? null : await this.#mine(change.subject_id);
      throw here === null ? new BookNameTaken() : new Conflict(here);
    }
  }
}

const UNTOUCHED = { sample: true, archived_at: null, version: 0, updated_at: null, updated_by: null };

function storedBook({ created_at, created_by, ...book }: OwnBook): StoredBook {
  return { ...book, sample: false };
}

function nameKey({ book, id }: StoredBook): string {
  return `${sortKey(book.name)}\n${id}`;
}
