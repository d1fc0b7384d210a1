import type { Cohort } from "../../src/core/fleet/row.ts";
import { formatDate } from "../../src/core/quantities/dates.ts";
import type { AssetUrl } from "../assets.ts";
import { type Choice, SelectField } from "../parts/field.tsx";
import { SearchField } from "../parts/finder.tsx";
import { PricesUsedLine } from "../parts/prices-used.tsx";
import { inSentence } from "../words/in-sentence.ts";
import { OPTION_NAMES } from "../words/places.ts";
import { saidMonth } from "../words/times.ts";
import { FleetTable, type FleetTableProps, TABLE_ID, WITH_TICKS } from "./fleet-table.tsx";
import { FleetFrame } from "./frame.tsx";
import { Groups } from "./groups.tsx";
import { Pictures, type PicturesProps } from "./pictures.tsx";
import { Progress, type ProgressProps } from "./progress.tsx";
import { saidNumber, vehicles } from "./shown.ts";

export interface FleetPageProps extends FleetTableProps {
  pictures: Omit<PicturesProps, "totals" | "manner">;
  /** Whether some vehicles are filtered out; how many there are in all. */
  filtered: boolean;
  all_vehicles: number;
  choices: { groups: readonly string[]; depots: readonly string[]; refrigerants: readonly string[] };
  cohorts: readonly Cohort[];
  progress: ProgressProps;
  asset: AssetUrl;
}

const SHOWN_ID = "fleet-shown";

/** `/fleet`: every vehicle with its leak, its answer, and what that is worth. */
export function FleetPage(props: FleetPageProps) {
  const { asset } = props;
  return (
    <FleetFrame title="Fleet" path="/fleet" asset={asset} may_edit={props.may_edit} charts>
      <p class="page-name">Fleet</p>
      <div id={SHOWN_ID}>
        <FleetShown {...props} />
      </div>
    </FleetFrame>
  );
}

/** All that follows the filters: what is found, the pictures, the table. */
export function FleetShown(props: FleetPageProps) {
  const { all_vehicles, totals, manner, may_edit } = props;
  return (
    <>
      <h1 class="page-title">{finding(props)}</h1>
      <Progress {...props.progress} />
      {all_vehicles === 0 ? (
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
          <p class="visually-hidden" role="status">
            {vehicles(totals.vehicles)}
          </p>
          <Pictures {...props.pictures} totals={totals} manner={manner} />
          <div id={TABLE_ID}>
            <FleetTable {...props} />
          </div>
          <PricesUsedLine prices={manner.prices} />
          <Groups cohorts={props.cohorts} />
        </>
      )}
    </>
  );
}

/** What the answers of the vehicles shown come to, in a sentence. */
function finding({ totals, filtered, all_vehicles }: FleetPageProps): string {
  if (all_vehicles === 0) return "Which vehicles to repair with this year's budget";
  if (totals.vehicles === 0) return "No vehicle fits these filters";
  const whose = filtered ? `Of ${vehicles(totals.vehicles)} shown: ` : "";
  if (totals.reckoned === 0) return `${vehicles(totals.vehicles)}, not calculated yet`;
  const count = (option: string) => totals.by_verdict.find(({ verdict }) => verdict === option)?.vehicles ?? 0;
  const repairs = count("repair");
  const said =
    repairs === 0
      ? `No repair pays off now: ${instead(count("top-off"), totals.reckoned)}`
      : worthRepairing(totals.repairs_that_pay, repairs - totals.repairs_that_pay);
  return whose === "" ? said : whose + inSentence(said);
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

function Filters(props: FleetPageProps) {
  const { state, choices } = props;
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
        hx-target={`#${SHOWN_ID}`}
        hx-swap="innerMorph"
        hx-push-url="true"
        {...WITH_TICKS}
      >
        <SearchField label="Search" within value={state.search} />
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
        <SelectField
          id="low"
          name="low"
          label="Low"
          value={state.low}
          choices={[any("Any time"), ...lowChoices(state.low, props.pictures)]}
        />
        <button type="submit" class="button-quiet">
          Show
        </button>
      </form>
    </search>
  );
}

/** The choices of when it is low: now, soon, and the span that a picture's link asked for. */
function lowChoices(low: string, { today, pictures }: FleetPageProps["pictures"]): Choice[] {
  const soon = pictures.low_soon.until;
  const choices = [
    { value: `../${today}`, label: "Now" },
    { value: `../${soon}`, label: `Now or by ${formatDate(soon)}` },
  ];
  const [from = "..", until = ".."] = low.split("/");
  if (low === "" || choices.some(({ value }) => value === low)) return choices;
  const label =
    until === ".." ? `${saidMonth(from)} or later` : from === ".." ? `By ${formatDate(until)}` : saidMonth(from);
  return [...choices, { value: low, label }];
}
