import { LOCATION_IDS, TESTS } from "../core/question/contract.ts";
import type { FoundLeak } from "../core/question/record.ts";
import { nullable, oneOf, text } from "./columns.ts";
import type { LedgerTable } from "./ledger.ts";

export const findingsTable: LedgerTable<FoundLeak> = {
  table: "findings",
  what: "finding",
  columns: {
    date: text,
    test: oneOf(TESTS),
    location: oneOf([...LOCATION_IDS, "anywhere"]),
    result: oneOf(["leak", "clean"]),
    note: nullable(text),
  },
  order: "date, number, id",
  searched: "note",
};
