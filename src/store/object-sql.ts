import type { DurableObjectStorage } from "@cloudflare/workers-types";
import { ConstraintFailed, type Fault, StoreFailure } from "./errors.ts";
import type { LateTables } from "./object-tables.ts";
import { checkParams, type Param, READS, type Row, type Sql, type Statement } from "./sql.ts";

/** What an object's statements run on, and the tables that it makes when they are needed. */
export interface ObjectStorage extends Pick<DurableObjectStorage, "sql" | "transactionSync"> {
  late: LateTables;
}

/** The SQLite of one durable object, beside the code that asks it: no statement waits for anything. */
export class ObjectSql implements Sql {
  readonly place: string;
  readonly #storage: ObjectStorage;
  readonly #changes: { count: number };

  /** `changes` counts what is changed through any of these, for as long as the object is in memory. */
  constructor(storage: ObjectStorage, place: string, changes: { count: number }) {
    this.#storage = storage;
    this.place = place;
    this.#changes = changes;
  }

  async all<R extends object = Row>(sql: string, params: readonly Param[] = []): Promise<R[]> {
    checkParams(sql, params);
    if (!READS.test(sql)) this.#changes.count += 1;
    return translated(async () => rowsOf(this.#storage, sql, params) as R[]);
  }

  async batch(statements: readonly Statement[]): Promise<Row[][]> {
    for (const { sql, params = [] } of statements) checkParams(sql, params);
    if (!statements.every(({ sql }) => READS.test(sql))) this.#changes.count += 1;
    return translated(async () => atomically(this.#storage, statements));
  }

  /** An object holds one workspace, and nobody else writes into it. */
  async stamp(): Promise<string> {
    return String(this.#changes.count);
  }
}

/** An object of another process or machine that runs statements when it is asked to. */
export interface RemoteRecords {
  /**
   * Runs the statements in order, all or none. An error of the engine comes back as its text, since errors lose their
   * class on the way.
   */
  run(statements: readonly Statement[]): Promise<{ rows: Row[][] } | { refused: string }>;
}

/** The records of an object, asked from outside it. */
export class RemoteSql implements Sql {
  readonly place: string;
  readonly #records: RemoteRecords;

  constructor(records: RemoteRecords, place: string) {
    this.#records = records;
    this.place = place;
  }

  async all<R extends object = Row>(sql: string, params: readonly Param[] = []): Promise<R[]> {
    const [rows] = await this.batch([{ sql, params }]);
    return rows as R[];
  }

  async batch(statements: readonly Statement[]): Promise<Row[][]> {
    for (const { sql, params = [] } of statements) checkParams(sql, params);
    return translated(async () => {
      const answer = await this.#records.run(statements);
      if ("refused" in answer) throw new Error(answer.refused);
      return answer.rows;
    });
  }
}

/** A database without records, for a request without a key, or with a key that leads nowhere. */
export const NO_RECORDS: Sql = {
  place: "",
  all: async () => [],
  batch: async (statements) => statements.map(() => []),
};

/** Runs the statements in one transaction. Throws the engine's own errors. */
export function atomically(storage: ObjectStorage, statements: readonly Statement[]): Row[][] {
  try {
    return storage.transactionSync(() => statements.map(({ sql, params = [] }) => rowsOf(storage, sql, params)));
  } catch (error) {
    storage.late.lookAgain();
    throw error;
  }
}

function rowsOf({ sql: database, late }: ObjectStorage, sql: string, params: readonly Param[]): Row[] {
  return database.exec(late.fitted(sql), ...params).toArray() as Row[];
}

async function translated<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    throw error instanceof Error ? translation(error) : error;
  }
}

/** Errors here have no codes, only texts: SQLite's own and those of the service around it. */
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
