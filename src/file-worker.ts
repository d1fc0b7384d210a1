/**
 * What a thread of the file pool does: whole files are read there, so that nobody waits for another's. Records are also
 * taken in, written out and measured there, by a connection of its own to the one file of records.
 */
import { Tinypool } from "tinypool";
import { Problem } from "./core/problem.ts";
import type {
  FileRefused,
  FleetFilesAsked,
  GiveOutAsked,
  MeasureAsked,
  TakeInAsked,
  UnpackAsked,
} from "./file-pool.ts";
import { letOthersGoFirst } from "./patient-thread.ts";
import type { Access } from "./store/access.ts";
import { StoreFailure } from "./store/errors.ts";
import { NodeSql } from "./store/node-sqlite.ts";
import { workspaceBytes } from "./store/workspace-bytes.ts";
import { workspaceStore } from "./store/workspace-store.ts";
import type { TakenIn } from "./web/edge/take-in.ts";
import { workbookSheets } from "./web/edge/workbook.ts";
import { fleetFilesHere } from "./web/fleet/import/files.ts";
import { givenOut } from "./web/settings/give-out.ts";
import { unpacked } from "./web/settings/packed.ts";
import { takeInto } from "./web/settings/take-in.ts";

letOthersGoFirst();

export const workbook = (bytes: ArrayBuffer) => workbookSheets(bytes);

/** Takes a file of exported records into the database of this machine, in this thread. */
export function takeIn({ database, file, access, options }: TakeInAsked): Promise<TakenIn | FileRefused> {
  return withRecords({ database, readOnly: false }, (sql) => takeInto(storeOf(sql, access), file, options));
}

/** Reads a fleet's files, and takes them in. */
export function fleetFiles({ database, access, work }: FleetFilesAsked): Promise<unknown> {
  return withRecords<unknown>({ database, readOnly: false }, (sql) => {
    const files = fleetFilesHere({ store: storeOf(sql, access), now: () => new Date(), workbook: workbookSheets });
    switch (work[0]) {
      case "keep":
        return files.keep(work[1]);
      case "look":
        return files.look(work[1]);
      case "rejected":
        return files.rejected(work[1], work[2]);
      case "take":
        return files.take(work[1], work[2]);
    }
  });
}

/** Unpacks a file that came back with its form. */
export function unpack({ form_value, max_bytes }: UnpackAsked): Promise<Uint8Array<ArrayBuffer> | FileRefused> {
  return unlessRefusing(async () => moved(await unpacked(form_value, max_bytes)));
}

/** Writes a file of records, in this thread. */
export function giveOut({ database, as, access }: GiveOutAsked): Promise<Uint8Array<ArrayBuffer> | FileRefused> {
  return withRecords({ database, readOnly: true }, async (sql) => moved(await givenOut(storeOf(sql, access), as)));
}

/** About how many bytes a workspace takes, counted in this thread. */
export function measure({ database, workspace_id }: MeasureAsked): Promise<number | FileRefused> {
  return withRecords({ database, readOnly: true }, (sql) => workspaceBytes(sql, workspace_id));
}

/** Handed over without a copy, since the other side would make it while others wait. */
function moved(bytes: Uint8Array<ArrayBuffer>): Uint8Array<ArrayBuffer> {
  return Tinypool.move(bytes) as Uint8Array<ArrayBuffer>;
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
  return unlessRefusing(async () => {
    const sql = new NodeSql(database, { readOnly });
    try {
      return await work(sql);
    } finally {
      sql.close();
    }
  });
}

async function unlessRefusing<Result>(work: () => Promise<Result>): Promise<Result | FileRefused> {
  try {
    return await work();
  } catch (error) {
    // An error that crosses to another thread is no longer of its class.
    if (error instanceof StoreFailure) return { thrown: "store", fault: error.fault, cause: String(error.cause) };
    if (error instanceof Problem) return { thrown: "problem", code: error.code, message: error.message };
    throw error;
  }
}
