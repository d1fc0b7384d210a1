import type { Param, Row, Sql, Statement } from "./sql.ts";

/**
 * A database that is opened when it is first needed. When that fails, whoever asked is told, and the next one tries
 * again: a server goes on serving, and recovers once there is room or permission.
 */
export class LazySql<Engine extends Sql = Sql> implements Sql {
  readonly place = "";
  readonly #open: () => Promise<Engine>;
  #opened: Promise<Engine> | null = null;

  constructor(open: () => Promise<Engine>) {
    this.#open = open;
  }

  async all<R extends object = Row>(sql: string, params?: readonly Param[]): Promise<R[]> {
    return (await this.ready()).all<R>(sql, params);
  }

  async batch(statements: readonly Statement[]): Promise<Row[][]> {
    return (await this.ready()).batch(statements);
  }

  /** The open database; rejects with what stands in the way. */
  async ready(): Promise<Engine> {
    this.#opened ??= this.#open();
    try {
      return await this.#opened;
    } catch (error) {
      this.#opened = null;
      throw error;
    }
  }

  /** The open database, for whoever is to close it; null while there is none. */
  async opened(): Promise<Engine | null> {
    return this.#opened?.catch(() => null) ?? null;
  }
}
