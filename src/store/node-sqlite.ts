import { mkdirSync } from "node:fs";
import { dirname } from "node:path";
import { backup, DatabaseSync, type StatementSync } from "node:sqlite";
import { ChangeCounts } from "./change-counts.ts";
import { ConstraintFailed, type Fault, StoreFailure } from "./errors.ts";
import { checkParams, type Param, READS, type Row, type Sql, type Statement } from "./sql.ts";

/** How long opening and migrating wait for another process that is writing. */
const OPENING_BUSY_MS = 5000;
/** How long a statement waits for a lock, blocking this process. */
const BUSY_MS = 50;
/** How often a blocked write retries, and the pause between retries. */
const BUSY_TRIES = 60;
const BUSY_PAUSE_MS = 50;

/** Options under which SQLite on this machine rejects what the hosted engine would reject. */
const HOSTED_LIMITS = {
  variableNumber: 100,
  compoundSelect: 5,
  exprDepth: 100,
  likePatternLength: 50,
  sqlLength: 100_000,
  column: 100,
  functionArg: 32,
  length: 2_000_000,
};

/**
 * A database in a file of this machine. One connection; every statement runs at once, so a batch is never interleaved.
 */
export class NodeSql implements Sql {
  readonly place = "";
  readonly #db: DatabaseSync;
  readonly #prepared = new Map<string, StatementSync>();
  readonly #changes = new ChangeCounts();
  /** What SQLite said of the changes of others; null once the event loop has turned. */
  #by_others: string | null = null;

  /**
   * Opens the database at `file` (":memory:" for none), creating it and its folder if need be; with `readOnly` it must
   * exist. Throws StoreFailure.
   */
  constructor(file: string, { readOnly = false }: { readOnly?: boolean } = {}) {
    this.#db = translated(() => open(file, readOnly));
  }

  async all<R extends object = Row>(sql: string, params: readonly Param[] = []): Promise<R[]> {
    return whenFree(() => translated(() => this.#run(sql, params)) as R[]);
  }

  async batch(statements: readonly Statement[]): Promise<Row[][]> {
    const begin = statements.every(({ sql }) => READS.test(sql)) ? "BEGIN" : "BEGIN IMMEDIATE";
    const run = () => statements.map(({ sql, params = [] }) => this.#run(sql, params));
    return whenFree(() => translated(() => this.#atomically(run, begin)));
  }

  /**
   * Counts what this process changes; of others, SQLite says whether they changed anything in the file. It is asked
   * once for all requests that came in together, since that takes a lock of the file: what another process changes
   * while they are answered came too late for them.
   */
  async stamp(workspace_id: string): Promise<string> {
    if (this.#by_others === null) {
      const [found] = await whenFree(() => translated(() => this.#run("PRAGMA data_version", [])));
      this.#by_others = `${found!.data_version}`;
      setImmediate(() => {
        this.#by_others = null;
      });
    }
    return `${this.#by_others}.${this.#changes.of(workspace_id)}`;
  }

  async changed(workspace_id: string): Promise<void> {
    this.#changes.count(workspace_id);
  }

  /** Runs a whole script, as one change: for migrations. */
  script(sql: string): void {
    this.#db.exec(`PRAGMA busy_timeout=${OPENING_BUSY_MS}`);
    try {
      translated(() => this.#atomically(() => this.#db.exec(sql)));
    } finally {
      this.#changes.countForAll();
      this.#db.exec(`PRAGMA busy_timeout=${BUSY_MS}`);
    }
  }

  /** Writes a copy of the state of one moment to `file`, while others go on reading and writing. */
  async backup(file: string): Promise<void> {
    try {
      await backup(this.#db, file);
    } catch (error) {
      throw translation(error);
    }
  }

  /** Writes what stands in the log beside the file into the file, so that a copy of the one file is whole. */
  checkpoint(): void {
    translated(() => this.#db.exec("PRAGMA wal_checkpoint(TRUNCATE)"));
  }

  close(): void {
    this.#prepared.clear();
    this.#db.close();
  }

  #run(sql: string, params: readonly Param[]): Row[] {
    checkParams(sql, params);
    let statement = this.#prepared.get(sql);
    if (statement === undefined) {
      statement = this.#db.prepare(sql);
      this.#prepared.set(sql, statement);
    }
    return statement.all(...params) as Row[];
  }

  #atomically<T>(work: () => T, begin: "BEGIN" | "BEGIN IMMEDIATE" = "BEGIN IMMEDIATE"): T {
    this.#db.exec(begin);
    try {
      const result = work();
      this.#db.exec("COMMIT");
      return result;
    } catch (error) {
      // Some failures, a full disk among them, have already rolled back.
      if (this.#db.isTransaction) this.#db.exec("ROLLBACK");
      throw error;
    }
  }
}

/**
 * Runs `work`, and again a moment later while another process is writing; other requests go on meanwhile. Throws
 * StoreFailure busy after three seconds of it.
 */
async function whenFree<T>(work: () => T): Promise<T> {
  for (let tries = 1; ; tries += 1) {
    try {
      return work();
    } catch (error) {
      if (!(error instanceof StoreFailure && error.fault === "busy") || tries === BUSY_TRIES) throw error;
      await new Promise((resolve) => setTimeout(resolve, BUSY_PAUSE_MS));
    }
  }
}

function open(file: string, readOnly: boolean): DatabaseSync {
  if (file !== ":memory:" && !readOnly) mkdirSync(dirname(file), { recursive: true, mode: 0o700 });
  const db = new DatabaseSync(file, {
    readOnly,
    timeout: OPENING_BUSY_MS,
    defensive: true,
    enableForeignKeyConstraints: true,
    enableDoubleQuotedStringLiterals: false,
    limits: HOSTED_LIMITS,
  });
  try {
    // FULL: acknowledged changes survive a power cut.
    db.exec(`${readOnly ? "" : "PRAGMA journal_mode=WAL; "}PRAGMA synchronous=FULL; PRAGMA trusted_schema=OFF`);
    db.exec(`PRAGMA busy_timeout=${BUSY_MS}`);
    return db;
  } catch (error) {
    db.close();
    throw error;
  }
}

function translated<T>(work: () => T): T {
  try {
    return work();
  } catch (error) {
    throw translation(error);
  }
}

/** https://www.sqlite.org/rescode.html: the low byte is the primary result code. */
const FAULT_OF_CODE: Record<number, Fault> = {
  5: "busy", // SQLITE_BUSY
  6: "busy", // SQLITE_LOCKED
  8: "read-only", // SQLITE_READONLY
  10: "unreachable", // SQLITE_IOERR
  11: "corrupt", // SQLITE_CORRUPT
  13: "disk-full", // SQLITE_FULL
  14: "unreachable", // SQLITE_CANTOPEN
  18: "too-big", // SQLITE_TOOBIG
  26: "corrupt", // SQLITE_NOTADB
};
const SQLITE_CONSTRAINT = 19;
/** SQLITE_IOERR_SHMSIZE: no room for the file that the connections share. */
const NO_ROOM_TO_SHARE = 4874;

function translation(error: unknown): unknown {
  if (!(error instanceof Error)) return error;
  const fault = FAULT_OF_FILE_ERROR[(error as NodeJS.ErrnoException).code ?? ""];
  if (fault !== undefined) return new StoreFailure(fault, error);
  if (!("errcode" in error) || typeof error.errcode !== "number") return error;
  if (error.errcode === NO_ROOM_TO_SHARE) return new StoreFailure("disk-full", error);
  const code = error.errcode & 0xff;
  if (code === SQLITE_CONSTRAINT) return new ConstraintFailed(error.message, error);
  return FAULT_OF_CODE[code] === undefined ? error : new StoreFailure(FAULT_OF_CODE[code], error);
}

/** Where the folder of a new database cannot be made. */
const FAULT_OF_FILE_ERROR: Record<string, Fault> = {
  EROFS: "read-only",
  EACCES: "read-only",
  ENOSPC: "disk-full",
  ENOTDIR: "unreachable",
  EEXIST: "unreachable",
  ELOOP: "unreachable",
  ENAMETOOLONG: "unreachable",
};
