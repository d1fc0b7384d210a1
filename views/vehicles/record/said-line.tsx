import type { Child } from "hono/jsx";
import { formatDate } from "../../../src/core/quantities/dates.ts";
import { saidWhen } from "../../../src/core/quantities/said-when.ts";
import type { UnitSystem } from "../../../src/core/quantities/units.ts";
import type { ChargeLine, FindingLine, LineHead, NoteLine } from "../../../src/core/question/record.ts";
import type { ReadingsLine } from "../../../src/core/readings/record.ts";
import type { GaugeStyle } from "../../readings/said-readings.ts";
import { COOLED_WORDS } from "../../words/cooled.ts";
import { Recorded } from "./recorded.tsx";
import { SaidDeed, SaidFinding, Written } from "./said-record.tsx";
import { saidSet } from "./said-set.ts";

/** Everything that a line of the charge log says. */
export function SaidEntry({ line, units }: { line: ChargeLine; units: UnitSystem }) {
  return (
    <>
      <p>
        {saidWhen(line.date, line.date_within_days)}
        {line.cooling != null && `, cooled ${COOLED_WORDS[line.cooling]}`}. <SaidDeed entry={line} units={units} />.
      </p>
      {line.note !== null && <Written text={line.note} />}
    </>
  );
}

/** Everything that a finding says. */
export function SaidFindingLine({ line }: { line: FindingLine }) {
  return (
    <>
      <p>
        {formatDate(line.date)}. <SaidFinding finding={line} />.
      </p>
      {line.note !== null && <Written text={line.note} />}
    </>
  );
}

/** Everything that a set of readings says. */
export function SaidReadingsLine({ line, gaugeStyle }: { line: ReadingsLine; gaugeStyle: GaugeStyle }) {
  return (
    <>
      <p>
        {formatDate(line.date)}. {saidSet(line, gaugeStyle)}.
      </p>
      {line.note !== null && <Written text={line.note} />}
    </>
  );
}

/** All of a note. */
export function SaidNote({ line }: { line: NoteLine }) {
  return <Written text={line.body} />;
}

const CHANGE_WORDS: Readonly<Record<LineHead["change"], string>> = {
  added: "Added",
  corrected: "Corrected",
  removed: "Removed",
  restored: "Restored",
};

interface SaidLine {
  line: LineHead;
  said: Child;
  /** Where the entry itself stands, in a list of several. */
  href?: string;
}

/** Lines of a ledger with what was done to them and when, newest first. */
export function Lines({ lines, time_zone }: { lines: readonly SaidLine[]; time_zone: string }) {
  return (
    <ol class="lines">
      {lines.map(({ line, said, href }) => (
        <li class={line.change === "removed" ? "removed" : undefined}>
          <p class="small soft">
            {href === undefined ? CHANGE_WORDS[line.change] : <a href={href}>{CHANGE_WORDS[line.change]}</a>}{" "}
            <Recorded iso={line.recorded_at} time_zone={time_zone} />
          </p>
          {said}
        </li>
      ))}
    </ol>
  );
}
