import type { Child } from "hono/jsx";
import type { Vehicle } from "../../src/core/question/record.ts";
import { ChangeButton } from "./record/line-page.tsx";
import { type LedgerName, vehiclePath } from "./record/record.ts";

/** What has just been done to the vehicle, as the address says. */
export type Saved =
  | { what: "kept" | "details" | "archived" | "unarchived" | "same" }
  | { what: LedgerName; line_id: string; version: number; change: "added" | "corrected" | "removed" | "restored" };

interface SavedProps {
  vehicle: Vehicle;
  saved: Saved;
  submit_key: string;
}

const VEHICLE_WORDS = {
  kept: "Saved. Add an entry here each time something is done.",
  details: "Saved.",
  archived: "Archived. It is off the list, and its records are saved.",
  unarchived: "Back on the list.",
  same: "That is in the log for today already. Nothing was added.",
} as const;

const NOUNS: Readonly<Record<LedgerName, string>> = {
  log: "entry",
  findings: "test result",
  readings: "set of readings",
  notes: "note",
};
const CHANGES = { added: "saved", corrected: "corrected", removed: "removed", restored: "restored" } as const;

/** Says that it was saved, and offers to take it back. Takes the focus when the page arrives. */
export function SavedNote({ vehicle, saved, submit_key }: SavedProps) {
  if (!("line_id" in saved)) return <Frame>{VEHICLE_WORDS[saved.what]}</Frame>;
  return (
    <Frame>
      <span>
        The {NOUNS[saved.what]} was {CHANGES[saved.change]}.
      </span>
      <ChangeButton
        action={vehiclePath(vehicle.id, saved.what, saved.line_id, "undos")}
        submit_key={submit_key}
        version={saved.version}
      >
        Undo
      </ChangeButton>
    </Frame>
  );
}

function Frame({ children }: { children: Child }) {
  return (
    <div class="saved" id="saved" role="status" tabindex={-1} autofocus>
      {children}
    </div>
  );
}
