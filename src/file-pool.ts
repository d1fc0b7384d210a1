import { Tinypool } from "tinypool";
import { Problem, type ProblemCode } from "./core/problem.ts";
import type { Access } from "./store/access.ts";
import { type Fault, StoreFailure } from "./store/errors.ts";
import type { ImportOptions } from "./store/transfer.ts";
import type { FleetFiles, FleetFilesOf } from "./web/edge/fleet-files.ts";
import type { GivenOutAs, GiveOut, TakeIn, TakenIn, Unpack } from "./web/edge/take-in.ts";
import type { Workbook } from "./web/edge/workbook.ts";
import type { Pieces } from "./web/forms/upload.ts";

/** A workbook of 100 MB unpacked, or an export of 64 MiB, takes that several times over while it is read. */
const MIB_OF_A_FILE = 1200;
const LONGEST_MS = 100_000;
const FILES_WAITING = 4;
/** So that somebody's large file does not keep the others waiting. */
const FLEET_THREADS = 2;
/** Times as long: a million entries take minutes. What was taken in by then stays, and the rest is taken in again. */
const LONGEST_FLEETS = 6;

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

export interface FleetFilesAsked {
  database: string;
  access: Access;
  /** What of `FleetFiles`, and with what. */
  work: { [Name in keyof FleetFiles]: [name: Name, ...asked: Parameters<FleetFiles[Name]>] }[keyof FleetFiles];
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
  | { thrown: "problem"; code: ProblemCode; message: string }
  | { thrown: "store"; fault: Fault; cause: string };

/** What is done with whole files and whole workspaces. */
export interface FilePool {
  workbook(bytes: ArrayBuffer): Promise<Workbook>;
  takeIn: TakeIn;
  unpack: Unpack;
  fleetFiles: FleetFilesOf;
  giveOut: GiveOut;
  /** About how many bytes a workspace takes. */
  measure(workspace_id: string): Promise<number>;
}

/**
 * Reads large files in a thread of their own, one after the other, those of fleets in two, and writes and measures
 * records in another; each ends when there is nothing to do. `worker` is the built `file-worker.js`, `database` the
 * file with the records.
 */
export function filePool(worker: string, database: string, { longest_ms = LONGEST_MS } = {}): FilePool {
  const into = threadsFor(worker, { what: "files are being read", longest_ms });
  const out = threadsFor(worker, { what: "records are being written out", longest_ms });
  const fleets = threadsFor(worker, {
    what: "fleets are being read",
    threads: FLEET_THREADS,
    longest_ms: LONGEST_FLEETS * longest_ms,
  });
  return {
    async workbook(bytes) {
      try {
        return await into<Workbook>("workbook", bytes);
      } catch (error) {
        if (error instanceof Problem && error.code !== "too-large") throw error;
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
    fleetFiles(access) {
      const run = async <Result>(work: FleetFilesAsked["work"], files: Pieces = []) => {
        const asked: FleetFilesAsked = { database, access, work };
        return unlessRefused(await fleets<Result | FileRefused>("fleetFiles", asked, handedOver(files)));
      };
      return {
        keep: (sent) =>
          run(
            ["keep", sent],
            sent.flatMap(({ pieces }) => pieces),
          ),
        look: (id) => run(["look", id]),
        rejected: (id, file) => run(["rejected", id, file]),
        take: (id, agreed) => run(["take", id, agreed]),
      };
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

interface ThreadsFor {
  /** What goes on there, as said to whom it leaves no room. */
  what: string;
  longest_ms: number;
  threads?: number;
}

/** Whether a thread came to its end in time or memory. */
function isTooMuch(error: unknown): boolean {
  if (!(error instanceof Error)) return false;
  return error.name === "AbortError" || ("code" in error && error.code === "ERR_WORKER_OUT_OF_MEMORY");
}

/** Threads that do one thing after the other, made when there is something to do. */
function threadsFor(worker: string, { what, longest_ms, threads = 1 }: ThreadsFor) {
  let pool: Tinypool | undefined;
  /** What is in `transferList` is gone on this side, and copied nowhere. */
  return async function run<Result>(name: string, asked: unknown, transferList?: ArrayBuffer[]): Promise<Result> {
    pool ??= new Tinypool({
      filename: worker,
      minThreads: 0,
      maxThreads: threads,
      maxQueue: FILES_WAITING,
      idleTimeout: 10_000,
      resourceLimits: { maxOldGenerationSizeMb: MIB_OF_A_FILE },
    });
    if (pool.queueSize >= FILES_WAITING)
      throw new Problem("unavailable", `Other ${what} just now. Wait a minute, then try again.`);
    try {
      return await pool.run(asked, { name, signal: AbortSignal.timeout(longest_ms), transferList });
    } catch (error) {
      if (!isTooMuch(error)) throw error;
      throw new Problem(
        "too-large",
        "This is too much at once. Cut the file into parts, and send one after the other.",
      );
    }
  };
}

/** The memory of a file: pieces may lie in one. */
function handedOver(file: Pieces): ArrayBuffer[] {
  return [...new Set(file.map(({ buffer }) => buffer))];
}

/** Throws what the thread could not do. */
function unlessRefused<Result>(result: Result | FileRefused): Result {
  if (typeof result !== "object" || result === null || !("thrown" in result)) return result as Result;
  if (result.thrown === "store") throw new StoreFailure(result.fault, result.cause);
  throw new Problem(result.code, result.message);
}
