import type { Cohort, FleetTotals } from "../../src/core/fleet/row.ts";
import type { AssetUrl } from "../assets.ts";
import { type Choice, SelectField } from "../parts/field.tsx";
import { SearchField } from "../parts/finder.tsx";
import { PricesUsedLine } from "../parts/prices-used.tsx";
import { OPTION_NAMES } from "../words/places.ts";
import { FleetTable, type FleetTableProps, TABLE_ID } from "./fleet-table.tsx";
import { FleetFrame } from "./frame.tsx";
import { Groups } from "./groups.tsx";
import { Progress, type ProgressProps } from "./progress.tsx";
import { saidNumber, saidTotal, saidTotalCo2e, vehicles } from "./shown.ts";

export interface FleetPageProps extends FleetTableProps {
  /** The totals of the whole fleet, whatever is filtered. */
  all: FleetTotals;
  choices: { groups: readonly string[]; depots: readonly string[]; refrigerants: readonly string[] };
  cohorts: readonly Cohort[];
  progress: ProgressProps;
  may_edit: boolean;
  asset: AssetUrl;
}

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
          <p>No vehicles yet. Import a spreadsheet of vehicles and past top-offs to start.</p>
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
          <PricesUsedLine prices={props.manner.prices} />
          <Groups cohorts={props.cohorts} />
        </>
      )}
    </FleetFrame>
  );
}

/** What the fleet's answers come to, in a sentence. */
function finding({ all, manner }: FleetPageProps): string {
  if (all.vehicles === 0) return "Which vehicles to repair with this year's budget";
  if (all.reckoned === 0) return `${vehicles(all.vehicles)}, not calculated yet`;
  const count = (option: string) => all.by_verdict.find(({ verdict }) => verdict === option)?.vehicles ?? 0;
  const repairs = count("repair");
  const saved = all.cost_as_is - all.cost_best;
  const co2e = all.co2e_as_is_kg - all.co2e_best_kg;
  if (repairs === 0) return `No repair pays off now: ${instead(count("top-off"), all.reckoned)}`;
  const worth = worthRepairing(all.repairs_that_pay, repairs - all.repairs_that_pay);
  const cleaner = `${saidTotalCo2e(co2e)} of CO₂e a year less than topping off`;
  if (saved < 0) return `${worth}: the answers release ${cleaner}, for ${saidTotal(-saved, manner)} a year more`;
  return `${worth}: the answers save about ${saidTotal(saved, manner)} and ${saidTotalCo2e(co2e)} of CO₂e a year`;
}

/** How many to repair because it pays, and how many although it does not. */
function worthRepairing(pay: number, others: number): string {
  const why = `${saidNumber(others)}${pay > 0 ? " more" : ""} for less release or the rules`;
  if (pay === 0) return `No repair saves money; ${why}`;
  const worth = `${pay === 1 ? "1 vehicle is" : `${saidNumber(pay)} vehicles are`} worth repairing`;
  return others === 0 ? worth : `${worth}, ${why}`;
}

/** What is done where nothing is repaired. */
function instead(topped_off: number, reckoned: number): string {
  if (topped_off === 0) return "the table shows what to do";
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
        <SearchField label="Name, group, depot" within value={state.search} />
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
            { value: "none", label: "No option available" },
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
