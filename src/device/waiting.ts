import { LEDGERS } from "../../views/vehicles/record/record.ts";
import type { WaitingEntry } from "../core/question/waiting-entry.ts";

/** What waits on this device, the oldest first. */
export interface WaitingEntries {
  all(): Promise<WaitingEntry[]>;
  put(entry: WaitingEntry): Promise<void>;
  remove(key: string): Promise<void>;
}

/** A vehicle's ledgers, to which a new line can wait to be added. */
const LEDGER = new RegExp(`^/vehicles/[\\w-]{1,64}/(${LEDGERS.join("|")})$`);

/** Whether a form that is posted there can wait. */
export function canWait(path: string): boolean {
  return LEDGER.test(path);
}
