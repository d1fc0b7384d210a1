import { formatDate } from "../../../src/core/quantities/dates.ts";
import type { UnitSystem } from "../../../src/core/quantities/units.ts";
import type { CurvePoint, LogEntry } from "../../../src/core/question/contract.ts";
import { ChartFigure } from "../../parts/figure.tsx";
import { FigureCell } from "../../parts/figure-cell.tsx";
import { ChartHead } from "../../parts/table-head.tsx";
import { saidChargeNow, saidNextLow } from "../../words/estimates.ts";
import { saidMass } from "../../words/numbers.ts";
import { type Outcome, watchDateOf } from "../outcome.ts";

/**
 * The charge over time: what the log says of the past, the advised top-off and the decline after it, and where it goes
 * if nothing is added.
 */
export function ChargeCurve({ outcome }: { outcome: Outcome }) {
  const { answer, question, units } = outcome;
  const watch_date = watchDateOf(outcome);
  const { p50 } = answer.forecast.next_low;
  return (
    <ChartFigure
      id="charge-curve"
      kind="charge-curve"
      title={title(outcome)}
      summary={
        <>
          Shaded: likely range. Triangles: additions
          {answer.topped_off === null ? ". Dashed: nothing added after today." : "; open, dashed: topped off today."}
        </>
      }
      settings={{ "data-units": units }}
    >
      <ChartHead words={{ date: "When" }} figures={{ mean_g: "Charge", p05_g: "Likely range from", p95_g: "to" }} />
      <tbody>
        {answer.forecast.curve.map((point, i) => (
          <CurveRow point={point} log={question.log} index={i} units={units} />
        ))}
      </tbody>
      {answer.topped_off !== null && (
        <tbody>
          {answer.topped_off.map((point) => (
            <PointRow kind="topped-off" point={point} units={units} />
          ))}
        </tbody>
      )}
      <tbody>
        <Line kind="low-line" name="Cools poorly below" grams={answer.leak.low_below_g} units={units} />
        <Line kind="nameplate" name="Nameplate charge" grams={question.nameplate_g} units={units} />
        {watch_date !== null && <Moment kind="watch" name="Watch date" iso={watch_date} />}
        {p50 !== null && p50 > answer.as_of && <Moment kind="next-low" name="Next low charge" iso={p50} />}
      </tbody>
    </ChartFigure>
  );
}

function title(outcome: Outcome): string {
  const { answer, question, units } = outcome;
  const now = saidChargeNow(answer.leak.charge_now_g, units).best;
  const full = saidMass(question.nameplate_g, units);
  if (answer.verdict.guard === "empty") return `Next to nothing of ${full} is left`;
  if (answer.verdict.guard === "surprise") return `About ${now} of ${full} is in it, if the log is right`;
  if (answer.low_now) {
    return `About ${now} of ${full} is left; it cools poorly below about ${saidMass(answer.leak.low_below_g, units)}`;
  }
  const next = saidNextLow({ ...answer, next_low: answer.forecast.next_low });
  if (next.low_now || next.date === null) return `About ${now} of ${full} is in it, enough for many years`;
  return `About ${now} of ${full} is in it, enough until about ${next.best}`;
}

interface RowProps {
  point: CurvePoint;
  log: readonly LogEntry[];
  index: number;
  units: UnitSystem;
}

/** Each entry of the log has two points, before and after it; then comes today, then the years ahead. */
function CurveRow({ point, log, index, units }: RowProps) {
  const entry = log[Math.floor(index / 2)];
  const kind =
    entry === undefined
      ? index === 2 * log.length
        ? "today"
        : "forecast"
      : index % 2 === 0
        ? "before"
        : markOf(entry);
  return <PointRow kind={kind} point={point} units={units} />;
}

function PointRow({ kind, point, units }: { kind: RowKind; point: CurvePoint; units: UnitSystem }) {
  return (
    <tr data-kind={kind}>
      <th scope="row">
        <time datetime={point.date}>{formatDate(point.date)}</time>
        {ROW_NOTES[kind]}
      </th>
      <Grams value={point.mean_g} units={units} />
      <Grams value={point.p05_g} units={units} />
      <Grams value={point.p95_g} units={units} />
    </tr>
  );
}

type RowKind = "before" | "filled" | "looked" | "today" | "forecast" | "topped-off";

const ROW_NOTES: Readonly<Record<RowKind, string>> = {
  before: ", before",
  filled: ", after",
  looked: ", checked",
  today: ", today",
  forecast: ", nothing added",
  "topped-off": ", if topped off today",
};

function markOf(entry: LogEntry): RowKind {
  return entry.finish == null && entry.added_g == null ? "looked" : "filled";
}

function Grams({ value, units }: { value: number; units: UnitSystem }) {
  return <FigureCell value={value}>{saidMass(value, units)}</FigureCell>;
}

function Line({ kind, name, grams, units }: { kind: string; name: string; grams: number; units: UnitSystem }) {
  return (
    <tr data-kind={kind}>
      <th scope="row">{name}</th>
      <Grams value={grams} units={units} />
      <td />
      <td />
    </tr>
  );
}

function Moment({ kind, name, iso }: { kind: string; name: string; iso: string }) {
  return (
    <tr data-kind={kind}>
      <th scope="row">
        {name}: <time datetime={iso}>{formatDate(iso)}</time>
      </th>
      <td />
      <td />
      <td />
    </tr>
  );
}
