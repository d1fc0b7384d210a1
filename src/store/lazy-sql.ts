import type { Param, Row, Sql, Statement } from "./sql.ts";

/**
 * A database that is opened when it is first needed. When that fails, whoever asked is told, and the next one tries
 * again: a server goes on serving, and is well again once there is room or permission.
 */
export class LazySql implements Sql {
  readonly #open: () => Promise<Sql>;
  #opened: Promise<Sql> | null = null;

  constructor(open: () => Promise<Sql>) {
    this.#open = open;
  }

  async all<R extends object = Row>(sql: string, params?: readonly Param[]): Promise<R[]> {
    return (await this.ready()).all<R>(sql, params);
  }

  async batch(statements: readonly Statement[]): Promise<Row[][]> {
    return (await this.ready()).batch(statements);
  }

  /** The open database; rejects with what stands in the way. */
  async ready(): Promise<Sql> {
    this.#opened ??= this.#open();
    try {
      return await this.#opened;
    } catch (error) {
      this.#opened = null;
      throw error;
    }
  }
}
