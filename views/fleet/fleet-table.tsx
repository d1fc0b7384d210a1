import {
  type AgesKnown,
  type FleetRow,
  type FleetTotals,
  type ReckonedRow,
  watchDateAhead,
} from "../../src/core/fleet/row.ts";
import { formatDate, formatShortMonth } from "../../src/core/quantities/dates.ts";
import { distanceIn, distanceUnitIn } from "../../src/core/quantities/distance.ts";
import { FigureCell } from "../parts/figure-cell.tsx";
import { vehiclePath } from "../vehicles/record/record.ts";
import { answerWords, OPTION_ANSWERS } from "../words/answer-words.ts";
import { saidNextLow } from "../words/estimates.ts";
import { estimated, massFigure } from "../words/numbers.ts";
import { Money, Release } from "../words/said.tsx";
import { type MoneyAndUnits, saidNumber, saidShare, saidSum, saidTotal, saidTotalCo2e, vehicles } from "./shown.ts";

/** The state of the table, as its address says it. */
export interface TableState {
  search: string;
  fleet_group: string;
  depot: string;
  refrigerant: string;
  verdict: string;
  /** From when until when they are low, `2026-12-01/2026-12-31`; `..` is open. */
  low: string;
  sort: string;
  descending: boolean;
  page: number;
  /** Ids of the vehicles that are ticked, on this page or another. */
  selected: readonly string[];
  /** Whether all that the filters leave are selected, whatever is ticked. */
  all_selected: boolean;
}

export interface FleetTableProps {
  state: TableState;
  rows: readonly FleetRow[];
  totals: FleetTotals;
  pages: number;
  /** The address of the table with something changed. */
  address: (change: Partial<TableState>) => string;
  manner: MoneyAndUnits;
  /** Which columns of age there are. */
  ages: AgesKnown;
  may_edit: boolean;
}

export const TABLE_ID = "fleet-table";
const ROWS_ID = "fleet-rows";

/** Links of the table and of the filters also send what is ticked now. */
export const WITH_TICKS = { "hx-include": `#${ROWS_ID} input[name=v], #${ROWS_ID} input[name=all]` };

/** What was ticked when the page was made may not be any more: scripts send what is ticked now. */
const NO_TICKS = { selected: [], all_selected: false };
const IN_PLACE = { "hx-target": `#${TABLE_ID}`, "hx-swap": "innerMorph", "hx-push-url": "true" };

interface Column {
  sort: string;
  heading: string;
  figure?: boolean;
  /** The direction of the first press. */
  first: "ascending" | "descending";
}

function columnsIn({ units }: MoneyAndUnits, ages: AgesKnown): readonly Column[] {
  const unit = units === "metric" ? "g" : "oz";
  return [
    { sort: "label", heading: "Vehicle", first: "ascending" },
    { sort: "fleet_group", heading: "Group", first: "ascending" },
    { sort: "depot", heading: "Depot", first: "ascending" },
    { sort: "verdict", heading: "What to do", first: "ascending" },
    { sort: "worth", heading: "Saves a year", figure: true, first: "descending" },
    { sort: "avoided", heading: `Less release, ${unit}/year`, figure: true, first: "descending" },
    { sort: "leak_g_per_year", heading: `Leak, ${unit}/year`, figure: true, first: "descending" },
    { sort: "leak_share", heading: "Leak, % of charge", figure: true, first: "descending" },
    { sort: "charge_share", heading: "Charge now, %", figure: true, first: "ascending" },
    { sort: "next_low", heading: "Low again", first: "ascending" },
    { sort: "watch_date", heading: "Watch date", first: "ascending" },
    ...(ages.model_year
      ? [{ sort: "model_year", heading: "Model year", figure: true, first: "ascending" } as const]
      : []),
    ...(ages.odometer
      ? [
          {
            sort: "odometer",
            heading: `Odometer, ${distanceUnitIn(units)}`,
            figure: true,
            first: "descending",
          } as const,
        ]
      : []),
  ];
}

/** The table with what goes with it; the part that changes in place when it is sorted or another page is shown. */
export function FleetTable(props: FleetTableProps) {
  const { rows, state } = props;
  return (
    <>
      {/* The filters stay where they are; the order that they are sent with is that of the table. */}
      <input type="hidden" name="sort" value={state.sort} form="fleet-filters" />
      <input type="hidden" name="order" value={state.descending ? "descending" : "ascending"} form="fleet-filters" />
      {rows.length === 0 ? (
        <p>
          Nothing fits. <a href="/fleet">Show all vehicles</a>
        </p>
      ) : (
        <Rows {...props} />
      )}
    </>
  );
}

function Rows(props: FleetTableProps) {
  const { rows, totals, state, address, manner, ages } = props;
  const columns = columnsIn(manner, ages);
  const shown = new Set(rows.map(({ id }) => id));
  const elsewhere = state.selected.filter((id) => !shown.has(id));
  return (
    <form method="get" action="/fleet/compare" id={ROWS_ID}>
      {stateFields(state).map(([name, value]) => (
        <input type="hidden" name={name} value={value} />
      ))}
      {elsewhere.map((id) => (
        <input type="hidden" name="v" value={id} />
      ))}
      {state.all_selected && <input type="hidden" name="all" value="yes" />}
      <p class="fleet-count">{vehicles(totals.vehicles)}; ○ has no entries</p>
      <section class="table-scroll fleet-scroll" aria-label="Vehicles" tabindex={0}>
        <table class={ages.model_year || ages.odometer ? "fleet-list fleet-lines is-aged" : "fleet-list fleet-lines"}>
          <thead>
            <tr>
              <th scope="col" class="fleet-tick">
                <span class="visually-hidden">Selected</span>
              </th>
              {columns.map((column) => (
                <Heading column={column} state={state} address={address} />
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <Row
                row={row}
                manner={manner}
                ages={ages}
                columns={columns}
                ticked={state.all_selected || state.selected.includes(row.id)}
                fixed={state.all_selected}
              />
            ))}
          </tbody>
          <tfoot>
            <Totals {...props} />
          </tfoot>
        </table>
      </section>
      <Bar {...props} />
      <Pages {...props} />
    </form>
  );
}

/** The filters and the order, for a form that goes on from them. */
function stateFields(state: TableState): [string, string][] {
  const fields: [string, string][] = [
    ["q", state.search],
    ["group", state.fleet_group],
    ["depot", state.depot],
    ["refrigerant", state.refrigerant],
    ["answer", state.verdict],
    ["low", state.low],
    ["sort", state.sort],
    ["order", state.descending ? "descending" : "ascending"],
  ];
  return fields.filter(([, value]) => value !== "");
}

function Heading({
  column,
  state,
  address,
}: {
  column: Column;
  state: TableState;
  address: FleetTableProps["address"];
}) {
  const { sort, heading, figure = false, first } = column;
  const sorted = state.sort === sort;
  const descending = sorted ? !state.descending : first === "descending";
  const to = { sort, descending, page: 1 };
  return (
    <th
      scope="col"
      class={figure ? "figure-cell" : undefined}
      aria-sort={sorted ? (state.descending ? "descending" : "ascending") : undefined}
    >
      <a href={address(to)} hx-get={address({ ...to, ...NO_TICKS })} {...IN_PLACE} {...WITH_TICKS}>
        {heading}
        {sorted && <span aria-hidden="true">{state.descending ? " ↓" : " ↑"}</span>}
      </a>
    </th>
  );
}

interface RowProps {
  row: FleetRow;
  manner: MoneyAndUnits;
  ages: AgesKnown;
  columns: readonly Column[];
  ticked: boolean;
  /** Whether all are selected, so that none can be unticked. */
  fixed: boolean;
}

function Row({ row, manner, ages, columns, ticked, fixed }: RowProps) {
  const { id, label, fleet_group, depot, model_year, odometer, reckoned } = row;
  const { units } = manner;
  const of_age = [ages.model_year, ages.odometer].filter(Boolean).length;
  return (
    <tr>
      <td class="fleet-tick">
        <input type="checkbox" name="v" value={id} aria-label={`Select ${label}`} checked={ticked} disabled={fixed} />
      </td>
      <th scope="row">
        <a href={vehiclePath(id)} dir="auto">
          {label}
        </a>
      </th>
      <td dir="auto" class="fleet-whose">
        {fleet_group}
      </td>
      <td dir="auto" class="fleet-whose">
        {depot}
      </td>
      {reckoned === null ? (
        <td colspan={columns.length - 3 - of_age}>Not calculated yet</td>
      ) : (
        <Cells reckoned={reckoned} manner={manner} />
      )}
      {ages.model_year && <FigureCell heading="Model year">{model_year}</FigureCell>}
      {ages.odometer && (
        <td class="figure-cell fleet-far" data-heading="Odometer" data-unit={distanceUnitIn(units)}>
          {odometer !== null && (
            <span title={`read on ${formatDate(odometer.on)}`}>
              {saidNumber(Math.round(distanceIn(odometer.km, distanceUnitIn(units))))}
            </span>
          )}
        </td>
      )}
    </tr>
  );
}

function Cells({ reckoned, manner }: { reckoned: ReckonedRow; manner: MoneyAndUnits }) {
  const { answer, cost_as_is, cost_best, release_as_is_g, release_best_g } = reckoned;
  const saved = estimated(cost_as_is - cost_best);
  const unit = manner.units === "metric" ? "g" : "oz";
  const amount = (grams: number) => massFigure(grams, manner.units);
  const less_g = release_as_is_g - release_best_g;
  const low = saidNextLow(answer);
  const watch = watchDateAhead(reckoned);
  return (
    <>
      <td class="fleet-what" data-heading="What to do">
        {answerWords(answer)}
        <DespiteCost reckoned={reckoned} />
      </td>
      <FigureCell heading="Saves">{saved !== 0 && <Money>{saidSum(saved, manner)}</Money>}</FigureCell>
      <FigureCell heading="Less release" unit={unit}>
        {amount(less_g) !== "0" && <Release>{amount(less_g)}</Release>}
      </FigureCell>
      <FigureCell heading="Leak a year" unit={unit}>
        {reckoned.no_entries && (
          <span role="img" aria-label="no entries">
            ○{" "}
          </span>
        )}
        {amount(reckoned.leak_g_per_year)}
      </FigureCell>
      <FigureCell heading="Of charge">{saidShare(reckoned.leak_share)}</FigureCell>
      <FigureCell heading="Charge now">{saidCharge(reckoned.charge_share)}</FigureCell>
      <td data-heading="Low again" class={low.low_now ? "fleet-when" : undefined}>
        {low.low_now ? (
          <strong>Low now</strong>
        ) : low.date === null ? (
          "not within 20 years"
        ) : (
          <time datetime={low.date}>{formatShortMonth(low.date)}</time>
        )}
      </td>
      <td data-heading="Watch">{watch !== null && <time datetime={watch}>{formatShortMonth(watch)}</time>}</td>
    </>
  );
}

/** What is in it, of a full charge, in whole percent: `62%`, `<1%`. */
function saidCharge(share: number): string {
  const percent = Math.round(100 * Math.min(1, share));
  return percent === 0 && share > 0 ? "<1%" : `${percent}%`;
}

/** Why it is repaired although topping off for ever would cost less. */
function DespiteCost({ reckoned: { answer, verdict, cost_best, cost_as_is } }: { reckoned: ReckonedRow }) {
  if (verdict !== "repair" || cost_best <= cost_as_is) return null;
  const { guard } = answer.verdict;
  const offered = answer.options.some(({ id, offered }) => id === "top-off" && offered);
  const why =
    guard === "floor"
      ? "too leaky to top off"
      : guard === "empty"
        ? "no pressure left"
        : offered
          ? "less release"
          : "topping off is not allowed";
  return <small>: {why}</small>;
}

/** The leak rate of a fleet's answer, in grams a year. */
export function leakOf_g({ leak_fraction }: ReckonedRow["answer"], nameplate_g: number) {
  return {
    median: leak_fraction.median * nameplate_g,
    p05: leak_fraction.p05 * nameplate_g,
    p95: leak_fraction.p95 * nameplate_g,
  };
}

function Totals({ totals, manner, ages }: FleetTableProps) {
  if (totals.reckoned === 0) return null;
  const saved = totals.cost_as_is - totals.cost_best;
  const avoided = totals.co2e_as_is_kg - totals.co2e_best_kg;
  return (
    <tr>
      <td class="fleet-tick" />
      <th scope="row" colspan={3}>
        {totals.reckoned < totals.vehicles
          ? `The ${vehicles(totals.reckoned)} calculated so far`
          : totals.vehicles === 1
            ? "1 vehicle"
            : `All ${vehicles(totals.vehicles)}`}
      </th>
      <td data-heading="What to do" />
      <FigureCell heading="Saves">
        <Money>{saidTotal(saved, manner)}</Money>
      </FigureCell>
      <FigureCell heading="Less release">
        <Release>{saidTotalCo2e(avoided)} CO₂e</Release>
      </FigureCell>
      <td colspan={columnsIn(manner, ages).length - 6} data-heading="What to do">
        {totals.by_verdict
          .map(
            ({ verdict, vehicles: count }) =>
              `${OPTION_ANSWERS[verdict as keyof typeof OPTION_ANSWERS]}: ${saidNumber(count)}`,
          )
          .join("; ")}
      </td>
    </tr>
  );
}

/** What can be done with the vehicles that are ticked, always in sight. */
function Bar({ state, totals, address, may_edit }: FleetTableProps) {
  const { all_selected, selected } = state;
  const count = all_selected ? totals.vehicles : selected.length;
  const clear = address(NO_TICKS);
  const all = address({ ...NO_TICKS, all_selected: true });
  return (
    <div class="actions fleet-bar">
      <output id="fleet-selected">{saidNumber(count)} selected</output>
      {!all_selected && (
        <button type="submit" class="button-quiet">
          Compare
        </button>
      )}
      {may_edit && (
        <button type="submit" class="button-quiet" formaction="/fleet/change">
          Change
        </button>
      )}
      <button type="submit" class="button-quiet" formaction="/fleet.csv">
        Export
      </button>
      <button type="submit" class="button-quiet" formaction="/fleet.xlsx">
        .xlsx
      </button>
      {count > 0 ? (
        <a href={clear} hx-get={clear} {...IN_PLACE}>
          Clear
        </a>
      ) : (
        <a href={all} hx-get={all} {...IN_PLACE}>
          Select all
        </a>
      )}
    </div>
  );
}

/** Buttons, so that what is ticked goes with them to another page. */
function Pages({ state, pages, address }: FleetTableProps) {
  if (pages < 2) return null;
  const button = (page: number, words: string) => (
    <button
      type="submit"
      class="button-link"
      name="page"
      value={String(page)}
      formaction={`/fleet#${TABLE_ID}`}
      hx-get={address({ page, ...NO_TICKS })}
      {...IN_PLACE}
      {...WITH_TICKS}
    >
      {words}
    </button>
  );
  return (
    <nav class="actions fleet-pages" aria-label="Pages">
      {state.page > 1 && button(1, "First page")}
      {state.page > 1 && button(state.page - 1, "Page before")}
      <span>
        Page {state.page} of {pages}
      </span>
      {state.page < pages && button(state.page + 1, "Next page")}
    </nav>
  );
}
