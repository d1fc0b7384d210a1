import { Tinypool } from "tinypool";
import { Problem, type ProblemCode } from "./core/problem.ts";
import type { Access } from "./store/access.ts";
import { type Fault, StoreFailure } from "./store/errors.ts";
import type { ImportOptions } from "./store/transfer.ts";
import type { TakeIn, TakenIn } from "./web/edge/take-in.ts";
import type { Workbook } from "./web/edge/workbook.ts";

/** A workbook of 100 MB unpacked, or an export of 64 MiB, takes that several times over while it is read. */
const MIB_OF_A_FILE = 1200;
const LONGEST_MS = 100_000;
const FILES_WAITING = 4;

export interface TakeInAsked {
  /** The file with the records. */
  database: string;
  text: string;
  access: Access;
  options: ImportOptions;
}

/** An error that is to be thrown again on this side of the thread. */
export type FileRefused =
  | { refused: "problem"; code: ProblemCode; message: string }
  | { refused: "store"; fault: Fault; cause: string };

/**
 * Reads large files in a thread of their own, one after the other; the thread ends when there are none. `worker` is the
 * built `file-worker.js`, `database` the file with the records.
 */
export function filePool(
  worker: string,
  database: string,
): { workbook(bytes: ArrayBuffer): Promise<Workbook>; takeIn: TakeIn } {
  let pool: Tinypool | undefined;
  function run<Result>(name: string, asked: unknown): Promise<Result> {
    pool ??= new Tinypool({
      filename: worker,
      minThreads: 0,
      maxThreads: 1,
      maxQueue: FILES_WAITING,
      idleTimeout: 10_000,
      resourceLimits: { maxOldGenerationSizeMb: MIB_OF_A_FILE },
    });
    if (pool.queueSize >= FILES_WAITING)
      throw new Problem("unavailable", "Other files are being read just now. Wait a minute, then try again.");
    return pool.run(asked, { name, signal: AbortSignal.timeout(LONGEST_MS) });
  }
  return {
    async workbook(bytes) {
      try {
        return await run<Workbook>("workbook", bytes);
      } catch (error) {
        if (error instanceof Problem) throw error;
        return { ok: false, message: "This workbook is too much to read at once. Save the sheet as CSV." };
      }
    },
    async takeIn(text, access, options) {
      const asked: TakeInAsked = { database, text, access, options };
      const taken = await run<TakenIn | FileRefused>("takeIn", asked);
      if (!("refused" in taken)) return taken;
      if (taken.refused === "store") throw new StoreFailure(taken.fault, taken.cause);
      throw new Problem(taken.code, taken.message);
    },
  };
}
