import type { FleetRow, FleetTotals, ReckonedRow } from "../../src/core/fleet/row.ts";
import { answerWords, OPTION_ANSWERS } from "../words/answer-words.ts";
import { saidChargeNow, saidYearlyLeak } from "../words/estimates.ts";
import { LowAgain } from "../words/low-again.tsx";
import { saidMass, saidPercent } from "../words/numbers.ts";
import { Charge, Facts, Money, Release } from "../words/said.tsx";
import { type MoneyAndUnits, saidNumber, saidSum, saidTotal, saidTotalCo2e, vehiclePath, vehicles } from "./shown.ts";

/** The state of the table, as its address says it. */
export interface TableState {
  search: string;
  fleet_group: string;
  depot: string;
  refrigerant: string;
  verdict: string;
  sort: string;
  descending: boolean;
  page: number;
}

export interface FleetTableProps {
  state: TableState;
  rows: readonly FleetRow[];
  totals: FleetTotals;
  pages: number;
  /** The address of the table with something changed. */
  address: (change: Partial<TableState>) => string;
  csv: string;
  manner: MoneyAndUnits;
}

export const TABLE_ID = "fleet-table";

interface Column {
  sort: string;
  heading: string;
  figure?: boolean;
  /** Which way round is wanted first. */
  first: "ascending" | "descending";
}

const COLUMNS: readonly Column[] = [
  { sort: "label", heading: "Vehicle", first: "ascending" },
  { sort: "verdict", heading: "What to do", first: "ascending" },
  { sort: "leak_g_per_year", heading: "Leak a year", figure: true, first: "descending" },
  { sort: "charge_share", heading: "Charge now", figure: true, first: "ascending" },
  { sort: "next_low", heading: "Low again", first: "ascending" },
  { sort: "cost_as_is", heading: "Cost a year", figure: true, first: "descending" },
  { sort: "release_as_is_g", heading: "Release a year", figure: true, first: "descending" },
  { sort: "own_share", heading: "Own log", figure: true, first: "ascending" },
];

/** The table with what goes with it; the part that changes in place. */
export function FleetTable(props: FleetTableProps) {
  const { rows, state } = props;
  return (
    <>
      {/* The filters above stay where they are; the order that they are sent with is that of the table. */}
      <input type="hidden" name="sort" value={state.sort} form="fleet-filters" />
      {state.descending && <input type="hidden" name="order" value="descending" form="fleet-filters" />}
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
  const { rows, totals, state, address } = props;
  return (
    <form method="get" action="/fleet/compare" id="fleet-rows">
      <p class="fleet-count">{vehicles(totals.vehicles)}</p>
      <section class="table-scroll" aria-label="Vehicles" tabindex={0}>
        <table class="fleet-list">
          <thead>
            <tr>
              <th scope="col" class="fleet-tick">
                <span class="visually-hidden">Compare</span>
              </th>
              {COLUMNS.map((column) => (
                <Heading column={column} state={state} address={address} />
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <Row row={row} manner={props.manner} />
            ))}
          </tbody>
          <tfoot>
            <Totals {...props} />
          </tfoot>
        </table>
      </section>
      <p class="fleet-key">Small: chance of being cheapest; likely range. Topping off → answer.</p>
      <div class="actions fleet-below">
        <button type="submit" class="button-quiet">
          Compare up to 6
        </button>
        <a href={props.csv}>Export as CSV</a>
      </div>
      <Pages {...props} />
    </form>
  );
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
  const href = address({ sort, descending, page: 1 });
  return (
    <th
      scope="col"
      class={figure ? "figure-cell" : undefined}
      aria-sort={sorted ? (state.descending ? "descending" : "ascending") : undefined}
    >
      <a href={href} hx-get={href} hx-target={`#${TABLE_ID}`} hx-swap="innerMorph" hx-push-url="true">
        {heading}
        {sorted && <span aria-hidden="true">{state.descending ? " ↓" : " ↑"}</span>}
      </a>
    </th>
  );
}

function Row({ row, manner }: { row: FleetRow; manner: MoneyAndUnits }) {
  const { id, label, refrigerant, nameplate_g, fleet_group, depot, reckoned } = row;
  return (
    <tr>
      <td class="fleet-tick">
        <input type="checkbox" name="v" value={id} aria-label={`Compare ${label}`} />
      </td>
      <th scope="row">
        <a href={vehiclePath(id)} dir="auto">
          {label}
        </a>
        <small>
          <Facts of={[refrigerant, fleet_group, depot]} />
        </small>
      </th>
      {reckoned === null ? (
        <td colspan={COLUMNS.length - 1}>Not calculated yet</td>
      ) : (
        <Figures reckoned={reckoned} nameplate_g={nameplate_g} manner={manner} />
      )}
    </tr>
  );
}

function Figures({
  reckoned,
  nameplate_g,
  manner,
}: {
  reckoned: ReckonedRow;
  nameplate_g: number;
  manner: MoneyAndUnits;
}) {
  const { answer, sure } = reckoned;
  const leak = saidYearlyLeak(leakOf_g(answer, nameplate_g), manner.units);
  const charge = saidChargeNow(answer.charge_now_g, manner.units);
  const mass = (grams: number) => saidMass(grams, manner.units);
  return (
    <>
      <td data-heading="What to do">
        {answerWords(answer)}
        {sure !== null && <small>{saidPercent(sure)}</small>}
        <DespiteCost reckoned={reckoned} />
      </td>
      <td class="figure-cell" data-heading="Leak a year">
        <Charge>{leak.best}</Charge>
        <small>{leak.range}</small>
      </td>
      <td class="figure-cell" data-heading="Charge now">
        <Charge>{charge.best}</Charge>
        <small>{saidPercent(Math.min(1, reckoned.charge_share))}</small>
      </td>
      <td data-heading="Low again">
        <LowAgain {...answer} />
      </td>
      <td class="figure-cell" data-heading="Cost a year">
        <Money>{change(saidSum(reckoned.cost_as_is, manner), saidSum(reckoned.cost_best, manner))}</Money>
      </td>
      <td class="figure-cell" data-heading="Release a year">
        <Release>{change(mass(reckoned.release_as_is_g), mass(reckoned.release_best_g))}</Release>
      </td>
      <td class="figure-cell" data-heading="Own log">
        {saidPercent(reckoned.own_share)}
      </td>
    </>
  );
}

/** Why it is repaired although topping off for ever would cost less. */
function DespiteCost({ reckoned: { answer, verdict, cost_best, cost_as_is } }: { reckoned: ReckonedRow }) {
  if (verdict !== "repair" || cost_best <= cost_as_is) return null;
  const { guard, tie_break } = answer.verdict;
  const offered = answer.options.some(({ id, offered }) => id === "top-off" && offered);
  if (guard === "floor") return <small>costs more, but a full charge would not last</small>;
  if (guard === "empty") return <small>costs more, but no pressure is left</small>;
  if (!offered) return <small>costs more, but topping off is not allowed here</small>;
  return <small>costs more, but releases {tie_break ? "much less for about the same money" : "less"}</small>;
}

/** From topping off to following the answer; once, where that is the same. */
function change(from: string, to: string): string {
  return from === to ? from : `${from} → ${to}`;
}

/** The leak rate of a fleet's answer, in grams a year. */
export function leakOf_g({ leak_fraction }: ReckonedRow["answer"], nameplate_g: number) {
  return {
    median: leak_fraction.median * nameplate_g,
    p05: leak_fraction.p05 * nameplate_g,
    p95: leak_fraction.p95 * nameplate_g,
  };
}

function Totals({ totals, manner }: FleetTableProps) {
  if (totals.reckoned === 0) return null;
  return (
    <tr>
      <td class="fleet-tick" />
      <th scope="row">
        {totals.reckoned < totals.vehicles
          ? `The ${vehicles(totals.reckoned)} calculated so far`
          : `All ${saidNumber(totals.vehicles)}`}
      </th>
      <td data-heading="What to do" colspan={4}>
        {totals.by_verdict
          .map(
            ({ verdict, vehicles: count }) =>
              `${OPTION_ANSWERS[verdict as keyof typeof OPTION_ANSWERS]}: ${saidNumber(count)}`,
          )
          .join("; ")}
      </td>
      <td class="figure-cell" data-heading="Cost a year">
        <Money>
          {saidTotal(totals.cost_as_is, manner)} → {saidTotal(totals.cost_best, manner)}
        </Money>
      </td>
      <td class="figure-cell" data-heading="Release a year">
        <Release>
          {saidTotalCo2e(totals.co2e_as_is_kg)} → {saidTotalCo2e(totals.co2e_best_kg)} CO₂e
        </Release>
      </td>
      <td />
    </tr>
  );
}

function Pages({ state, pages, address }: FleetTableProps) {
  if (pages < 2) return null;
  const link = (page: number, words: string, rel?: string) => {
    const href = address({ page });
    return (
      <a href={href} rel={rel} hx-get={href} hx-target={`#${TABLE_ID}`} hx-swap="innerMorph" hx-push-url="true">
        {words}
      </a>
    );
  };
  return (
    <nav class="actions fleet-pages" aria-label="Pages">
      {state.page > 1 && link(1, "First page")}
      {state.page > 1 && link(state.page - 1, "Page before", "prev")}
      <span>
        Page {state.page} of {pages}
      </span>
      {state.page < pages && link(state.page + 1, "Next page", "next")}
    </nav>
  );
}
