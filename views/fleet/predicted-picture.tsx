import { formatDate } from "../../src/core/quantities/dates.ts";
import { ChartFigure } from "../parts/figure.tsx";
import { FigureCell } from "../parts/figure-cell.tsx";
import { ChartHead } from "../parts/table-head.tsx";
import { vehiclePath } from "../vehicles/record/record.ts";
import { saidNumber } from "./shown.ts";

/** A past charge that was low again: its vehicle, when it was charged, what was said of it, and when it was low. */
export interface PredictedMark {
  id: string;
  label: string;
  charged: string;
  held: "inside" | "early" | "late";
  /** Dates, and how many months after the charge they are; a date is null where it is not within 20 years. */
  came: Dated;
  from: Dated;
  middle: Dated;
  to: Dated;
}

export interface Dated {
  date: string | null;
  months: number;
}

const HELD = { inside: "yes", early: "no, earlier", late: "no, later" } as const;

/** What was said and what came, a mark a charge, each leading to its vehicle. */
export function PredictedPicture({ marks, came }: { marks: readonly PredictedMark[]; came: number }) {
  const outside = marks.filter(({ held }) => held !== "inside").length;
  return (
    <ChartFigure
      id="predicted-came"
      kind="predicted-came"
      title={
        outside === 0
          ? "All drawn here came inside their range"
          : `${saidNumber(outside)} of ${saidNumber(marks.length)} drawn here came outside their range`
      }
      summary={`${marks.length < came ? `${saidNumber(marks.length)} of the ${saidNumber(came)} charges` : "The charges"} that were low again. On the dashed line they came as said; above it, later. First charges, predicted from the kind of vehicle alone, stand in one column.`}
      chartKey={[
        { label: "in the range", meaning: "charge", sign: "dot" },
        { label: "outside", meaning: "charge", sign: "ring" },
        { label: "likely range", meaning: "charge", sign: "line" },
        { label: "as said", meaning: "soft", sign: "line", dash: [5, 4] },
      ]}
    >
      <ChartHead
        words={{ vehicle: "Vehicle", charged: "Charged" }}
        figures={{ came: "Low about", middle: "Middle date", from: "Range from", to: "to", held: "In the range" }}
      />
      <tbody>
        {marks.map(({ id, label, charged, held, came: low, from, middle, to }) => (
          <tr data-kind={held === "inside" ? "inside" : "outside"}>
            <th scope="row">
              <a href={vehiclePath(id)} dir="auto">
                {label}
              </a>
            </th>
            <td>{formatDate(charged)}</td>
            {[low, middle, from, to].map(({ date, months }) => (
              <FigureCell value={months}>{date === null ? "after 20 years" : formatDate(date)}</FigureCell>
            ))}
            <td class="figure-cell">{HELD[held]}</td>
          </tr>
        ))}
      </tbody>
    </ChartFigure>
  );
}
