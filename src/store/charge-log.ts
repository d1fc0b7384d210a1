import { ADDED_BY, COOLING, FINISHES, LOCATION_IDS } from "../core/question/contract.ts";
import { type ChargeEntry, DYE } from "../core/question/record.ts";
import { nullable, number, oneOf, text } from "./columns.ts";
import type { LedgerTable } from "./ledger.ts";

export const chargeLogTable: LedgerTable<ChargeEntry> = {
  table: "charge_log",
  what: "log entry",
  columns: {
    date: text,
    date_within_days: nullable(number),
    cooling: nullable(oneOf(COOLING)),
    recovered_g: nullable(number),
    added_g: nullable(number),
    added_by: nullable(oneOf(ADDED_BY)),
    finish: nullable(oneOf(FINISHES)),
    repair: nullable(oneOf(LOCATION_IDS)),
    dye: nullable(oneOf(DYE)),
    cooling_after: nullable(oneOf(COOLING)),
    cans_opened: nullable(number),
    deposit: nullable(number),
    deposit_return_by: nullable(text),
    note: nullable(text),
  },
  order: "date, number, id",
  searched: "note",
};
