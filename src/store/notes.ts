import type { LedgerTable, Line } from "./ledger.ts";

/** Characters (code points) of one note. */
export const MAX_NOTE_CHARS = 20_000;

export interface Note {
  body: string;
}
export type NoteLine = Line<Note>;

export const notesTable: LedgerTable<Note> = {
  table: "notes",
  what: "note",
  columns: ["body"],
  order: "number, id",
  searched: "body",
};
