import { BLANK_LETTERHEAD, type Letterhead } from "../core/quotes/quote-document.ts";
import { Conflict, ConstraintFailed } from "./errors.ts";
import { guard, type Scope, type SubmitKey } from "./scope.ts";
import type { Param, Row, Statement } from "./sql.ts";

export interface StoredLetterhead {
  letterhead: Letterhead;
  /** 0 before anything was said. */
  version: number;
}

/** One that somebody has saved, with all that is kept of it. */
export interface SavedLetterhead extends StoredLetterhead {
  updated_at: string;
  updated_by: string;
}

/** Reads the one `savedLetterheadOf`, or none. */
export const readLetterhead: Statement = {
  sql: "SELECT letterhead, version, updated_at, updated_by FROM letterheads WHERE workspace_id = :workspace",
};

export function savedLetterheadOf(row: Row): SavedLetterhead {
  return { ...(row as unknown as SavedLetterhead), letterhead: letterheadOf(row.letterhead as string) };
}

export function letterheadRow({ letterhead, ...rest }: SavedLetterhead): Record<string, Param> {
  return { ...rest, letterhead: JSON.stringify(letterhead) };
}

function letterheadOf(json: string): Letterhead {
  return { ...BLANK_LETTERHEAD, ...JSON.parse(json) };
}

/** What stands at the head of a workspace's quotes. */
export class Letterheads {
  readonly #scope: Scope;

  constructor(scope: Scope) {
    this.#scope = scope;
  }

  async get(): Promise<StoredLetterhead> {
    const [row] = await this.#scope.all<{ letterhead: string; version: number }>(
      "SELECT letterhead, version FROM letterheads WHERE workspace_id = :workspace",
    );
    if (row === undefined) return { letterhead: BLANK_LETTERHEAD, version: 0 };
    return { letterhead: letterheadOf(row.letterhead), version: row.version };
  }

  /** Puts `letterhead` in place of version `version`. Throws `Conflict` with what is there when that is another. */
  async update(letterhead: Letterhead, version: number, submit_key: SubmitKey = null): Promise<StoredLetterhead> {
    const values = [JSON.stringify(letterhead), this.#scope.now(), this.#scope.actor];
    const unchanged = guard("coalesce((SELECT version FROM letterheads WHERE workspace_id = :workspace), 0) = ?", [
      version,
    ]);
    const write: Statement = {
      sql: `INSERT INTO letterheads (workspace_id, letterhead, version, updated_at, updated_by)
        VALUES (:workspace, ?, 1, ?, ?)
        ON CONFLICT (workspace_id) DO UPDATE SET letterhead = excluded.letterhead, version = version + 1,
          updated_at = excluded.updated_at, updated_by = excluded.updated_by`,
      params: values,
    };
    const subject_id = this.#scope.workspaceId;
    const submission = { key: submit_key, content: letterhead, subject_id, subject_version: version + 1 };
    try {
      const repeat = await this.#scope.change([unchanged, write], submission);
      const current = await this.get();
      if (repeat !== null && !repeat.same_content) throw new Conflict(current);
      return current;
    } catch (error) {
      if (error instanceof ConstraintFailed && error.what === "guard") throw new Conflict(await this.get());
      throw error;
    }
  }
}
