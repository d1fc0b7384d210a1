import type { D1Database, D1PreparedStatement } from "@cloudflare/workers-types";
import { ConstraintFailed, type Fault, StoreFailure } from "./errors.ts";
import { checkParams, type Param, type Row, type Sql, type Statement } from "./sql.ts";

/** A hosted database. */
export class D1Sql implements Sql {
  readonly #db: D1Database;

  constructor(db: D1Database) {
    this.#db = db;
  }

  async all<R extends object = Row>(sql: string, params: readonly Param[] = []): Promise<R[]> {
    const statement = this.#prepare(sql, params);
    return translated(async () => (await statement.all<R>()).results);
  }

  async batch(statements: readonly Statement[]): Promise<Row[][]> {
    if (statements.length === 0) return []; // an error there
    const prepared = statements.map(({ sql, params = [] }) => this.#prepare(sql, params));
    return translated(async () => (await this.#db.batch<Row>(prepared)).map(({ results }) => results));
  }

  #prepare(sql: string, params: readonly Param[]): D1PreparedStatement {
    checkParams(sql, params);
    return this.#db.prepare(sql).bind(...params);
  }
}

async function translated<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    throw error instanceof Error ? translation(error) : error;
  }
}

/** There are no codes, only texts: SQLite's own, and those of the service around it. */
const FAULT_OF_TEXT: readonly (readonly [RegExp, Fault])[] = [
  [/SQLITE_BUSY|SQLITE_LOCKED|overloaded|timeout|object to be reset/, "busy"],
  [/SQLITE_FULL|maximum DB size/, "disk-full"],
  [/SQLITE_READONLY/, "read-only"],
  [/SQLITE_CORRUPT|SQLITE_NOTADB/, "corrupt"],
  [/SQLITE_TOOBIG/, "too-big"],
  [/SQLITE_IOERR|SQLITE_CANTOPEN|Network connection lost|internal error/, "unreachable"],
];

function translation(error: Error): Error {
  if (error.message.includes("SQLITE_CONSTRAINT")) return new ConstraintFailed(error.message, error);
  const fault = FAULT_OF_TEXT.find(([text]) => text.test(error.message))?.[1];
  return fault === undefined ? error : new StoreFailure(fault, error);
}
