import type { Cooling, LogEntry } from "../core/question/contract.ts";
import type { LedgerTable, Line } from "./ledger.ts";

/** Characters (code points) of the note beside an entry or a finding. */
export const MAX_REMARK_CHARS = 2000;

/** Whether dye went in. The model does not ask; a reminder to look for it comes from it. */
export const DYE = ["added"] as const;
export type Dye = (typeof DYE)[number];

/** What a line of the charge log says; every field is there, null where nothing was said. Amounts in g. */
export type ChargeEntry = { [Field in keyof Required<LogEntry>]: Exclude<LogEntry[Field], undefined> } & {
  dye: Dye | null;
  /** How it cooled when all was done: to the model a look of its own, after the entry. */
  cooling_after: Cooling | null;
  /** Cans opened for it, a whole number. */
  cans_opened: number | null;
  /** Deposit paid on them in all, in the workspace's currency. */
  deposit: number | null;
  /** The last day on which it comes back. */
  deposit_return_by: string | null;
  note: string | null;
};
export type ChargeEntryInput = LogEntry & Partial<Omit<ChargeEntry, keyof LogEntry>>;
export type ChargeLine = Line<ChargeEntry>;

export const chargeLogTable: LedgerTable<ChargeEntry> = {
  table: "charge_log",
  what: "log entry",
  columns: [
    "date",
    "cooling",
    "recovered_g",
    "added_g",
    "added_by",
    "finish",
    "repair",
    "dye",
    "cooling_after",
    "cans_opened",
    "deposit",
    "deposit_return_by",
    "note",
  ],
  order: "date, number, id",
  searched: "note",
};
