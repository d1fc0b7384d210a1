import type { DurableObjectStorage } from "@cloudflare/workers-types";

type Database = Pick<DurableObjectStorage["sql"], "exec" | "databaseSize">;

/** Tables that every object has from the first. All others are late: an object makes one when it first writes to it. */
export const EARLY_TABLES: ReadonlySet<string> = new Set([
  "d1_migrations",
  "workspaces",
  "access_keys",
  "sessions",
  "vehicles",
  "charge_log",
  "findings",
  "readings",
  "notes",
  "submissions",
  "guards",
  "assessments",
  // The triggers of a vehicle's ledgers name it.
  "customers",
]);

/** A table that most objects never need: each costs a page of 4 kB, and its text. */
export interface LateTable {
  name: string;
  columns: readonly string[];
  /** What makes it: the table, then what belongs to it. */
  sql: readonly string[];
  /** For an object that has grown. */
  indexes: readonly string[];
  /** Other late tables that it refers to. */
  needs: readonly string[];
}

/** What an object may hold before its lists need indexes. */
export const SMALL_BYTES = 1024 * 1024;

const MAX_TEXTS = 2000;

/**
 * The late tables of one object. A missing one reads as empty: a statement that names it gets a common table expression
 * without rows. It is created before the first statement that may write to it.
 */
export class LateTables {
  readonly #database: Database;
  readonly #tables: ReadonlyMap<string, LateTable>;
  readonly #name: RegExp;
  /** Those that are not there, and what statements become while they are not. */
  #absent = new Set<string>();
  readonly #texts = new Map<string, string>();

  constructor(database: Database, tables: readonly LateTable[]) {
    this.#database = database;
    this.#tables = new Map(tables.map((table) => [table.name, table]));
    this.#name = new RegExp(`\\b(?:${tables.map(({ name }) => name).join("|")})\\b`, "g");
    this.lookAgain();
  }

  /** Looks which are there; also after a transaction that was rolled back, with which some may have gone. */
  lookAgain(): void {
    const there = this.#database
      .exec<{ name: string }>("SELECT name FROM sqlite_schema WHERE type = 'table'")
      .toArray();
    const names = new Set(there.map(({ name }) => name));
    this.#absent = new Set([...this.#tables.keys()].filter((name) => !names.has(name)));
    this.#texts.clear();
  }

  /** The statement as this object can run it now. Makes the tables that it may write to. */
  fitted(sql: string): string {
    if (this.#absent.size === 0) return sql;
    const known = this.#texts.get(sql);
    if (known !== undefined) return known;
    const plain = withoutTexts(sql);
    const absent = [...new Set(plain.match(this.#name))].filter((name) => this.#absent.has(name));
    if (!isReading(plain)) {
      for (const name of absent) this.#make(name);
      return sql;
    }
    if (this.#texts.size >= MAX_TEXTS) this.#texts.clear();
    const text =
      absent.length === 0
        ? sql
        : withEmpty(
            sql,
            absent.map((name) => this.#tables.get(name)!),
          );
    this.#texts.set(sql, text);
    return text;
  }

  #make(name: string): void {
    if (!this.#absent.delete(name)) return;
    this.#texts.clear();
    const { needs, sql, indexes } = this.#tables.get(name)!;
    for (const other of needs) this.#make(other);
    const grown = this.#database.databaseSize >= SMALL_BYTES;
    for (const statement of [...sql, ...(grown ? indexes : [])]) this.#database.exec(statement);
  }
}

/** A statement without its text literals, whose words name no tables. */
function withoutTexts(sql: string): string {
  return sql.replace(/'(?:[^']|'')*'/g, "''");
}

function isReading(plain: string): boolean {
  return /^\s*(SELECT|WITH)\b/i.test(plain) && !/\b(INSERT|UPDATE|DELETE)\b|\bREPLACE INTO\b/i.test(plain);
}

function withEmpty(sql: string, tables: readonly LateTable[]): string {
  const empty = tables.map(
    ({ name, columns }) => `${name}(${columns.join(",")}) AS (SELECT ${columns.map(() => "NULL").join(",")} WHERE 0)`,
  );
  const own = /^\s*WITH\s+(?:RECURSIVE\s+)?/i.exec(sql)?.[0];
  if (own === undefined) return `WITH ${empty.join(",")} ${sql}`;
  return `WITH RECURSIVE ${empty.join(",")},${sql.slice(own.length)}`;
}

/**
 * The statements of a migration that an object needs: what changes a late table that is not there is left out, since
 * the table is made as it is in the end.
 */
export function statementsFor(sql: string, absent: ReadonlySet<string>): string[] {
  return statementsOf(sql).filter((statement) => {
    const table = tableOf(statement);
    return table === null || !absent.has(table);
  });
}

/**
 * A migration without comments, one statement after another: a trigger ends with `END`.
 *
 * @internal Called from outside by tests alone.
 */
export function statementsOf(sql: string): string[] {
  const statements: string[] = [];
  let begun = "";
  for (const piece of sql.split(";")) {
    begun += piece;
    const in_text = begun.split("'").length % 2 === 0;
    const in_trigger = begun.trimStart().startsWith("CREATE TRIGGER") && !piece.trim().endsWith("END");
    begun += ";";
    if (in_text || in_trigger) continue;
    statements.push(begun.trim());
    begun = "";
  }
  return statements.filter((statement) => statement !== ";");
}

const CHANGES = [
  /^CREATE TABLE (?:IF NOT EXISTS )?(\w+)/,
  /^CREATE (?:UNIQUE )?INDEX (?:IF NOT EXISTS )?\w+ ON (\w+)/,
  /^CREATE TRIGGER \w+ (?:BEFORE|AFTER) (?:INSERT|DELETE|UPDATE(?: OF [\w, ]+?)?) ON (\w+)/,
  /^ALTER TABLE (\w+)/,
  /^DROP TABLE (?:IF EXISTS )?(\w+)/,
  /^UPDATE (\w+)/,
  /^DELETE FROM (\w+)/,
  /^INSERT (?:OR \w+ )?INTO (\w+)/,
];

/**
 * The table that a statement of a migration changes; null for one that drops a trigger or an index. Throws for any
 * other statement.
 */
export function tableOf(statement: string): string | null {
  for (const change of CHANGES) {
    const table = change.exec(statement)?.[1];
    if (table !== undefined) return table;
  }
  if (/^DROP (?:TRIGGER|INDEX) IF EXISTS /.test(statement)) return null;
  throw new Error(`Not a statement for objects: ${statement.slice(0, 80)}`);
}
