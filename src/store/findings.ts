import type { Finding } from "../core/question/contract.ts";
import type { LedgerTable, Line } from "./ledger.ts";

/** What a leak test said about a place, with a note. */
export type FoundLeak = Finding & { note: string | null };
export type FindingInput = Finding & { note?: string | null };
export type FindingLine = Line<FoundLeak>;

export const findingsTable: LedgerTable<FoundLeak> = {
  table: "findings",
  what: "finding",
  columns: ["date", "test", "location", "result", "note"],
  order: "date, number, id",
  searched: "note",
};
