import type { AgesKnown, FleetRow, FleetTotals } from "../../src/core/fleet/row.ts";
import { distanceUnitIn } from "../../src/core/quantities/distance.ts";
import { FigureCell } from "../parts/figure-cell.tsx";
import { OPTION_ANSWERS } from "../words/answer-words.ts";
import { Money, Release } from "../words/said.tsx";
import { FleetTableRow } from "./fleet-table-row.tsx";
import { type MoneyAndUnits, saidNumber, saidTotal, saidTotalCo2e, vehicles } from "./shown.ts";

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

/** Columns of the vehicle itself, before those of its answer. */
const BEFORE_ANSWER = 3;

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
  const of_age = [ages.model_year, ages.odometer].filter(Boolean).length;
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
              <FleetTableRow
                row={row}
                manner={manner}
                ages={ages}
                answer_cells={columns.length - BEFORE_ANSWER - of_age}
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
