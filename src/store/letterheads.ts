import { BLANK_LETTERHEAD, type Letterhead } from "../core/quotes/quote-document.ts";
import { type Column, type Columns, json, namesOf, number, rowReader, rowWriter, text } from "./columns.ts";
import type { Scope, SubmitKey } from "./scope.ts";
import type { Statement } from "./sql.ts";
import { atVersion, versionedChange } from "./versioned-change.ts";

export interface StoredLetterhead {
  letterhead: Letterhead;
  /** 0 before one was saved. */
  version: number;
}

/** One that somebody has saved, with all that is kept of it. */
export interface SavedLetterhead extends StoredLetterhead {
  updated_at: string;
  updated_by: string;
}

/** A field added later is blank in letterheads saved before. */
const letterhead: Column<Letterhead> = {
  read: (stored) => ({ ...BLANK_LETTERHEAD, ...json<Letterhead>().read(stored) }),
  write: (value) => JSON.stringify(value),
};

const LETTERHEAD: Columns<SavedLetterhead> = { letterhead, version: number, updated_at: text, updated_by: text };

/** Reads the one `savedLetterheadOf`, or none. */
export const readLetterhead: Statement = {
  sql: `SELECT ${namesOf(LETTERHEAD).join(", ")} FROM letterheads WHERE workspace_id = :workspace`,
};

export const savedLetterheadOf = rowReader(LETTERHEAD);
export const letterheadRow = rowWriter(LETTERHEAD);

/** What stands at the head of a workspace's quotes. */
export class Letterheads {
  readonly #scope: Scope;

  constructor(scope: Scope) {
    this.#scope = scope;
  }

  async get(): Promise<StoredLetterhead> {
    const [row] = await this.#scope.all(readLetterhead.sql);
    if (row === undefined) return { letterhead: BLANK_LETTERHEAD, version: 0 };
    const { letterhead, version } = savedLetterheadOf(row);
    return { letterhead, version };
  }

  /** Puts `letterhead` in place of version `version`. Throws `Conflict` with what is there when that is another. */
  async update(letterhead: Letterhead, version: number, submit_key: SubmitKey = null): Promise<StoredLetterhead> {
    const values = [JSON.stringify(letterhead), this.#scope.now(), this.#scope.actor];
    const write: Statement = {
      sql: `INSERT INTO letterheads (workspace_id, letterhead, version, updated_at, updated_by)
        VALUES (:workspace, ?, 1, ?, ?)
        ON CONFLICT (workspace_id) DO UPDATE SET letterhead = excluded.letterhead, version = version + 1,
          updated_at = excluded.updated_at, updated_by = excluded.updated_by`,
      params: values,
    };
    const { current } = await versionedChange(this.#scope, {
      key: submit_key,
      content: letterhead,
      subject_id: this.#scope.workspaceId,
      subject_version: version + 1,
      statements: [atVersion("letterheads", version), write],
      read: () => this.get(),
    });
    return current;
  }
}
