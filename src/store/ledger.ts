import { CHANGES, type Change, type Line, type LineHead } from "../core/question/record.ts";
import { type Columns, namesOf, number, oneOf, rowReader, rowWriter, text } from "./columns.ts";
import { Conflict, ConstraintFailed, notFound } from "./errors.ts";
import { keyOf, type Page, pageOf } from "./page.ts";
import type { Scope, Submission, SubmitKey } from "./scope.ts";
import type { Param, Row, Statement } from "./sql.ts";
import { keptText, searchText } from "./text.ts";
import { versionedChange } from "./versioned-change.ts";

/** Placeholder for the next free number of the vehicle, which the database assigns. */
const NEXT = 0;

const HEAD: Columns<LineHead> = {
  id: text,
  version: number,
  change: oneOf(CHANGES),
  vehicle_id: text,
  number,
  recorded_at: text,
  recorded_by: text,
};

/** One ledger: its table, its own columns, and the order of its current entries. */
export interface LedgerTable<Content> {
  table: "charge_log" | "findings" | "readings" | "notes";
  /** What an entry is called in a message. */
  what: string;
  columns: Columns<Content>;
  /** Ends in `id`, which is unique among what holds now. */
  order: string;
  /** The column that search looks into. */
  searched: keyof Content & string;
}

/**
 * Entries whose lines are never edited: a correction, a removal and an undo add a line, and the current state is
 * derived from the lines. A change names the version that it is about; if there is a newer one, `Conflict` carries it
 * and nothing is stored. All methods throw `Problem` not-found for an id that is not in this workspace.
 */
export class Ledger<Content extends object, Input extends object = Content> {
  readonly #scope: Scope;
  readonly #of: LedgerTable<Content>;
  /** Reads a row of what `listing` and `listingOfSeveral` give. */
  readonly lineOf: (row: Row) => Line<Content>;

  constructor(scope: Scope, of: LedgerTable<Content>) {
    this.#scope = scope;
    this.#of = of;
    // Made on first use: most requests read no ledger.
    let reader: typeof this.lineOf | undefined;
    this.lineOf = (row) => {
      reader ??= lineReader(of);
      return reader(row);
    };
  }

  /** The current entries of a vehicle, in order. */
  async list(vehicle_id: string): Promise<Line<Content>[]> {
    return (await this.#scope.ofVehicle(vehicle_id, this.listing(vehicle_id))).map(this.lineOf);
  }

  /** The statement of `list`, to be read in one batch with others. */
  listing(vehicle_id: string): Statement {
    return this.#holding("vehicle_id = ?", vehicle_id);
  }

  /** The same for several vehicles, mixed. */
  listingOfSeveral(vehicle_ids: readonly string[]): Statement {
    return this.#holding("vehicle_id IN (SELECT value FROM json_each(?))", JSON.stringify(vehicle_ids));
  }

  #holding(condition: string, param: string): Statement {
    // The plus keeps SQLite from scanning all vehicles' entries by date, only to avoid sorting those of a few.
    return {
      sql: `${select(this.#of)} WHERE workspace_id = :workspace AND ${condition} AND change <> 'removed'
        AND ${notReplaced(this.#of.table)} ORDER BY +${this.#of.order}`,
      params: [param],
    };
  }

  /** Every line ever written for a vehicle, newest first. */
  async history(
    vehicle_id: string,
    { limit = 200, after = null }: { limit?: number; after?: string | null } = {},
  ): Promise<Page<Line<Content>>> {
    const key = after === null ? [] : keyOf(after, ["string", "string", "number"]);
    const rows = await this.#scope.ofVehicle(vehicle_id, {
      sql: `${select(this.#of)} WHERE workspace_id = :workspace AND vehicle_id = ?
        ${after === null ? "" : "AND (recorded_at, id, version) < (?, ?, ?)"}
        ORDER BY recorded_at DESC, id DESC, version DESC LIMIT ?`,
      params: [vehicle_id, ...key, limit + 1],
    });
    return pageOf(rows.map(this.lineOf), limit, ({ recorded_at, id, version }) => [recorded_at, id, version]);
  }

  /** The newest line of an entry, even if that is a removal. */
  async get(id: string): Promise<Line<Content>> {
    return (await this.versions(id)).at(-1)!;
  }

  /** All versions of an entry, oldest first. */
  async versions(id: string): Promise<Line<Content>[]> {
    const rows = await this.#scope.all(
      `${select(this.#of)} WHERE workspace_id = :workspace AND id = ? ORDER BY version`,
      [id],
    );
    if (rows.length === 0) throw notFound(this.#of.what);
    return rows.map(this.lineOf);
  }

  /** Adds an entry and gives its line. */
  async add(vehicle_id: string, input: Input, submit_key: SubmitKey = null): Promise<Line<Content>> {
    const { id, statement } = this.addition(vehicle_id, input, this.#scope.now());
    const submission = { key: submit_key, content: [vehicle_id, input], subject_id: id, subject_version: 1 };
    try {
      return await this.#change(statement, submission);
    } catch (error) {
      if (error instanceof ConstraintFailed && error.kind === "foreign-key") throw notFound("vehicle");
      throw error;
    }
  }

  /** The statement of `add`, to be one change with others that have the same `recorded_at`. */
  addition(vehicle_id: string, input: Input, recorded_at: string): { id: string; statement: Statement } {
    const head = { id: this.#scope.newId(), version: 1, change: "added" as const, vehicle_id, number: NEXT };
    const line = { ...contentOf(this.#of, input), ...head, recorded_at, recorded_by: this.#scope.actor };
    return { id: head.id, statement: this.#insert(line) };
  }

  /** Puts other content in place of version `version`. Content that says the same changes nothing. */
  async correct(id: string, version: number, input: Input, submit_key: SubmitKey = null): Promise<Line<Content>> {
    const content = contentOf(this.#of, input);
    return this.#replace(id, version, submit_key, ["correct", content], (seen) => {
      if (seen.change === "removed") throw new Conflict(seen, "This was removed. Undo the removal first.");
      const same = namesOf(this.#of.columns).every((column) => seen[column] === content[column]);
      return same ? null : { change: "corrected", content };
    });
  }

  /** Removes an entry from the current ones. */
  async remove(id: string, version: number, submit_key: SubmitKey = null): Promise<Line<Content>> {
    return this.#replace(id, version, submit_key, ["remove"], (seen) =>
      seen.change === "removed" ? null : { change: "removed", content: seen },
    );
  }

  /** Restores the state before version `version`; undoing an undo restores the change. */
  async undo(id: string, version: number, submit_key: SubmitKey = null): Promise<Line<Content>> {
    return this.#replace(id, version, submit_key, ["undo"], (seen, before) =>
      before === null || before.change === "removed"
        ? { change: "removed", content: seen }
        : { change: "restored", content: before },
    );
  }

  async #replace(
    id: string,
    version: number,
    submit_key: SubmitKey,
    sent: unknown[],
    replacement: (seen: Line<Content>, before: Line<Content> | null) => { change: Change; content: Content } | null,
  ): Promise<Line<Content>> {
    const lines = await this.versions(id);
    const seen = lines[version - 1];
    if (seen === undefined) throw new Conflict(lines.at(-1)!);
    const next = replacement(seen, lines[version - 2] ?? null);
    if (next === null) {
      if (lines.length > version) throw new Conflict(lines.at(-1)!);
      return seen;
    }
    const line = {
      ...seen,
      ...next.content,
      version: version + 1,
      change: next.change,
      recorded_at: this.#scope.now(),
      recorded_by: this.#scope.actor,
    };
    return this.#change(this.#insert(line), {
      key: submit_key,
      content: [id, version, ...sent],
      subject_id: id,
      subject_version: version + 1,
    });
  }

  async #change(statement: Statement, submission: Submission): Promise<Line<Content>> {
    const read = async (id: string, version?: number) =>
      version === undefined ? this.get(id) : (await this.versions(id))[version - 1]!;
    // The primary key allows only one line for each version.
    const taken = `${this.#of.table}.workspace_id`;
    return (await versionedChange(this.#scope, { ...submission, statements: [statement], taken, read })).current;
  }

  #insert(line: Line<Content>): Statement {
    const { table } = this.#of;
    const row = lineRow(this.#of, line);
    const next_number = `(SELECT coalesce(max(number), 0) + 1 FROM ${table} WHERE workspace_id = :workspace AND vehicle_id = ?)`;
    const isNext = (column: string) => column === "number" && line.number === NEXT;
    const columns = Object.keys(row);
    return {
      sql: `INSERT INTO ${table} (workspace_id, ${columns.join(", ")})
        VALUES (:workspace, ${columns.map((column) => (isNext(column) ? next_number : "?")).join(", ")})`,
      params: columns.map((column) => (isNext(column) ? line.vehicle_id : row[column]!)),
    };
  }
}

/** What an entry says with every column there, in the order of the table; absent ones and empty text as null. */
export function contentOf<Content>({ columns }: Pick<LedgerTable<Content>, "columns">, input: object): Content {
  const given = input as Record<string, unknown>;
  const kept = (value: unknown) => (typeof value === "string" ? keptText(value) || null : (value ?? null));
  return Object.fromEntries(namesOf(columns).map((column) => [column, kept(given[column])])) as Content;
}

/** Reads the rows of `select`. */
export function lineReader<Content>({ columns }: Pick<LedgerTable<Content>, "columns">): (row: Row) => Line<Content> {
  return rowReader({ ...HEAD, ...columns } as Columns<Line<Content>>);
}

/** Every line of a ledger with all that it says, to be narrowed by a WHERE; the table is called `line` in it. */
export function select<Content>({ table, columns }: LedgerTable<Content>): string {
  const all = [...namesOf(HEAD), ...namesOf(columns)];
  return `SELECT ${all.map((column) => `line.${column}`).join(", ")} FROM ${table} AS line`;
}

/** A line as a row of its table, without the workspace. */
export function lineRow<Content>(
  { columns, searched }: LedgerTable<Content>,
  line: Line<Content>,
): Record<string, Param> {
  return {
    ...rowWriter(HEAD)(line),
    replaces: line.version === 1 ? null : line.version - 1,
    // As `contentOf` made it: what may not be empty is refused by the schema.
    ...Object.fromEntries(namesOf(columns).map((column) => [column, line[column] as Param])),
    search_text: searchText(line[searched] as string | null),
  };
}

/** SQL condition that a line of `table`, named `line`, is the newest of its entry. */
export function notReplaced(table: string): string {
  return `NOT EXISTS (SELECT 1 FROM ${table} AS next WHERE next.workspace_id = line.workspace_id
    AND next.id = line.id AND next.version = line.version + 1)`;
}
