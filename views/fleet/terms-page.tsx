import { CLIMATES } from "../../data/climates.ts";
import { PLACES } from "../../data/rules.ts";
import type { ScopedTerms } from "../../src/core/fleet/terms.ts";
import type { AssetUrl } from "../assets.ts";
import type { FieldError } from "../parts/error-summary.tsx";
import { type Choice, fieldOf, messagesOf, RadioField, SelectField, TextField } from "../parts/field.tsx";
import { FigureCell } from "../parts/figure-cell.tsx";
import { Day } from "../words/said.tsx";
import { FleetFrame } from "./frame.tsx";
import { saidNumber, vehicles } from "./shown.ts";

/** The form of the terms, as typed. */
export interface TermsFields {
  service: string;
  keep_years: string;
  climate: string;
  place: string;
  topoff_fee: string;
  refrigerant: string;
  repair_service: string;
  locate_fee: string;
  topoff_hours_lost: string;
  repair_hours_lost: string;
  hour_lost: string;
}

/** The form that says that every charge is logged, as typed. */
export interface LoggedFields {
  from: string;
  until: string;
  missed: string;
}

export interface TermsPageProps {
  /** `fleet`, `group:Vans` or `depot:North`: whose terms are in the form. */
  whose: string;
  fields: TermsFields;
  logged: LoggedFields;
  cooled_on: string;
  errors: readonly FieldError[];
  said: readonly ScopedTerms[];
  groups: readonly string[];
  depots: readonly string[];
  counts: { vehicles: number; logged: number; latest: string | null; missed: number | null };
  /** What was done a moment ago. */
  done: string | null;
  currency: string;
  mass_unit: "kg" | "lb";
  may_edit: boolean;
  asset: AssetUrl;
}

/** What a fleet says once for all its vehicles: prices, years, and what its records hold. */
export function TermsPage(props: TermsPageProps) {
  const { errors, may_edit, asset, counts, done } = props;
  return (
    <FleetFrame title="Prices and records" path="/fleet/terms" asset={asset} may_edit={may_edit} errors={errors}>
      <h1 class="page-title">What holds for the whole fleet</h1>
      {done !== null && <p role="status">{done}</p>}
      <p>
        Vehicles with a group or a depot use these, unless a vehicle has its own. A depot goes before a group, a group
        before the fleet.
      </p>
      <SaidTerms {...props} />
      {may_edit && <TermsForm {...props} />}
      <section class="fleet-report" aria-labelledby="records">
        <h2 id="records">{recordsHeading(counts)}</h2>
        <p>
          If every charge is in the records, a vehicle without a new entry was not found low. Without this, silence says
          nothing, and quiet vehicles are thought to leak like the others in their group.
          {counts.latest !== null && (
            <>
              {" "}
              The records reach to <Day iso={counts.latest} />.
            </>
          )}
        </p>
        {may_edit && <LoggedForm {...props} />}
      </section>
      {may_edit && (
        <section class="fleet-report" aria-labelledby="cooled">
          <h2 id="cooled">A check of many vehicles</h2>
          <p>After a summer check: each vehicle that has no entry since that day gets the entry “cooled well”.</p>
          <CooledForm {...props} />
        </section>
      )}
    </FleetFrame>
  );
}

function recordsHeading({ vehicles: all, logged }: TermsPageProps["counts"]): string {
  if (all > 0 && logged === all) return "Every charge is in the records of all vehicles";
  if (logged > 0) return `Every charge is in the records of ${saidNumber(logged)} of ${vehicles(all)}`;
  return "Is every charge in the records?";
}

/** Who the terms are for, as choices. */
function scopes({ groups, depots }: Pick<TermsPageProps, "groups" | "depots">): Choice[] {
  return [
    { value: "fleet", label: "All vehicles of the fleet" },
    ...groups.map((name) => ({ value: `group:${name}`, label: `Group ${name}` })),
    ...depots.map((name) => ({ value: `depot:${name}`, label: `Depot ${name}` })),
  ];
}

/** What is set for the fleet, its groups and depots; `whose` is marked. */
export function SaidTerms({ said, currency, whose }: Pick<TermsPageProps, "said" | "currency" | "whose">) {
  const rows = said.filter(({ terms }) => Object.keys(terms).some((name) => name !== "currency"));
  if (rows.length === 0) return <p>Nothing is set yet: a shop tops off, at the usual prices, for five years.</p>;
  const with_climate = rows.some(({ terms }) => terms.climate != null);
  const money = (amount: number | null | undefined) => (amount == null ? "" : `${saidNumber(amount)} ${currency}`);
  return (
    <section class="table-scroll" aria-label="What is set" tabindex={0}>
      <table class="fleet-list">
        <thead>
          <tr>
            <th scope="col">For</th>
            <th scope="col">Tops off</th>
            {with_climate && <th scope="col">Climate</th>}
            <th scope="col" class="figure-cell">
              Years kept
            </th>
            <th scope="col" class="figure-cell">
              A top-off
            </th>
            <th scope="col" class="figure-cell">
              An hour out of use
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ scope, name, terms }) => {
            const value = scope === "fleet" ? "fleet" : `${scope}:${name}`;
            return (
              <tr>
                <th scope="row">
                  <a
                    href={`/fleet/terms?${new URLSearchParams({ for: value })}`}
                    aria-current={value === whose ? "true" : undefined}
                    dir="auto"
                  >
                    {scope === "fleet" ? "All vehicles" : name}
                  </a>
                </th>
                <td data-heading="Tops off">{terms.service === "diy" ? "Owner" : "Shop"}</td>
                {with_climate && (
                  <td data-heading="Climate">{CLIMATES.find(({ id }) => id === terms.climate)?.name ?? ""}</td>
                )}
                <FigureCell heading="Years kept">{terms.keep_years ?? ""}</FigureCell>
                <FigureCell heading="A top-off">{money(terms.topoff_fee)}</FigureCell>
                <FigureCell heading="An hour out of use">{money(terms.hour_lost)}</FigureCell>
              </tr>
            );
          })}
        </tbody>
      </table>
    </section>
  );
}

function TermsForm(props: TermsPageProps) {
  const { whose, fields, errors, currency, mass_unit } = props;
  const of = fieldOf(fields, messagesOf(errors));
  return (
    <section class="fleet-report" aria-labelledby="terms">
      <h2 id="terms">Prices, and who tops off</h2>
      <form class="fleet-filters" method="get" action="/fleet/terms">
        <SelectField id="for" name="for" label="For" value={whose} choices={scopes(props)} />
        <button type="submit" class="button-quiet">
          Show
        </button>
      </form>
      <form class="fleet-terms" method="post" action="/fleet/terms">
        <input type="hidden" name="for" value={whose} />
        <RadioField
          id="service"
          name="service"
          label="Who tops off"
          value={whose === "fleet" ? fields.service || "shop" : fields.service}
          choices={[
            ...(whose === "fleet" ? [] : [{ value: "", label: "As for the rest of the fleet" }]),
            { value: "shop", label: "A shop" },
            { value: "diy", label: "The owner, from cans" },
          ]}
        />
        <TextField {...of("keep_years")} label="Years the vehicles are kept" inputmode="decimal" short />
        {whose.startsWith("depot:") && <DepotPlace {...props} />}
        <TextField
          {...of("topoff_fee")}
          label="A top-off, without refrigerant"
          unit={currency}
          inputmode="decimal"
          short
        />
        <TextField
          {...of("refrigerant")}
          label="Refrigerant"
          unit={`${currency} a ${mass_unit}`}
          inputmode="decimal"
          short
        />
        <TextField
          {...of("repair_service")}
          label="Recovery, evacuation and recharge, without refrigerant"
          unit={currency}
          inputmode="decimal"
          short
        />
        <TextField {...of("locate_fee")} label="Finding the leak" unit={currency} inputmode="decimal" short />
        <TextField {...of("topoff_hours_lost")} label="Hours out of use for a top-off" inputmode="decimal" short />
        <TextField {...of("repair_hours_lost")} label="Hours out of use for a repair" inputmode="decimal" short />
        <TextField {...of("hour_lost")} label="An hour out of use costs" unit={currency} inputmode="decimal" short />
        <div class="actions">
          <button type="submit" class="button">
            Save
          </button>
        </div>
      </form>
    </section>
  );
}

/** Where a depot is, for its vehicles that have no climate of their own. */
function DepotPlace({ fields, errors }: TermsPageProps) {
  const of = fieldOf(fields, messagesOf(errors));
  return (
    <>
      <SelectField
        {...of("climate")}
        label="Climate"
        hint="For its vehicles without a climate of their own. Heat speeds a leak"
        choices={[
          { value: "", label: "As in the settings" },
          ...CLIMATES.map(({ id, name }) => ({ value: id, label: name })),
        ]}
      />
      <SelectField
        {...of("place")}
        label="Rules of"
        choices={[
          { value: "", label: "As in the settings" },
          ...Object.entries(PLACES).map(([value, { name }]) => ({ value, label: name })),
        ]}
      />
    </>
  );
}

function LoggedForm(props: TermsPageProps) {
  const of = fieldOf(props.logged, messagesOf(props.errors));
  return (
    <form class="fleet-terms" method="post" action="/fleet/logged">
      <SelectField id="logged-for" name="for" label="For" value={props.whose} choices={scopes(props)} />
      <TextField {...of("from")} label="The records begin" hint="Empty: with each vehicle's first entry" />
      <TextField {...of("until")} label="The records reach to" hint="The day of the last export" />
      <TextField
        {...of("missed")}
        label="Chance that a charge is missing all the same"
        unit="%"
        inputmode="decimal"
        short
      />
      <div class="actions">
        <button type="submit" class="button" name="say" value="yes">
          Every charge is in the records
        </button>
        <button type="submit" class="button-quiet" name="say" value="no">
          Silence says nothing
        </button>
      </div>
    </form>
  );
}

function CooledForm(props: TermsPageProps) {
  const message = messagesOf(props.errors).get("date");
  return (
    <form class="fleet-terms" method="post" action="/fleet/cooled">
      <SelectField id="cooled-for" name="for" label="For" value={props.whose} choices={scopes(props)} />
      <TextField id="date" name="date" label="Day of the check" value={props.cooled_on} error={message} />
      <div class="actions">
        <button type="submit" class="button">
          Record “cooled well”
        </button>
      </div>
    </form>
  );
}
