import { FLEET_BOOK, RETAIL_BOOK } from "../../data/price-book.ts";
import type { PriceBook } from "../core/quotes/price-book.ts";
import { Conflict, ConstraintFailed, notFound } from "./errors.ts";
import { guard, type Repeat, type Scope, type SubmitKey } from "./scope.ts";
import type { Param, Row, Statement } from "./sql.ts";
import { sortKey } from "./text.ts";

export interface StoredBook {
  id: string;
  book: PriceBook;
  /** Of those that every workspace begins with: nobody has put in prices yet. */
  invented: boolean;
  archived_at: string | null;
  /** 0 while invented. */
  version: number;
  updated_at: string | null;
  updated_by: string | null;
}

/** A book that a workspace has made its own, with all that is kept of it. */
export interface OwnBook {
  id: string;
  book: PriceBook;
  archived_at: string | null;
  version: number;
  created_at: string;
  created_by: string;
  updated_at: string;
  updated_by: string;
}

/** Reads every `ownBookOf`. */
export const readOwnBooks: Statement = {
  sql: `SELECT id, book, archived_at, version, created_at, created_by, updated_at, updated_by FROM price_books
    WHERE workspace_id = :workspace ORDER BY id`,
};

export function ownBookOf(row: Row): OwnBook {
  return { ...(row as unknown as OwnBook), book: JSON.parse(row.book as string) };
}

export function ownBookRow({ book, ...rest }: OwnBook): Record<string, Param> {
  return { ...rest, book: JSON.stringify(book) };
}

/** The books of a workspace in which nobody has saved them yet, by their ids. */
const INVENTED: Readonly<Record<string, PriceBook>> = { retail: RETAIL_BOOK, fleet: FLEET_BOOK };

const SELECT_BOOKS = "SELECT id, book, archived_at, version, updated_at, updated_by FROM price_books";

/**
 * The price books of a workspace. It begins with invented ones; saving one of those makes it the workspace's own. Whoever
 * changes a book names the version that they saw; if there is a newer one, `Conflict` carries it and nothing is stored.
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
    if (version === 0 && Object.hasOwn(INVENTED, id)) return this.#insert(id, book, submit_key);
    return this.#change(id, version, "book = ?", JSON.stringify(book), submit_key);
  }

  /** Takes a book out of the list. Quotes that were made with it stay as they are. */
  async archive(id: string, version: number, submit_key: SubmitKey = null): Promise<StoredBook> {
    if (version === 0 && Object.hasOwn(INVENTED, id))
      return this.#insert(id, INVENTED[id]!, submit_key, this.#scope.now());
    return this.#change(id, version, "archived_at = ?", this.#scope.now(), submit_key);
  }

  async #all(): Promise<StoredBook[]> {
    const stored = (await this.#scope.all(`${SELECT_BOOKS} WHERE workspace_id = :workspace ORDER BY id`)).map(bookOf);
    const ids = new Set(stored.map(({ id }) => id));
    const invented = Object.entries(INVENTED)
      .filter(([id]) => !ids.has(id))
      .map(([id, book]): StoredBook => ({ ...UNTOUCHED, id, book }));
    return [...stored, ...invented].toSorted((a, b) => (nameKey(a) < nameKey(b) ? -1 : 1));
  }

  async #insert(
    id: string,
    book: PriceBook,
    submit_key: SubmitKey,
    archived_at: string | null = null,
  ): Promise<StoredBook> {
    const at = this.#scope.now();
    const by = this.#scope.actor;
    const insert = {
      sql: `INSERT INTO price_books (workspace_id, id, book, archived_at, version, created_at, created_by, updated_at, updated_by)
        VALUES (:workspace, ?, ?, ?, 1, ?, ?, ?, ?)`,
      params: [id, JSON.stringify(book), archived_at, at, by, at, by],
    };
    const submission = { key: submit_key, content: [book, archived_at !== null], subject_id: id, subject_version: 1 };
    try {
      return await this.#settled(id, await this.#scope.change([insert], submission));
    } catch (error) {
      if (error instanceof ConstraintFailed && error.what === "price_books.workspace_id")
        throw new Conflict(await this.get(id));
      throw error;
    }
  }

  async #change(id: string, version: number, set: string, value: string, submit_key: SubmitKey): Promise<StoredBook> {
    const unchanged = guard("(SELECT version FROM price_books WHERE workspace_id = :workspace AND id = ?) IS ?", [
      id,
      version,
    ]);
    const update = {
      sql: `UPDATE price_books SET ${set}, version = version + 1, updated_at = ?, updated_by = ?
        WHERE workspace_id = :workspace AND id = ?`,
      params: [value, this.#scope.now(), this.#scope.actor, id],
    };
    const content = [id, version, set.startsWith("book") ? value : "archive"];
    const submission = { key: submit_key, content, subject_id: id, subject_version: version + 1 };
    try {
      return await this.#settled(id, await this.#scope.change([unchanged, update], submission));
    } catch (error) {
      if (error instanceof ConstraintFailed && error.what === "guard") throw new Conflict(await this.get(id));
      throw error;
    }
  }

  async #settled(id: string, repeat: Repeat | null): Promise<StoredBook> {
    const stored = await this.get(repeat?.subject_id ?? id);
    if (repeat !== null && !repeat.same_content)
      throw new Conflict(
        stored,
        "This form was saved before, with something else in it. Look at what was saved first.",
      );
    return stored;
  }
}

const UNTOUCHED = { invented: true, archived_at: null, version: 0, updated_at: null, updated_by: null };

function bookOf(row: Row): StoredBook {
  return { ...(row as unknown as StoredBook), book: JSON.parse(row.book as string), invented: false };
}

function nameKey({ book, id }: StoredBook): string {
  return `${sortKey(book.name)}\n${id}`;
}
