import type { LeakThreshold } from "../../data/leak-thresholds.ts";
import { type AuditSum, lossInterval } from "../../src/core/fleet/audit.ts";
import type { ClosedYear, Correction } from "../../src/core/fleet/closing.ts";
import type { AuditRow } from "../../src/core/fleet/row.ts";
import { pageNumber } from "../../src/core/quantities/number-text.ts";
import { Fold } from "../answer/fold.tsx";
import type { AssetUrl } from "../assets.ts";
import { Confirm } from "../parts/confirm.tsx";
import { SelectField } from "../parts/field.tsx";
import { Pager } from "../parts/pager.tsx";
import { TableHead } from "../parts/table-head.tsx";
import { Charge, Day, Facts, Release } from "../words/said.tsx";
import { FleetFrame } from "./frame.tsx";
import { saidTotalCo2e, vehiclePath, vehicles } from "./shown.ts";

/** Several vehicles together. */
export interface AuditTotal extends AuditSum {
  name: string;
  vehicles: number;
  nameplate_g: number;
  lost_co2e_kg: number;
  net_co2e_kg: number;
}

/** A vehicle with a large charge, held against the rule for such. */
export interface Flagged {
  row: AuditRow;
  rule: LeakThreshold;
}

export interface AuditPageProps {
  year: number;
  years: readonly number[];
  /** Whether the year is not over. */
  partial: boolean;
  rows: readonly AuditRow[];
  page: number;
  pages: number;
  total: AuditTotal;
  by: readonly { name: string; sums: readonly AuditTotal[] }[];
  /** Vehicles in use without an entry up to then. */
  without_record: number;
  flagged: readonly Flagged[];
  rules: readonly LeakThreshold[];
  /** The closing that stands, and all of this year, the latest first. */
  closed: ClosedYear | null;
  closings: readonly ClosedYear[];
  /** Of a closed year: what it is calculated to now, and whose records changed since. */
  now: AuditTotal | null;
  corrections: readonly Correction[];
  model_version: string;
  gwp_name: string;
  gwp_source: string;
  overtaken: boolean;
  address: (page: number) => string;
  csv: string;
  may_edit: boolean;
  asset: AssetUrl;
}

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

/** Kilograms as an auditor reads them: to the gram below a kilogram, to 10 g below 100 kg. */
function kg(grams: number): string {
  const size = Math.abs(grams) / 1000;
  const digits = size >= 100 ? 1 : size >= 1 ? 2 : 3;
  return `${grams < 0 ? "−" : ""}${pageNumber(Number(size.toFixed(digits)))}\u00a0kg`;
}

/** An estimate, no finer than it is known. */
function estimatedKg(grams: number): string {
  return `${pageNumber(Number((grams / 1000).toPrecision(3)))}\u00a0kg`;
}

function span({ lost_g, lost_sd_g }: Pick<AuditSum, "lost_g" | "lost_sd_g">): string {
  const { p05_g, p95_g } = lossInterval(lost_g, lost_sd_g);
  return `${estimatedKg(p05_g)} to ${estimatedKg(p95_g)}`;
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

function Closing(props: AuditPageProps) {
  const { year, partial, total, closed, closings, now, corrections, may_edit } = props;
  const last = closings[0]?.number ?? 0;
  const fields = { year, version: last };
  const before = closings.filter(({ number }) => number !== closed?.number);
  return (
    <section class="fleet-report">
      {closed === null ? (
        !partial &&
        total.vehicles > 0 &&
        may_edit && (
          <Confirm
            name={`Close ${year}`}
            question="The figures are kept as they are now. Later corrections are shown beside them."
            action="/fleet/audit/closing"
            fields={fields}
          />
        )
      ) : (
        <>
          <p>
            Closed on <Day iso={closed.closed_at.slice(0, 10)} /> by {closed.closed_by}: these figures stay.
          </p>
          {now !== null && (corrections.length > 0 || Math.abs(now.lost_g - total.lost_g) > 0.005 * total.lost_g) && (
            <Fold
              id="corrections"
              title={
                corrections.length === 0
                  ? "The estimate has changed since"
                  : `Records of ${vehicles(corrections.length)} changed since`
              }
            >
              <p>
                Calculated now: {kg(now.added_g)} charged ({change(now.added_g - total.added_g)}), {kg(now.recovered_g)}{" "}
                recovered ({change(now.recovered_g - total.recovered_g)}), about {estimatedKg(now.lost_g)} released (
                {change(now.lost_g - total.lost_g)}).
              </p>
              {corrections.length > 0 && <Corrections corrections={corrections} />}
            </Fold>
          )}
          {may_edit && (
            <div class="actions fleet-below">
              {corrections.length > 0 && (
                <Confirm
                  name="Close again with the corrections"
                  question="Today's figures are reported from now on. The earlier closing is kept."
                  action="/fleet/audit/closing"
                  fields={fields}
                />
              )}
              <Confirm
                name={`Reopen ${year}`}
                question="The page shows today's figures again. What was closed is kept."
                action="/fleet/audit/reopening"
                fields={fields}
              />
            </div>
          )}
        </>
      )}
      {before.map((one) => (
        <p>
          Closing {one.number} of <Day iso={one.closed_at.slice(0, 10)} />
          {one.reopened_at !== null ? (
            <>
              , reopened on <Day iso={one.reopened_at.slice(0, 10)} />
            </>
          ) : (
            ", replaced by a later one"
          )}
          .
        </p>
      ))}
    </section>
  );
}

function change(grams: number): string {
  return grams < 0 ? kg(grams) : `+${kg(grams)}`;
}

function Corrections({ corrections }: Pick<AuditPageProps, "corrections">) {
  return (
    <section class="table-scroll" aria-label="Changed since" tabindex={0}>
      <table class="fleet-list">
        <TableHead words={["Vehicle", "What"]} figures={["Charged then", "now", "Recovered then", "now"]} />
        <tbody>
          {corrections.map(({ label, what, charged, recovered }) => (
            <tr>
              <th scope="row" dir="auto">
                {label}
              </th>
              <td data-heading="What">
                {what === "changed" ? "other amounts" : what === "added" ? "new" : "not there now"}
              </td>
              <td class="figure-cell" data-heading="Charged then">
                {kg(charged.then_g)}
              </td>
              <td class="figure-cell" data-heading="Charged now">
                {kg(charged.now_g)}
              </td>
              <td class="figure-cell" data-heading="Recovered then">
                {kg(recovered.then_g)}
              </td>
              <td class="figure-cell" data-heading="Recovered now">
                {kg(recovered.now_g)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function LargeCharges({ flagged, rules, year }: AuditPageProps) {
  const passed = flagged.filter(({ row }) => row.over_limit_on !== null || row.chronic_on !== null);
  return (
    <section class="fleet-report">
      <h2>Large charges</h2>
      <p>
        {flagged.length === 0
          ? `No vehicle in ${year} is large enough for a leak-rate limit.`
          : passed.length === 0
            ? `${vehicles(flagged.length)} with a large charge; none over the limit in ${year}.`
            : `${vehicles(passed.length)} of ${flagged.length} with a large charge went over the limit in ${year}.`}
      </p>
      {passed.length > 0 && (
        <ul>
          {passed.map(({ row, rule }) => (
            <li>
              <a href={vehiclePath(row.id)} dir="auto">
                {row.label}
              </a>
              :{" "}
              {row.over_limit_on !== null && (
                <span class="fleet-flag">
                  over {rule.limit_percent}% a year on <Day iso={row.over_limit_on} />
                </span>
              )}
              {row.chronic_on !== null && (
                <>
                  ; leaking chronically since <Day iso={row.chronic_on} />, to be reported
                </>
              )}{" "}
              ({rule.citation})
            </li>
          ))}
        </ul>
      )}
      <details class="numbers">
        <summary>The rules</summary>
        <dl>
          {rules.map((rule) => (
            <>
              <dt>
                {rule.citation}, {rule.place}, since <Day iso={rule.from} />
              </dt>
              <dd>
                {rule.says} {rule.doubt} Checked on <Day iso={rule.checked} />.
              </dd>
            </>
          ))}
        </dl>
      </details>
    </section>
  );
}

function Sums({ name, sums, total }: { name: string; sums: readonly AuditTotal[]; total: AuditTotal }) {
  const figures = [
    "Vehicles",
    "Nameplate",
    "First charges",
    "Charged",
    "Recovered",
    "Mass balance",
    "Released",
    "CO₂e",
  ];
  const row = (sum: AuditTotal) => (
    <tr>
      <th scope="row" dir="auto">
        {sum.name}
      </th>
      <td class="figure-cell" data-heading="Vehicles">
        {pageNumber(sum.vehicles)}
      </td>
      <td class="figure-cell" data-heading="Nameplate">
        {kg(sum.nameplate_g)}
      </td>
      <td class="figure-cell" data-heading="First charges">
        {kg(sum.first_charge_g)}
      </td>
      <td class="figure-cell" data-heading="Charged">
        <Charge>{kg(sum.added_g)}</Charge>
      </td>
      <td class="figure-cell" data-heading="Recovered">
        {kg(sum.recovered_g)}
      </td>
      <td class="figure-cell" data-heading="Mass balance">
        {kg(sum.net_added_g)}
      </td>
      <td class="figure-cell" data-heading="Released">
        <Release>{estimatedKg(sum.lost_g)}</Release>
        <small>{span(sum)}</small>
      </td>
      <td class="figure-cell" data-heading="CO₂e">
        <Release>{saidTotalCo2e(sum.lost_co2e_kg)}</Release>
      </td>
    </tr>
  );
  return (
    <section class="table-scroll" aria-label={`By ${name.toLowerCase()}`} tabindex={0}>
      <table class="fleet-list">
        <TableHead words={[name]} figures={figures} />
        <tbody>{sums.map(row)}</tbody>
        <tfoot>{row(total)}</tfoot>
      </table>
    </section>
  );
}

function Vehicles({ rows, page, pages, address, csv }: AuditPageProps) {
  return (
    <>
      <section class="table-scroll" aria-label="By vehicle" tabindex={0}>
        <table class="fleet-list">
          <TableHead
            words={["Vehicle"]}
            figures={[
              ...["Charged", "Recovered", "Released", "Model, % a year"],
              ...["Annualizing, % a year", "Rolling, % a year"],
            ]}
          />
          <tbody>
            {rows.map((row) => (
              <tr>
                <th scope="row">
                  <a href={vehiclePath(row.id)} dir="auto">
                    {row.label}
                  </a>
                  <small>
                    <Facts of={[row.refrigerant, row.fleet_group, row.depot]} />
                  </small>
                </th>
                <td class="figure-cell" data-heading="Charged">
                  {kg(row.added_g)}
                  {row.first_charge_g > 0 && <small>first charge</small>}
                </td>
                <td class="figure-cell" data-heading="Recovered">
                  {kg(row.recovered_g)}
                </td>
                <td class="figure-cell" data-heading="Released">
                  <Release>{estimatedKg(row.lost_g)}</Release>
                  <small>{span(row)}</small>
                </td>
                <td class="figure-cell" data-heading="Model, % a year">
                  {row.span_years > 0.05 ? percent((100 * row.lost_g) / row.nameplate_g / row.span_years) : "—"}
                </td>
                <td class="figure-cell" data-heading="Annualizing, % a year">
                  {row.annualizing_percent === null ? "—" : percent(row.annualizing_percent)}
                </td>
                <td class="figure-cell" data-heading="Rolling, % a year">
                  {row.rolling_percent === null ? "—" : percent(row.rolling_percent)}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <div class="actions fleet-below">
        <a href={csv}>Export as CSV</a>
        <Pager page={page} pages={pages} address={address} />
      </div>
    </>
  );
}

function percent(value: number): string {
  return `${value < 10 ? Number(value.toPrecision(2)) : Math.round(value)}%`;
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
        model itself, adds up.
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
