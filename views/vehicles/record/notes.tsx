import { pageNumber } from "../../../src/core/quantities/number-text.ts";
import type { NoteLine } from "../../../src/core/question/record.ts";
import { FoldedLedger } from "./folded-ledger.tsx";
import { vehiclePath } from "./record.ts";
import { Recorded } from "./recorded.tsx";
import { Written } from "./said-record.tsx";

interface NotesProps {
  vehicle_id: string;
  /** Oldest first. */
  notes: readonly NoteLine[];
  time_zone: string;
  may_edit: boolean;
}

/** A longer note shows its beginning, and the rest when asked for. */
const FOLDED_CHARS = 700;
const BEGINNING_CHARS = 180;

/** What was written about the vehicle, newest first. */
export function Notes({ vehicle_id, notes, time_zone, may_edit }: NotesProps) {
  return (
    <FoldedLedger
      vehicle_id={vehicle_id}
      ledger="notes"
      name="Notes"
      count={saidCount(notes.length)}
      add={may_edit ? { href: vehiclePath(vehicle_id, "notes", "new"), words: "Add a note" } : null}
    >
      {notes.length > 0 && (
        <ol class="lines">
          {notes.toReversed().map((note) => (
            <li>
              <p class="small soft">
                <Recorded iso={note.recorded_at} time_zone={time_zone} />{" "}
                {may_edit && (
                  <a class="on-screen" href={vehiclePath(vehicle_id, "notes", note.id)}>
                    Fix<span class="visually-hidden"> this note</span>
                  </a>
                )}
              </p>
              <NoteBody body={note.body} />
            </li>
          ))}
        </ol>
      )}
    </FoldedLedger>
  );
}

function saidCount(count: number): string {
  return count === 0 ? "None" : count === 1 ? "1 note" : `${count} notes`;
}

function NoteBody({ body }: { body: string }) {
  const chars = [...body];
  if (chars.length <= FOLDED_CHARS) return <Written text={body} />;
  return (
    <details class="long-note">
      <summary dir="auto">
        {beginning(chars)}… <span class="soft">({pageNumber(chars.length)} characters)</span>
      </summary>
      <Written text={body} />
    </details>
  );
}

/** Whole words only, and no half of a picture that several characters make up. */
function beginning(chars: readonly string[]): string {
  const cut = chars.slice(0, BEGINNING_CHARS).join("");
  return cut.replace(/\s\S*$/u, "");
}
