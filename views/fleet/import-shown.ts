import type { ImportCounts } from "../../src/core/fleet/import-counts.ts";
import type { AssetUrl } from "../assets.ts";

/** What the report of an import shows. */

/** A row of the report: which, and what is said about its cells. */
export interface ShownRow {
  file: number;
  row: number;
  said: readonly { label: string; cell: string; what: string }[];
}

/** What is known of an import before and after it is taken. Of each kind of row the first ones are listed. */
export interface ImportReport {
  files: readonly { name: string; rows: number; refused: number; not_taken: readonly string[] }[];
  entries_read: number;
  good: number;
  mended: number;
  refused: number;
  from_text: number;
  doubted: number;
  changes: number;
  asides: number;
  repeated: number;
  refused_rows: readonly ShownRow[];
  mended_rows: readonly ShownRow[];
  from_text_rows: readonly ShownRow[];
  doubted_rows: readonly ShownRow[];
  change_rows: readonly { vehicle: string; what: string; from: string; to: string; here: boolean }[];
  aside_rows: readonly { file: number; row: number; why: "totals" | "text"; text: string }[];
  /** `about`: what the row says of the vehicle itself; reports that were kept earlier lack it. */
  samples: readonly {
    file: number;
    row: number;
    vehicle: string;
    about?: string | undefined;
    date: string;
    said: string;
  }[];
  corrections: readonly { vehicle: string; order: string; from: string; to: string }[];
  counts: ImportCounts;
}

export interface Taken {
  day: string;
  who: string;
  undone:
    | ({ day: string; who: string } & Record<
        | "entries_removed"
        | "entries_restored"
        | "vehicles_removed"
        | "vehicles_restored"
        | "entries_kept"
        | "vehicles_kept",
        number
      >)
    | null;
}

export interface ReportPageProps extends ImportReport {
  id: string;
  /** When and by whom it was taken; null while it waits. */
  taken: Taken | null;
  asset: AssetUrl;
}
