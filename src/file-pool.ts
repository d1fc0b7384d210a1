import { Tinypool } from "tinypool";
import { Problem, type ProblemCode } from "./core/problem.ts";
import type { Access } from "./store/access.ts";
import { type Fault, StoreFailure } from "./store/errors.ts";
import type { ImportOptions } from "./store/transfer.ts";
import type { GivenOutAs, GiveOut, TakeIn, TakenIn, Unpack } from "./web/edge/take-in.ts";
import type { Workbook } from "./web/edge/workbook.ts";
import type { Pieces } from "./web/forms/upload.ts";

/** A workbook of 100 MB unpacked, or an export of 64 MiB, takes that several times over while it is read. */
const MIB_OF_A_FILE = 1200;
const LONGEST_MS = 100_000;
const FILES_WAITING = 4;

export interface TakeInAsked {
  /** The file with the records. */
  database: string;
  file: Pieces;
  access: Access;
  options: ImportOptions;
}

export interface GiveOutAsked {
  database: string;
  as: GivenOutAs;
  access: Access;
}

export interface UnpackAsked {
  form_value: string;
  max_bytes: number;
}

export interface MeasureAsked {
  database: string;
  workspace_id: string;
}

/** An error that is to be thrown again on this side of the thread. */
export type FileRefused =
  | { refused: "problem"; code: ProblemCode; message: string }
  | { refused: "store"; fault: Fault; cause: string };

/** What is done with whole files and whole workspaces. */
export interface FilePool {
  workbook(bytes: ArrayBuffer): Promise<Workbook>;
  takeIn: TakeIn;
  unpack: Unpack;
  giveOut: GiveOut;
  /** About how many bytes a workspace takes. */
  measure(workspace_id: string): Promise<number>;
}

/**
 * Reads large files in a thread of their own, one after the other, and writes and measures records in another; each
 * ends when there is nothing to do. `worker` is the built `file-worker.js`, `database` the file with the records.
 */
export function filePool(worker: string, database: string): FilePool {
  const into = oneByOne(worker, "Other files are being read just now. Wait a minute, then try again.");
  const out = oneByOne(worker, "Other records are being written out just now. Wait a minute, then try again.");
  return {
    async workbook(bytes) {
      try {
        return await into<Workbook>("workbook", bytes);
      } catch (error) {
        if (error instanceof Problem) throw error;
        return { ok: false, message: "This workbook is too much to read at once. Save the sheet as CSV." };
      }
    },
    async takeIn(file, access, options) {
      const asked: TakeInAsked = { database, file, access, options };
      return unlessRefused(await into<TakenIn | FileRefused>("takeIn", asked, handedOver(file)));
    },
    async unpack(form_value, max_bytes) {
      const asked: UnpackAsked = { form_value, max_bytes };
      return unlessRefused(await into<Uint8Array<ArrayBuffer> | FileRefused>("unpack", asked));
    },
    async giveOut(as, access) {
      const asked: GiveOutAsked = { database, as, access };
      return unlessRefused(await out<Uint8Array<ArrayBuffer> | FileRefused>("giveOut", asked));
    },
    async measure(workspace_id) {
      const asked: MeasureAsked = { database, workspace_id };
      return unlessRefused(await out<number | FileRefused>("measure", asked));
    },
  };
}

/** A thread that does one thing after the other, made when there is something to do. */
function oneByOne(worker: string, too_many: string) {
  let pool: Tinypool | undefined;
  /** What is in `transferList` is gone on this side, and copied nowhere. */
  return function run<Result>(name: string, asked: unknown, transferList?: ArrayBuffer[]): Promise<Result> {
    pool ??= new Tinypool({
      filename: worker,
      minThreads: 0,
      maxThreads: 1,
      maxQueue: FILES_WAITING,
      idleTimeout: 10_000,
      resourceLimits: { maxOldGenerationSizeMb: MIB_OF_A_FILE },
    });
    if (pool.queueSize >= FILES_WAITING) throw new Problem("unavailable", too_many);
    return pool.run(asked, { name, signal: AbortSignal.timeout(LONGEST_MS), transferList });
  };
}

/** The memory of a file: pieces may lie in one. */
function handedOver(file: Pieces): ArrayBuffer[] {
  return [...new Set(file.map(({ buffer }) => buffer))];
}

/** Throws what the thread could not do. */
function unlessRefused<Result>(result: Result | FileRefused): Result {
  if (typeof result !== "object" || result === null || !("refused" in result)) return result as Result;
  if (result.refused === "store") throw new StoreFailure(result.fault, result.cause);
  throw new Problem(result.code, result.message);
}
