import { requestBounds } from "../../../data/parameters.ts";
import { saidWhen } from "../../../src/core/quantities/said-when.ts";
import type { UnitSystem } from "../../../src/core/quantities/units.ts";
import type { ChargeLine } from "../../../src/core/question/record.ts";
import { Entry } from "../../parts/entry.tsx";
import { TableHead } from "../../parts/table-head.tsx";
import { COOLED_WORDS } from "../../words/cooled.ts";
import { vehiclePath } from "./record.ts";
import { SaidDeed, Written } from "./said-record.tsx";

interface ChargeLogProps {
  vehicle_id: string;
  /** In the order of the log, oldest first. */
  entries: readonly ChargeLine[];
  units: UnitSystem;
  may_edit: boolean;
}

/** In sight at once; what is older folds away on screen, and prints. */
const NEWEST_SHOWN = 3;

/** What was seen and done, newest first. */
export function ChargeLog({ vehicle_id, entries, units, may_edit }: ChargeLogProps) {
  const newest_first = entries.toReversed();
  const older = newest_first.slice(NEWEST_SHOWN);
  const { max_entries } = requestBounds.log;
  return (
    <Entry name="Charge log" note={<LogNote vehicle_id={vehicle_id} count={entries.length} />} id="charge-log">
      {may_edit && (
        <p class="actions">
          <a class="button" href={vehiclePath(vehicle_id, "log", "new")}>
            Add an entry
          </a>
        </p>
      )}
      {entries.length === 0 ? (
        <p>No entries yet. Start with the last time refrigerant was added, as well as you remember.</p>
      ) : (
        <Rows vehicle_id={vehicle_id} entries={newest_first.slice(0, NEWEST_SHOWN)} units={units} may_edit={may_edit} />
      )}
      {older.length > 0 && (
        <details class="older" id="older-entries">
          <summary>{older.length === 1 ? "1 older entry" : `${older.length} older entries`}</summary>
          <Rows vehicle_id={vehicle_id} entries={older} units={units} may_edit={may_edit} />
        </details>
      )}
      {entries.length > max_entries && (
        <p class="small soft">
          The answer uses the newest {max_entries} of {entries.length} entries.
        </p>
      )}
    </Entry>
  );
}

function LogNote({ vehicle_id, count }: { vehicle_id: string; count: number }) {
  return (
    <p>
      {count === 0 ? "Empty" : count === 1 ? "1 entry" : `${count} entries`}
      <span class="on-screen">
        {" · "}
        <a href={vehiclePath(vehicle_id, "log", "history")}>History</a>
      </span>
    </p>
  );
}

function Rows({ vehicle_id, entries, units, may_edit }: ChargeLogProps) {
  return (
    <table class="charge-log">
      <TableHead words={["When", "Cooled", "What was done"]}>
        {may_edit && (
          <th scope="col" class="on-screen">
            <span class="visually-hidden">Fix it</span>
          </th>
        )}
      </TableHead>
      <tbody>
        {entries.map((entry) => (
          <Row vehicle_id={vehicle_id} entry={entry} units={units} may_edit={may_edit} />
        ))}
      </tbody>
    </table>
  );
}

interface RowProps {
  vehicle_id: string;
  entry: ChargeLine;
  units: UnitSystem;
  may_edit: boolean;
}

function Row({ vehicle_id, entry, units, may_edit }: RowProps) {
  const day = saidWhen(entry.date, entry.date_within_days);
  return (
    <tr id={`entry-${entry.id}`}>
      <th scope="row">
        <time datetime={entry.date}>{day}</time>
      </th>
      <td class="cooled">{entry.cooling == null ? "" : COOLED_WORDS[entry.cooling]}</td>
      <td class="deed">
        <SaidDeed entry={entry} units={units} />
        {entry.note !== null && <Written text={entry.note} />}
      </td>
      {may_edit && (
        <td class="on-screen change">
          <a href={vehiclePath(vehicle_id, "log", entry.id)}>
            Fix<span class="visually-hidden"> the entry of {day}</span>
          </a>
          {entry.version > 1 && <small>corrected</small>}
        </td>
      )}
    </tr>
  );
}
