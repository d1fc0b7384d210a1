import type { ChargeEntry, ChargeEntryInput, FindingInput, FoundLeak, Note } from "../core/question/record.ts";
import type { ReadingsEntry, ReadingsInput } from "../core/readings/record.ts";
import type { Ledger } from "./ledger.ts";

/** The four ledgers of a workspace's vehicles, for what writes into several of them in one change. */
export interface VehicleLedgers {
  charge_log: Ledger<ChargeEntry, ChargeEntryInput>;
  findings: Ledger<FoundLeak, FindingInput>;
  readings: Ledger<ReadingsEntry, ReadingsInput>;
  notes: Ledger<Note>;
}

/** Those that say what was done and what was found. */
export type WorkLedgers = Pick<VehicleLedgers, "charge_log" | "findings">;
