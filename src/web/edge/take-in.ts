import type { Issue } from "../../core/problem.ts";
import type { Access } from "../../store/access.ts";
import type { ImportOptions, ImportReport } from "../../store/transfer.ts";
import type { Pieces } from "../forms/upload.ts";

/** What a file of exported records adds to those of a workspace, or why it cannot be read. */
export type TakenIn =
  | {
      ok: true;
      /** An instant. */
      exported_at: string;
      report: ImportReport;
      /** Of a look alone: the file, packed for a hidden field, since that takes as long as reading it. */
      packed: string | null;
    }
  | { ok: false; issues: readonly Issue[] };

/**
 * Reads a file of exported records, and takes it in as `access` may, all or nothing. The pieces are used up. Throws
 * what `Transfer.import` throws.
 */
export type TakeIn = (file: Pieces, access: Access, options: ImportOptions) => Promise<TakenIn>;

/** A file that a look packed for a hidden field; throws `Problem` unreadable or, beyond `max_bytes`, too-large. */
export type Unpack = (form_value: string, max_bytes: number) => Promise<Uint8Array<ArrayBuffer>>;

/** What a workspace is given out as: all of it for another place, or its charge logs for a spreadsheet. */
export type GivenOutAs = "records" | "charge-log";

/** The text of a file of a workspace's records, as of one moment. */
export type GiveOut = (as: GivenOutAs, access: Access) => Promise<Uint8Array<ArrayBuffer>>;
