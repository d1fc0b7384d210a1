/**
 * What a thread of the file pool does: whole files are read there, so that nobody waits for another's. Exported records
 * are also taken in there, by a connection of its own to the one file of records.
 */
import { Problem } from "./core/problem.ts";
import type { FileRefused, TakeInAsked } from "./file-pool.ts";
import { StoreFailure } from "./store/errors.ts";
import { NodeSql } from "./store/node-sqlite.ts";
import { workspaceStore } from "./store/workspace-store.ts";
import type { TakenIn } from "./web/edge/take-in.ts";
import { workbookSheets } from "./web/edge/workbook.ts";
import { takeInto } from "./web/settings/take-in.ts";

export const workbook = (bytes: ArrayBuffer) => workbookSheets(bytes);

/** Takes a file of exported records into the database of this machine, in this thread. */
export async function takeIn({ database, text, access, options }: TakeInAsked): Promise<TakenIn | FileRefused> {
  try {
    const sql = new NodeSql(database);
    try {
      const random = (bytes: number) => crypto.getRandomValues(new Uint8Array(bytes));
      const store = workspaceStore({ ...access, sql, now: () => new Date(), random });
      return await takeInto(store, text, options);
    } finally {
      sql.close();
    }
  } catch (error) {
    // An error that crosses to another thread is no longer of its class.
    if (error instanceof StoreFailure) return { refused: "store", fault: error.fault, cause: String(error.cause) };
    if (error instanceof Problem) return { refused: "problem", code: error.code, message: error.message };
    throw error;
  }
}
