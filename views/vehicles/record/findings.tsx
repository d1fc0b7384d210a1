import { formatDate } from "../../../src/core/quantities/dates.ts";
import { LOCATION_IDS, type LocationId } from "../../../src/core/question/contract.ts";
import type { FindingLine } from "../../../src/core/question/record.ts";
import { FigureCell } from "../../parts/figure-cell.tsx";
import { TableHead } from "../../parts/table-head.tsx";
import { saidPercent } from "../../words/numbers.ts";
import { PLACE_NAMES } from "../../words/places.ts";
import { FoldedLedger } from "./folded-ledger.tsx";
import { vehiclePath } from "./record.ts";
import { SaidFinding, Written } from "./said-record.tsx";

/** A finding, with the belief by place before and after it; null where it tells of a leak that was repaired since. */
export interface ShownFinding {
  line: FindingLine;
  belief: { before: readonly number[]; after: readonly number[] } | null;
}

interface FindingsProps {
  vehicle_id: string;
  findings: readonly ShownFinding[];
  may_edit: boolean;
}

/** What the leak tests showed, test by test, and how each moved the belief about the place. */
export function Findings({ vehicle_id, findings, may_edit }: FindingsProps) {
  return (
    <FoldedLedger
      vehicle_id={vehicle_id}
      ledger="findings"
      name="Leak test results"
      count={saidCount(findings.length)}
      add={may_edit ? { href: vehiclePath(vehicle_id, "findings", "new"), words: "Add a test result" } : null}
    >
      {findings.length === 0 ? (
        <p>No leak test yet. A visual inspection for oil and dirt is free, and a clean result counts too.</p>
      ) : (
        <ol class="findings">
          {findings.map((finding) => (
            <OneFinding vehicle_id={vehicle_id} finding={finding} may_edit={may_edit} />
          ))}
        </ol>
      )}
    </FoldedLedger>
  );
}

function saidCount(count: number): string {
  return count === 0 ? "None" : count === 1 ? "1 result" : `${count} results`;
}

interface OneFindingProps {
  vehicle_id: string;
  finding: ShownFinding;
  may_edit: boolean;
}

function OneFinding({ vehicle_id, finding: { line, belief }, may_edit }: OneFindingProps) {
  const day = formatDate(line.date);
  return (
    <li id={`finding-${line.id}`}>
      <p>
        <time datetime={line.date}>{day}</time>. <SaidFinding finding={line} />.{" "}
        {may_edit && (
          <a class="on-screen" href={vehiclePath(vehicle_id, "findings", line.id)}>
            Fix<span class="visually-hidden"> the test result of {day}</span>
          </a>
        )}
      </p>
      {line.note !== null && <Written text={line.note} />}
      {belief === null ? (
        <p class="small soft">From before the last repair, so it does not count for today's leak.</p>
      ) : (
        <details class="numbers">
          <summary>
            What it changed<span class="visually-hidden">: the test of {day}</span>
          </summary>
          <Beliefs before={belief.before} after={belief.after} found={line.location} of={day} />
        </details>
      )}
    </li>
  );
}

interface BeliefsProps {
  before: readonly number[];
  after: readonly number[];
  found: FindingLine["location"];
  of: string;
}

/** The share of each place before and after. */
function Beliefs({ before, after, found, of }: BeliefsProps) {
  return (
    <table class="beliefs">
      <caption class="visually-hidden">How likely each location is, before and after the test of {of}</caption>
      <TableHead words={["Location"]} figures={["Before", "After"]}>
        <td class="bar" />
      </TableHead>
      <tbody>
        {LOCATION_IDS.map((id, l) => (
          <Belief id={id} before={before[l]!} after={after[l]!} found={id === found} />
        ))}
      </tbody>
    </table>
  );
}

const BAR_WIDTH = 200;

function Belief({ id, before, after, found }: { id: LocationId; before: number; after: number; found: boolean }) {
  return (
    <tr class={found ? "found" : undefined} data-place={id}>
      <th scope="row">{PLACE_NAMES[id].name}</th>
      <FigureCell value={before}>{saidPercent(before)}</FigureCell>
      <FigureCell value={after}>{saidPercent(after)}</FigureCell>
      <td class="bar">
        <svg viewBox={`0 0 ${BAR_WIDTH} 10`} preserveAspectRatio="none" aria-hidden="true" focusable="false">
          <path class="after" d={`M0 2h${(after * BAR_WIDTH).toFixed(1)}v6H0z`} />
          <path class="before" d={`M${(before * BAR_WIDTH).toFixed(1)} 0v10`} />
        </svg>
      </td>
    </tr>
  );
}
