import type { Cohort, FleetRow, FleetTotals, ReckonedRow } from "../../src/core/fleet-row.ts";
import { formatMass } from "../../src/core/format.ts";
import type { AssetUrl } from "../assets.ts";
import { type Choice, SelectField } from "../parts/field.tsx";
import { saidMass, saidPercent } from "../words/numbers.ts";
import { OPTION_NAMES } from "../words/places.ts";
import { Charge, Money, Release } from "../words/said.tsx";
import { saidMonth } from "../words/times.ts";
import { FleetFrame } from "./frame.tsx";
import { Progress, type ProgressProps } from "./progress.tsx";
import {
  type Manner,
  saidNumber,
  saidSum,
  saidTotal,
  saidTotalCo2e,
  vehiclePath,
  vehicles,
  verdictWords,
} from "./shown.ts";

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

export interface FleetPageProps {
  state: TableState;
  rows: readonly FleetRow[];
  totals: FleetTotals;
  /** The totals of the whole fleet, whatever is filtered. */
  all: FleetTotals;
  choices: { groups: readonly string[]; depots: readonly string[]; refrigerants: readonly string[] };
  cohorts: readonly Cohort[];
  progress: ProgressProps;
  pages: number;
  /** The address of the table with something changed. */
  address: (change: Partial<TableState>) => string;
  csv: string;
  manner: Manner;
  may_edit: boolean;
  asset: AssetUrl;
}

const TABLE_ID = "fleet-table";

/** `/fleet`: every vehicle with its leak, its answer, and what that is worth. */
export function FleetPage(props: FleetPageProps) {
  const { all, may_edit, asset } = props;
  return (
    <FleetFrame title="Fleet" path="/fleet" asset={asset}>
      <p class="page-name">Fleet</p>
      <h1 class="page-title">{finding(props)}</h1>
      <Progress {...props.progress} />
      {all.vehicles === 0 ? (
        <div class="fleet-empty">
          <p>No vehicle is kept here yet. A spreadsheet of vehicles and past top-offs is enough to begin.</p>
          {may_edit && (
            <p class="actions">
              <a class="button" href="/fleet/import">
                Import a file
              </a>
              <a href="/vehicles/new">Enter one vehicle</a>
            </p>
          )}
        </div>
      ) : (
        <>
          <Filters {...props} />
          <div id={TABLE_ID}>
            <FleetTable {...props} />
          </div>
          <Groups {...props} />
        </>
      )}
    </FleetFrame>
  );
}

/** What the fleet's answers come to, in a sentence. */
function finding({ all, manner }: FleetPageProps): string {
  if (all.vehicles === 0) return "Which vehicles to repair with this year's budget";
  if (all.reckoned === 0) return `${vehicles(all.vehicles)}, not worked out yet`;
  const count = (option: string) => all.by_verdict.find(({ verdict }) => verdict === option)?.vehicles ?? 0;
  const repairs = count("repair");
  const saved = all.cost_as_is - all.cost_best;
  const co2e = all.co2e_as_is_kg - all.co2e_best_kg;
  if (repairs === 0) return `No repair pays now: ${instead(count("top-off"), all.reckoned)}`;
  const worth = `${repairs === 1 ? "1 vehicle is" : `${repairs.toLocaleString("en-US")} vehicles are`} worth repairing`;
  const cleaner = `${saidTotalCo2e(co2e)} of CO₂e a year less than topping off`;
  if (saved < 0)
    return `${worth}: with every answer followed, ${cleaner}, for ${saidTotal(-saved, manner)} a year more`;
  return `${worth}: with every answer followed, about ${saidTotal(saved, manner)} and ${cleaner}`;
}

/** What is done where nothing is repaired. */
function instead(topped_off: number, reckoned: number): string {
  if (topped_off === 0) return "the table says what to do instead";
  const which = topped_off < reckoned ? `${saidNumber(topped_off)} of ` : reckoned > 1 ? "all " : "";
  return `topping off is the answer for ${which}${vehicles(reckoned)}`;
}

function Filters({ state, choices, totals }: FleetPageProps) {
  const any = (label: string): Choice => ({ value: "", label });
  const listed = (names: readonly string[]): Choice[] => names.map((name) => ({ value: name, label: name }));
  return (
    <search>
      <form
        class="fleet-filters"
        id="fleet-filters"
        method="get"
        action="/fleet"
        hx-get="/fleet"
        hx-trigger="submit, change"
        hx-target={`#${TABLE_ID}`}
        hx-swap="innerMorph"
        hx-push-url="true"
      >
        <div class="field">
          <label class="label-text" for="q">
            Name, group, depot
          </label>
          <input type="search" id="q" name="q" value={state.search} dir="auto" autocomplete="off" />
        </div>
        {choices.groups.length > 0 && (
          <SelectField
            id="group"
            name="group"
            label="Group"
            value={state.fleet_group}
            choices={[any("All groups"), ...listed(choices.groups)]}
          />
        )}
        {choices.depots.length > 0 && (
          <SelectField
            id="depot"
            name="depot"
            label="Depot"
            value={state.depot}
            choices={[any("All depots"), ...listed(choices.depots)]}
          />
        )}
        <SelectField
          id="refrigerant"
          name="refrigerant"
          label="Refrigerant"
          value={state.refrigerant}
          choices={[any("Any"), ...listed(choices.refrigerants)]}
        />
        <SelectField
          id="answer"
          name="answer"
          label="Answer"
          value={state.verdict}
          choices={[
            any("Any"),
            ...Object.entries(OPTION_NAMES).map(([value, { name }]) => ({ value, label: name })),
            { value: "check-first", label: "Check first" },
            { value: "none", label: "Nothing is open" },
          ]}
        />
        <button type="submit" class="button-quiet">
          Show
        </button>
        <p class="visually-hidden" role="status">
          {vehicles(totals.vehicles)}
        </p>
      </form>
    </search>
  );
}

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
  { sort: "own_share", heading: "From its own log", figure: true, first: "ascending" },
];

/** The table with what goes with it; the part that changes in place. */
export function FleetTable(props: FleetPageProps) {
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

function Rows(props: FleetPageProps) {
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
      <p class="fleet-key">
        Cost and release: topping off → with the answer. In small type: the likely range, nine cases of ten; for the
        log, the rest comes from its group.
      </p>
      <div class="actions fleet-below">
        <button type="submit" class="button-quiet">
          Compare the ticked ones (up to six)
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
  address: FleetPageProps["address"];
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

function Row({ row, manner }: { row: FleetRow; manner: Manner }) {
  const { id, label, refrigerant, nameplate_g, fleet_group, depot, reckoned } = row;
  const also = [refrigerant, formatMass(nameplate_g, manner.units), fleet_group, depot].filter((part) => part !== null);
  return (
    <tr>
      <td class="fleet-tick">
        <input type="checkbox" name="v" value={id} aria-label={`Compare ${label}`} />
      </td>
      <th scope="row">
        <a href={vehiclePath(id)} dir="auto">
          {label}
        </a>
        <small>{also.join(" · ")}</small>
      </th>
      {reckoned === null ? (
        <td colspan={COLUMNS.length - 1}>Not worked out yet</td>
      ) : (
        <Figures reckoned={reckoned} nameplate_g={nameplate_g} manner={manner} />
      )}
    </tr>
  );
}

function Figures({ reckoned, nameplate_g, manner }: { reckoned: ReckonedRow; nameplate_g: number; manner: Manner }) {
  const { answer, sure } = reckoned;
  const { p05, p95 } = answer.leak_fraction;
  const { charge_now_g, next_low } = answer;
  const mass = (grams: number) => saidMass(grams, manner.units);
  return (
    <>
      <td data-heading="What to do">
        {verdictWords(reckoned.verdict, answer.verdict.guard)}
        {sure !== null && <small>cheapest in {saidPercent(sure)} of cases</small>}
      </td>
      <td class="figure-cell" data-heading="Leak a year">
        <Charge>{mass(reckoned.leak_g_per_year)}</Charge>
        <small>
          {mass(p05 * nameplate_g)} to {mass(p95 * nameplate_g)}
        </small>
      </td>
      <td class="figure-cell" data-heading="Charge now">
        <Charge>{mass(charge_now_g.mean)}</Charge>
        <small>{saidPercent(Math.min(1, reckoned.charge_share))} of full</small>
      </td>
      <td data-heading="Low again">
        <LowAgain next_low={next_low} as_of={reckoned.as_of} />
      </td>
      <td class="figure-cell" data-heading="Cost a year">
        <Money>
          {saidSum(reckoned.cost_as_is, manner)} → {saidSum(reckoned.cost_best, manner)}
        </Money>
      </td>
      <td class="figure-cell" data-heading="Release a year">
        <Release>
          {mass(reckoned.release_as_is_g)} → {mass(reckoned.release_best_g)}
        </Release>
      </td>
      <td class="figure-cell" data-heading="From its own log">
        {saidPercent(reckoned.own_share)}
      </td>
    </>
  );
}

/** When it will be low again, with the range that nine of ten cases lie in. */
export function LowAgain({ next_low, as_of }: { next_low: ReckonedRow["answer"]["next_low"]; as_of: string }) {
  const { p10, p50, p90 } = next_low;
  if (p50 === null) return <>Not within 20 years</>;
  if (p50 <= as_of) return <strong>Low now</strong>;
  return (
    <>
      <time datetime={p50}>{saidMonth(p50)}</time>
      <small>
        {p10 === null || p10 <= as_of ? "now" : saidMonth(p10)} to{" "}
        {p90 === null ? "later than 20 years" : saidMonth(p90)}
      </small>
    </>
  );
}

function Totals({ totals, manner }: FleetPageProps) {
  if (totals.reckoned === 0) return null;
  return (
    <tr>
      <td class="fleet-tick" />
      <th scope="row">
        {totals.reckoned < totals.vehicles
          ? `The ${vehicles(totals.reckoned)} worked out so far`
          : `All ${vehicles(totals.vehicles)}`}
      </th>
      <td data-heading="What to do" colspan={4}>
        {totals.by_verdict
          .map(({ verdict, vehicles: count }) => `${verdictWords(verdict)}: ${saidNumber(count)}`)
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

function Pages({ state, pages, address }: FleetPageProps) {
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

/** What the groups have taught their vehicles. */
function Groups({ cohorts }: FleetPageProps) {
  if (cohorts.length === 0) return null;
  const percent = (ln_x: number) => `${Number((100 * Math.exp(ln_x)).toPrecision(2))} %`;
  return (
    <details class="numbers fleet-groups">
      <summary>What the groups know</summary>
      <p>
        Vehicles of a group inform each other: the less a vehicle's own log says, the more its estimate leans on its
        group. A group counts from three vehicles with a log; a vehicle that was repaired stands for itself. A vehicle's
        own page goes by its own log alone.
      </p>
      <section class="table-scroll" aria-label="Groups" tabindex={0}>
        <table>
          <thead>
            <tr>
              <th scope="col">Group</th>
              <th scope="col" class="figure-cell">
                Vehicles with a log
              </th>
              <th scope="col" class="figure-cell">
                Typical leak, of the charge a year
              </th>
              <th scope="col" class="figure-cell">
                Nine of ten lie between
              </th>
            </tr>
          </thead>
          <tbody>
            {cohorts.map(({ fleet_group, vehicles: telling, ln_x_mean, ln_x_sd }) => (
              <tr>
                <th scope="row" dir="auto">
                  {fleet_group}
                </th>
                <td class="figure-cell">{telling.toLocaleString("en-US")}</td>
                <td class="figure-cell">{percent(ln_x_mean)}</td>
                <td class="figure-cell">
                  {percent(ln_x_mean - NORMAL_95 * ln_x_sd)} and {percent(ln_x_mean + NORMAL_95 * ln_x_sd)}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </details>
  );
}

/** 5–95 % of a normal, in sd. */
const NORMAL_95 = 1.645;
