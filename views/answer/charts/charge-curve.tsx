import { isTopUpDue } from "../../../src/core/options/top-up-due.ts";
import { formatDate } from "../../../src/core/quantities/format.ts";
import type { UnitSystem } from "../../../src/core/quantities/units.ts";
import type { CurvePoint, LogEntry } from "../../../src/core/question/contract.ts";
import { ChartFigure } from "../../parts/figure.tsx";
import { saidMass } from "../../words/numbers.ts";
import { saidMonth } from "../../words/times.ts";
import { type Outcome, repairAndTopOff } from "../outcome.ts";

/** The charge over time: what the log says of the past, the range of what it may be, and where it goes if nothing is done. */
export function ChargeCurve({ outcome }: { outcome: Outcome }) {
  const { answer, question, units } = outcome;
  const { watch_date } = repairAndTopOff(answer).topOff;
  const { p50 } = answer.forecast.next_low;
  return (
    <ChartFigure
      id="charge-curve"
      kind="charge-curve"
      title={title(outcome)}
      summary={
        <>
          The line is the best estimate of the charge, the band its likely range (5 of 100 cases lie below it, 5 above).
          {question.log.length > 0 && " Triangles mark what went in."} From today on it shows what happens if nothing is
          added.
        </>
      }
      chartKey={[
        { label: "charge, best estimate", meaning: "charge", sign: "line", strong: true },
        { label: "likely range", meaning: "charge", sign: "band" },
        { label: "charged", meaning: "charge", sign: "point" },
        { label: "cools weakly below", meaning: "careful", sign: "line", dash: [6, 4] },
      ]}
      settings={{ "data-units": units }}
    >
      <thead>
        <tr>
          <th scope="col" data-column="date">
            When
          </th>
          <th scope="col" class="figure-cell" data-column="mean_g">
            Charge
          </th>
          <th scope="col" class="figure-cell" data-column="p05_g">
            Likely from
          </th>
          <th scope="col" class="figure-cell" data-column="p95_g">
            to
          </th>
        </tr>
      </thead>
      <tbody>
        {answer.forecast.curve.map((point, i) => (
          <CurveRow point={point} log={question.log} index={i} units={units} />
        ))}
      </tbody>
      <tbody>
        <Line kind="low-line" name="Cools weakly below" grams={answer.leak.low_below_g} units={units} />
        <Line kind="nameplate" name="Nameplate charge" grams={question.nameplate_g} units={units} />
        {watch_date !== null && watch_date > answer.as_of && <Moment kind="watch" name="Watch date" iso={watch_date} />}
        {p50 !== null && p50 > answer.as_of && <Moment kind="next-low" name="Next low charge" iso={p50} />}
      </tbody>
    </ChartFigure>
  );
}

function title(outcome: Outcome): string {
  const { answer, question, units } = outcome;
  const now = saidMass(answer.leak.charge_now_g.mean, units);
  const full = saidMass(question.nameplate_g, units);
  const { p50 } = answer.forecast.next_low;
  if (isTopUpDue(answer)) {
    return `About ${now} of ${full} is left; it cools weakly below about ${saidMass(answer.leak.low_below_g, units)}`;
  }
  if (p50 === null) return `About ${now} of ${full} is in it, enough for many years`;
  return `About ${now} of ${full} is in it, enough until about ${saidMonth(p50)}`;
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

type RowKind = "before" | "filled" | "looked" | "today" | "forecast";

const ROW_NOTES: Readonly<Record<RowKind, string>> = {
  before: ", before",
  filled: ", charged",
  looked: ", looked at",
  today: ", the day of the question",
  forecast: "",
};

function markOf(entry: LogEntry): RowKind {
  return entry.finish == null && entry.added_g == null ? "looked" : "filled";
}

function Grams({ value, units }: { value: number; units: UnitSystem }) {
  return (
    <td class="figure-cell">
      <data value={value}>{saidMass(value, units)}</data>
    </td>
  );
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
