import { READINGS_COUNT_DAYS } from "../../../data/readings-table.ts";
import { dayNumber, formatDate, isoFromDay } from "../../../src/core/quantities/dates.ts";
import type { ReadingsJudgement } from "../../../src/core/readings/readings-contract.ts";
import type { ReadingsLine } from "../../../src/core/readings/record.ts";
import { verdictSentence } from "../../readings/judgement.tsx";
import type { GaugeStyle } from "../../readings/said-readings.ts";
import { FoldedLedger } from "./folded-ledger.tsx";
import { vehiclePath } from "./record.ts";
import { Written } from "./said-record.tsx";
import { saidSet } from "./said-set.ts";

/** A set of readings and what it means. */
export interface ShownReadings {
  line: ReadingsLine;
  judgement: ReadingsJudgement;
  /** Whether it counts for the answer today. */
  counts: boolean;
}

interface ReadingsProps {
  vehicle_id: string;
  /** Newest first. */
  readings: readonly ShownReadings[];
  gaugeStyle: GaugeStyle;
  may_edit: boolean;
}

/** What was read at a vehicle over the years, on its page. */
export function VehicleReadings({ vehicle_id, readings, gaugeStyle, may_edit }: ReadingsProps) {
  return (
    <FoldedLedger
      vehicle_id={vehicle_id}
      ledger="readings"
      name="Readings"
      count={saidCount(readings.length)}
      add={may_edit ? { href: vehiclePath(vehicle_id, "readings"), words: "Take readings" } : null}
    >
      {readings.length === 0 ? (
        <p>
          No readings yet. Take them before you add refrigerant: nearly half of all poor cooling is not caused by low
          charge.
        </p>
      ) : (
        <ReadingsTable vehicle_id={vehicle_id} readings={readings} gaugeStyle={gaugeStyle} />
      )}
    </FoldedLedger>
  );
}

function saidCount(count: number): string {
  return count === 0 ? "None" : count === 1 ? "1 set" : `${count} sets`;
}

/** The last day on which readings count, if nothing is done before. */
function lastDay(date: string): string {
  return isoFromDay(dayNumber(date) + READINGS_COUNT_DAYS);
}

/** In sight at once; what is older stands among every change. */
const NEWEST_SHOWN = 12;

/** The newest sets of readings, each with what it means. */
export function ReadingsTable({ vehicle_id, readings, gaugeStyle }: Omit<ReadingsProps, "may_edit">) {
  return (
    <>
      <ol class="lines">
        {readings.slice(0, NEWEST_SHOWN).map(({ line, judgement, counts }) => (
          <li id={`readings-${line.id}`}>
            <p>
              <a href={vehiclePath(vehicle_id, "readings", line.id)}>
                <time datetime={line.date}>{formatDate(line.date)}</time>
              </a>
              : {verdictSentence(judgement)}
              {counts && <span class="tag">used for the answer until {formatDate(lastDay(line.date))}</span>}
            </p>
            <p class="small soft">{saidSet(line, gaugeStyle)}</p>
            {line.note !== null && <Written text={line.note} />}
          </li>
        ))}
      </ol>
      {readings.length > NEWEST_SHOWN && (
        <p class="small soft">
          <a href={vehiclePath(vehicle_id, "readings", "history")}>All {readings.length} sets</a>
        </p>
      )}
    </>
  );
}
