/**
 * What a thread of the file pool does: whole files are read there, so that nobody waits for another's. Records are also
 * taken in, written out and measured there, by a connection of its own to the one file of records.
 */
import { Problem } from "./core/problem.ts";
import type { FileRefused, GiveOutAsked, MeasureAsked, TakeInAsked } from "./file-pool.ts";
import type { Access } from "./store/access.ts";
import { StoreFailure } from "./store/errors.ts";
import { NodeSql } from "./store/node-sqlite.ts";
import { workspaceBytes } from "./store/workspace-bytes.ts";
import { workspaceStore } from "./store/workspace-store.ts";
import type { TakenIn } from "./web/edge/take-in.ts";
import { workbookSheets } from "./web/edge/workbook.ts";
import { givenOut } from "./web/settings/give-out.ts";
import { takeInto } from "./web/settings/take-in.ts";

export const workbook = (bytes: ArrayBuffer) => workbookSheets(bytes);

/** Takes a file of exported records into the database of this machine, in this thread. */
export function takeIn({ database, text, access, options }: TakeInAsked): Promise<TakenIn | FileRefused> {
  return withRecords({ database, readOnly: false }, (sql) => takeInto(storeOf(sql, access), text, options));
}

/** Writes a file of records, in this thread. */
export function giveOut({ database, as, access }: GiveOutAsked): Promise<Uint8Array<ArrayBuffer> | FileRefused> {
  return withRecords({ database, readOnly: true }, (sql) => givenOut(storeOf(sql, access), as));
}

/** About how many bytes a workspace takes, counted in this thread. */
export function measure({ database, workspace_id }: MeasureAsked): Promise<number | FileRefused> {
  return withRecords({ database, readOnly: true }, (sql) => workspaceBytes(sql, workspace_id));
}

function storeOf(sql: NodeSql, access: Access) {
  const random = (bytes: number) => crypto.getRandomValues(new Uint8Array(bytes));
  return workspaceStore({ ...access, sql, now: () => new Date(), random });
}

/** Works on a connection of its own to the file with the records; what only reads cannot write. */
async function withRecords<Result>(
  { database, readOnly }: { database: string; readOnly: boolean },
  work: (sql: NodeSql) => Promise<Result>,
): Promise<Result | FileRefused> {
  try {
    const sql = new NodeSql(database, { readOnly });
    try {
      return await work(sql);
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
