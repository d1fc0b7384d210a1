import type { Note } from "../core/question/record.ts";
import { text } from "./columns.ts";
import type { LedgerTable } from "./ledger.ts";

export const notesTable: LedgerTable<Note> = {
  table: "notes",
  what: "note",
  columns: { body: text },
  order: "number, id",
  searched: "body",
};
