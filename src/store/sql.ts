/** What can be bound to a `?`. Numbers bind as REAL on both engines; booleans, dates and undefined cannot be bound. */
export type Param = string | number | null | Uint8Array<ArrayBuffer>;

export interface Statement {
  sql: string;
  params?: readonly Param[];
}

/** One row: column → value. Blobs come as different types from the two engines, so the schema has none. */
export type Row = Record<string, string | number | null>;

/**
 * The port to the database engines. Both methods throw `ConstraintFailed` when the schema refuses a row and
 * `StoreFailure` when the database itself cannot do its work.
 *
 * @example
 * await sql.all("SELECT count(*) AS vehicles FROM vehicles WHERE workspace_id = ?", ["none"]) // [{ vehicles: 0 }]
 */
export interface Sql {
  /**
   * What every key to these records begins with, so that a request can be routed to them; empty where there is only one
   * place.
   */
  readonly place: string;
  /** Runs one statement and gives its rows. */
  all<R extends object = Row>(sql: string, params?: readonly Param[]): Promise<R[]>;
  /**
   * Runs the statements in order, all or none, and gives the rows of each. Read in one batch, several SELECTs see the
   * same state. There is no reading between statements: conditions go into the SQL.
   */
  batch(statements: readonly Statement[]): Promise<Row[][]>;
  /**
   * A text that changes whenever the records of a workspace may have changed, had without reading them. Missing on an
   * engine where others could change them unnoticed.
   */
  stamp?(workspace_id: string): Promise<string>;
  /** Called after every change of a workspace's records, before the request that made it is answered. */
  changed?(workspace_id: string): Promise<void>;
}

/** A statement that changes nothing, and takes no write lock: so that reading goes on while another process writes. */
export const READS = /^\s*SELECT\b/i;

/** Every `?` of a statement and, for `scope.ts`, every `:workspace`, outside quotes and comments. */
const PLACE = /'(?:[^']|'')*'|--[^\n]*|\?|:workspace\b/g;

const counted = new Map<string, number>();

/** Throws RangeError unless there is exactly one parameter for each `?`: node:sqlite takes a missing one as NULL. */
export function checkParams(sql: string, params: readonly Param[]): void {
  let places = counted.get(sql);
  if (places === undefined) {
    places = placesOf(sql).filter((place) => place === "?").length;
    counted.set(sql, places);
  }
  if (places !== params.length) throw new RangeError(`${places} places but ${params.length} parameters: ${sql}`);
  for (const param of params)
    if (param === undefined || (typeof param === "number" && !Number.isFinite(param)))
      throw new RangeError(`Not something a database can hold: ${param}, in ${sql}`);
}

/** The `?` and `:workspace` of a statement, in order. */
export function placesOf(sql: string): ("?" | ":workspace")[] {
  return Array.from(sql.matchAll(PLACE), ([found]) => found).filter((found) => found === "?" || found === ":workspace");
}
