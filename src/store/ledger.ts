import { Conflict, ConstraintFailed, notFound } from "./errors.ts";
import { keyOf, type Page, pageOf } from "./page.ts";
import type { Repeat, Scope, SubmitKey } from "./scope.ts";
import type { Param, Statement } from "./sql.ts";
import { keptText, searchText } from "./text.ts";

export const CHANGES = ["added", "corrected", "removed", "restored"] as const;
export type Change = (typeof CHANGES)[number];

/** What every line of a ledger says beside its content. */
export interface LineHead {
  /** The entry. Its lines have one id and count their versions from 1. */
  id: string;
  version: number;
  change: Change;
  vehicle_id: string;
  /** Counts the entries of a vehicle in the order in which they were added. */
  number: number;
  recorded_at: string;
  recorded_by: string;
}

export type Line<Content> = LineHead & Content;

/** Stands for the next free number of the vehicle, which the database counts. */
const NEXT = 0;

/** One ledger of migrations 0001 and 0006: its table, the columns of its own, and the order of what holds now. */
export interface LedgerTable<Content> {
  table: "charge_log" | "findings" | "readings" | "notes";
  /** What an entry is called in a message. */
  what: string;
  columns: readonly (keyof Content & string)[];
  /** Ends in `id`, which is unique among what holds now. */
  order: string;
  /** The column that search looks into. */
  searched: keyof Content & string;
}

/**
 * Entries of which no line is ever edited: a correction, a removal and an undo are new lines, and what holds now is
 * derived. Whoever changes an entry names the version that they saw; if there is a newer one, `Conflict` carries it and
 * nothing is stored. All methods throw `Problem` not-found for an id that is not in this workspace.
 */
export class Ledger<Content extends object, Input extends object = Content> {
  readonly #scope: Scope;
  readonly #of: LedgerTable<Content>;

  constructor(scope: Scope, of: LedgerTable<Content>) {
    this.#scope = scope;
    this.#of = of;
  }

  /** What holds now for a vehicle, in order. */
  list(vehicle_id: string): Promise<Line<Content>[]> {
    return this.#scope.ofVehicle(vehicle_id, this.listing(vehicle_id));
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
    return {
      sql: `${select(this.#of)} WHERE workspace_id = :workspace AND ${condition} AND change <> 'removed'
        AND ${notReplaced(this.#of.table)} ORDER BY ${this.#of.order}`,
      params: [param],
    };
  }

  /** Every line ever written for a vehicle, newest first. */
  async history(
    vehicle_id: string,
    { limit = 200, after = null }: { limit?: number; after?: string | null } = {},
  ): Promise<Page<Line<Content>>> {
    const key = after === null ? [] : keyOf(after, ["string", "string", "number"]);
    const rows = await this.#scope.ofVehicle<Line<Content>>(vehicle_id, {
      sql: `${select(this.#of)} WHERE workspace_id = :workspace AND vehicle_id = ?
        ${after === null ? "" : "AND (recorded_at, id, version) < (?, ?, ?)"}
        ORDER BY recorded_at DESC, id DESC, version DESC LIMIT ?`,
      params: [vehicle_id, ...key, limit + 1],
    });
    return pageOf(rows, limit, ({ recorded_at, id, version }) => [recorded_at, id, version]);
  }

  /** The newest line of an entry, be it a removal. */
  async get(id: string): Promise<Line<Content>> {
    return (await this.versions(id)).at(-1)!;
  }

  /** All lines of an entry, the first first. */
  async versions(id: string): Promise<Line<Content>[]> {
    const lines = await this.#scope.all<Line<Content>>(
      `${select(this.#of)} WHERE workspace_id = :workspace AND id = ? ORDER BY version`,
      [id],
    );
    if (lines.length === 0) throw notFound(this.#of.what);
    return lines;
  }

  /** Adds an entry and gives its line. */
  async add(vehicle_id: string, input: Input, submit_key: SubmitKey = null): Promise<Line<Content>> {
    const { id, statement } = this.addition(vehicle_id, input, this.#scope.now());
    const submission = { key: submit_key, content: [vehicle_id, input], subject_id: id, subject_version: 1 };
    try {
      const repeat = await this.#scope.change([statement], submission);
      return repeat === null ? await this.get(id) : await this.#repeated(repeat);
    } catch (error) {
      if (error instanceof ConstraintFailed && error.kind === "foreign-key") throw notFound("vehicle");
      throw error;
    }
  }

  /** The statement of `add`, to be one change with others that have the same `recorded_at`. */
  addition(vehicle_id: string, input: Input, recorded_at: string): { id: string; statement: Statement } {
    const head = { id: this.#scope.newId(), version: 1, change: "added" as const, vehicle_id, number: NEXT };
    const line = { ...this.#content(input), ...head, recorded_at, recorded_by: this.#scope.actor };
    return { id: head.id, statement: this.#insert(line) };
  }

  /** Puts other content in place of version `version`. Content that says the same changes nothing. */
  async correct(id: string, version: number, input: Input, submit_key: SubmitKey = null): Promise<Line<Content>> {
    const content = this.#content(input);
    return this.#replace(id, version, submit_key, ["correct", content], (seen) => {
      if (seen.change === "removed") throw new Conflict(seen, "This was removed. Undo the removal first.");
      const same = this.#of.columns.every((column) => seen[column] === content[column]);
      return same ? null : { change: "corrected", content };
    });
  }

  /** Takes an entry out of what holds now. */
  async remove(id: string, version: number, submit_key: SubmitKey = null): Promise<Line<Content>> {
    return this.#replace(id, version, submit_key, ["remove"], (seen) =>
      seen.change === "removed" ? null : { change: "removed", content: seen },
    );
  }

  /** Puts back what held before version `version`; undoing an undo brings the change back. */
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
    const submission = {
      key: submit_key,
      content: [id, version, ...sent],
      subject_id: id,
      subject_version: version + 1,
    };
    try {
      const repeat = await this.#scope.change([this.#insert(line)], submission);
      return repeat === null ? (await this.versions(id))[version]! : await this.#repeated(repeat);
    } catch (error) {
      // The primary key has one place for the line after version `version`, and someone else has it.
      if (error instanceof ConstraintFailed && error.what === `${this.#of.table}.workspace_id`)
        throw new Conflict(await this.get(id));
      throw error;
    }
  }

  async #repeated({ subject_id, subject_version, same_content }: Repeat): Promise<Line<Content>> {
    const line = (await this.versions(subject_id))[subject_version - 1]!;
    if (!same_content)
      throw new Conflict(line, "This form was saved before, with something else in it. Look at what was saved first.");
    return line;
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

  /** `input` with every column there, absent ones and empty text as null. */
  #content(input: Input): Content {
    const given = input as Record<string, unknown>;
    const kept = (value: unknown) => (typeof value === "string" ? keptText(value) || null : (value ?? null));
    return Object.fromEntries(this.#of.columns.map((column) => [column, kept(given[column])])) as Content;
  }
}

/** Every line of a ledger with all that it says, to be narrowed by a WHERE; the table is called `line` in it. */
export function select({ table, columns }: { table: string; columns: readonly string[] }): string {
  const all = ["id", "version", "change", "vehicle_id", "number", ...columns, "recorded_at", "recorded_by"];
  return `SELECT ${all.map((column) => `line.${column}`).join(", ")} FROM ${table} AS line`;
}

/** A line as a row of its table, without the workspace. */
export function lineRow<Content>(
  { columns, searched }: LedgerTable<Content>,
  line: Line<Content>,
): Record<string, Param> {
  const { id, version, change, vehicle_id, number, recorded_at, recorded_by } = line;
  return {
    id,
    version,
    replaces: version === 1 ? null : version - 1,
    change,
    vehicle_id,
    number,
    ...Object.fromEntries(columns.map((column) => [column, line[column] as Param])),
    recorded_at,
    recorded_by,
    search_text: searchText(line[searched] as string | null),
  };
}

/** What makes a line of `table`, called `line`, the newest of its entry. */
export function notReplaced(table: string): string {
  return `NOT EXISTS (SELECT 1 FROM ${table} AS next WHERE next.workspace_id = line.workspace_id
    AND next.id = line.id AND next.version = line.version + 1)`;
}
