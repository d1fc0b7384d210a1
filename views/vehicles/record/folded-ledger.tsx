import type { Child } from "hono/jsx";
import { FoldedEntry } from "../../parts/entry.tsx";
import { type LedgerName, vehiclePath } from "./record.ts";

interface FoldedLedgerProps {
  vehicle_id: string;
  ledger: LedgerName;
  name: string;
  /** How much is in it, in a word or two. */
  count: string | null;
  /** Where something is written down in it, for those who may. */
  add: { href: string; words: string } | null;
  children: Child;
}

/** A ledger on the page of its vehicle, folded; with a way to add to it, and to its history. */
export function FoldedLedger({ vehicle_id, ledger, name, count, add, children }: FoldedLedgerProps) {
  return (
    <FoldedEntry name={name} count={count} history={vehiclePath(vehicle_id, ledger, "history")} id={ledger}>
      {add !== null && (
        <p class="actions">
          <a class="button-quiet" href={add.href}>
            {add.words}
          </a>
        </p>
      )}
      {children}
    </FoldedEntry>
  );
}
