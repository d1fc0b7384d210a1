import type { Param, Row, Sql, Statement } from "./sql.ts";

/**
 * A database that is opened on first use. A failure is reported to the caller, and the next caller tries again, so a
 * server recovers once there is room or permission.
 */
export class LazySql<Engine extends Required<Sql> = Required<Sql>> implements Sql {
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

  async stamp(workspace_id: string): Promise<string> {
    return (await this.ready()).stamp(workspace_id);
  }

  async changed(workspace_id: string): Promise<void> {
    await (await this.ready()).changed(workspace_id);
  }

  /** The open database; rejects when it cannot be opened. */
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
