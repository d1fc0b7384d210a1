import { Fold } from "../answer/fold.tsx";
import { SelectField } from "../parts/field.tsx";
import { Charge, Release } from "../words/said.tsx";
import { Closing } from "./audit-closing.tsx";
import { type AuditPageProps, estimatedKg, kg, span } from "./audit-shown.ts";
import { Sums, Vehicles } from "./audit-tables.tsx";
import { FleetFrame } from "./frame.tsx";
import { LargeCharges } from "./large-charges.tsx";
import { saidTotalCo2e, vehicles } from "./shown.ts";

/** `/fleet/audit`: a year's refrigerant, to be handed in. */
export function AuditPage(props: AuditPageProps) {
  const { year, years, total, by, overtaken, asset } = props;
  return (
    <FleetFrame title={`Refrigerant in ${year}`} path="/fleet/audit" asset={asset} may_edit={props.may_edit}>
      <p class="page-name">Yearly audit</p>
      <h1 class="page-title">{finding(props)}</h1>
      {overtaken && (
        <p class="note" role="alert">
          Someone else closed or opened this year in the meantime. This is how it is now.
        </p>
      )}
      {years.length === 0 ? (
        <p>
          No year is calculated yet. <a href="/fleet">Calculate the fleet first</a>
        </p>
      ) : (
        <>
          <Range {...props} />
          <form class="fleet-ask" method="get" action="/fleet/audit">
            <SelectField
              id="year"
              name="year"
              label="Year"
              value={String(year)}
              choices={years.map((one) => ({ value: String(one), label: String(one) }))}
            />
            <button type="submit" class="button-quiet">
              Show
            </button>
          </form>
          <Closing {...props} />
          <LargeCharges {...props} />
          {total.vehicles > 0 &&
            by.map(({ name, sums }) => (
              <Fold id={`by-${name.toLowerCase()}`} title={`By ${name.toLowerCase()}`}>
                <Sums name={name} sums={sums} total={total} />
              </Fold>
            ))}
          {total.vehicles > 0 && (
            <Fold id="by-vehicle" title="By vehicle">
              <Vehicles {...props} />
            </Fold>
          )}
          <Method {...props} />
        </>
      )}
    </FleetFrame>
  );
}

function finding({ year, years, partial, total }: AuditPageProps): string {
  if (years.length === 0) return "What was charged, recovered and released in a year";
  if (total.vehicles === 0) return `Nothing is on record for ${year}`;
  const so_far = partial ? " so far" : "";
  return `${year}${so_far}: about ${estimatedKg(total.lost_g)} released, ${saidTotalCo2e(total.lost_co2e_kg)} of CO₂e`;
}

function Range({ total, without_record }: AuditPageProps) {
  if (total.vehicles === 0) return null;
  return (
    <div class="fleet-worth">
      <p>
        Charged <Charge>{kg(total.added_g)}</Charge>
        {total.first_charge_g > 0 && <>, of that {kg(total.first_charge_g)} as first charges</>}; recovered{" "}
        {kg(total.recovered_g)}. By mass balance <Release>{kg(total.net_added_g)}</Release> was replaced. The model
        estimates <Release>{estimatedKg(total.lost_g)}</Release> released, likely range {span(total)}.
      </p>
      {without_record > 0 && <p>{vehicles(without_record)} without an entry are not counted.</p>}
    </div>
  );
}

function Method({ model_version, gwp_name, gwp_source }: AuditPageProps) {
  return (
    <details class="on-paper">
      <summary>Method</summary>
      <p>
        Model version {model_version}. CO₂e with the warming potentials of {gwp_name}: {gwp_source}.
      </p>
      <p>
        Charged and recovered are what the charge logs have on record. A first charge is a log's first entry that fills
        at least nine tenths of nameplate; it replaces no loss on record. Mass balance is what was charged, without
        first charges, less what was recovered: it is what was released if the systems hold as much at the end of the
        year as at its start. Released is the model's estimate with its likely range, counted from the first entry of a
        log. In sums, errors of single vehicles nearly cancel; what is not known about a whole group, and about the
        model itself, adds up. <a href="/fleet/predictions">How well has it predicted?</a>
      </p>
      <p>
        The two rates of regulation (40 CFR 82.152 and 84.102) were made for stationary equipment. Annualizing takes the
        last addition over the days since the fill before it, at most 365: for a vehicle that is topped off more seldom
        than yearly it says too much. Rolling takes what was added within 365 days. A first charge that is on record as
        added counts as an addition there.
      </p>
    </details>
  );
}
