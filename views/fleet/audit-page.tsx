import type { LeakThreshold } from "../../data/leak-thresholds.ts";
import { lossInterval } from "../../src/core/fleet/audit.ts";
import type { AuditRow } from "../../src/core/fleet/row.ts";
import { pageNumber } from "../../src/core/quantities/number-text.ts";
import type { AssetUrl } from "../assets.ts";
import { SelectField } from "../parts/field.tsx";
import { Pager } from "../parts/pager.tsx";
import { TableHead } from "../parts/table-head.tsx";
import { saidMass, saidMassSpan } from "../words/numbers.ts";
import { Charge, Day, Facts, Release } from "../words/said.tsx";
import { FleetFrame } from "./frame.tsx";
import { type MoneyAndUnits, vehiclePath, vehicles } from "./shown.ts";

/** Several vehicles together. */
export interface AuditSum {
  name: string;
  vehicles: number;
  nameplate_g: number;
  added_g: number;
  recovered_g: number;
  lost_g: number;
  lost_sd_g: number;
}

/** A vehicle with a large charge, held against the rule for such. */
export interface Flagged {
  row: AuditRow;
  rule: LeakThreshold;
  over_limit: boolean;
  chronic: boolean;
}

export interface AuditPageProps {
  year: number;
  years: readonly number[];
  /** Whether the year is not over. */
  partial: boolean;
  rows: readonly AuditRow[];
  page: number;
  pages: number;
  groups: readonly AuditSum[];
  total: AuditSum;
  flagged: readonly Flagged[];
  rules: readonly LeakThreshold[];
  address: (page: number) => string;
  csv: string;
  manner: MoneyAndUnits;
  asset: AssetUrl;
}

/** `/fleet/audit`: a year's refrigerant by vehicle and group. */
export function AuditPage(props: AuditPageProps) {
  const { year, years, total, asset } = props;
  return (
    <FleetFrame title={`Refrigerant in ${year}`} path="/fleet/audit" asset={asset}>
      <p class="page-name">Yearly audit</p>
      <h1 class="page-title">{finding(props)}</h1>
      {years.length === 0 ? (
        <p>
          No year is calculated yet. <a href="/fleet">Calculate the fleet first</a>
        </p>
      ) : (
        <>
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
          <LargeCharges {...props} />
          {total.vehicles > 0 && <Groups {...props} />}
          {total.vehicles > 0 && <Vehicles {...props} />}
          <Terms />
        </>
      )}
    </FleetFrame>
  );
}

function finding({ year, years, partial, total, manner }: AuditPageProps): string {
  if (years.length === 0) return "What was added, recovered and lost in a year";
  if (total.vehicles === 0) return `Nothing is on record for ${year}`;
  const so_far = partial ? " so far" : "";
  return `${year}${so_far}: ${saidMass(total.added_g, manner.units)} added, ${saidMass(total.recovered_g, manner.units)} recovered, about ${saidMass(total.lost_g, manner.units)} lost`;
}

function Range({ lost_g, lost_sd_g, manner }: { lost_g: number; lost_sd_g: number; manner: MoneyAndUnits }) {
  const { p05_g, p95_g } = lossInterval(lost_g, lost_sd_g);
  const best = saidMass(lost_g, manner.units);
  const span = saidMassSpan(p05_g, p95_g, manner.units);
  // Below the best estimate its unit is clear.
  const unit = best.slice(best.lastIndexOf("\u00a0"));
  const range = span.endsWith(unit) ? span.slice(0, -unit.length) : span;
  return (
    <>
      <Release>{best}</Release>
      {/* Many vehicles' errors nearly cancel. */}
      {saidMass(p05_g, manner.units) !== saidMass(p95_g, manner.units) && <small>{range}</small>}
    </>
  );
}

function LargeCharges({ flagged, rules, year }: AuditPageProps) {
  const wrong = flagged.filter(({ over_limit, chronic }) => over_limit || chronic);
  const finding =
    flagged.length === 0
      ? "No charge is large enough for a leak-rate limit"
      : wrong.length === 0
        ? `${vehicles(flagged.length)} with a large charge; none over the limit in ${year}`
        : `${vehicles(wrong.length)} of ${flagged.length} with a large charge ${wrong.length === 1 ? "is" : "are"} over the limit in ${year}`;
  return (
    <section class="fleet-report">
      <h2 class="visually-hidden">Large charges</h2>
      {flagged.length > 0 && <p>{finding}.</p>}
      {wrong.length > 0 && (
        <ul>
          {wrong.map(({ row, rule, chronic }) => (
            <li>
              <a href={vehiclePath(row.id)} dir="auto">
                {row.label}
              </a>
              :{" "}
              <span class="fleet-flag">
                {percent(Math.max(row.annualizing_percent ?? 0, row.rolling_percent ?? 0))} a year
              </span>
              , limit {rule.limit_percent}%
              {chronic &&
                "; more added in the year than one and a quarter full charges: leaking chronically, to be reported"}
            </li>
          ))}
        </ul>
      )}
      <details class="numbers">
        <summary>{flagged.length > 0 ? "The rules" : finding}</summary>
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

function Groups({ groups, total, manner }: AuditPageProps) {
  const row = (sum: AuditSum) => (
    <tr>
      <th scope="row" dir="auto">
        {sum.name}
      </th>
      <td class="figure-cell" data-heading="Vehicles">
        {pageNumber(sum.vehicles)}
      </td>
      <td class="figure-cell" data-heading="Charge">
        <Charge>{saidMass(sum.nameplate_g, manner.units)}</Charge>
      </td>
      <td class="figure-cell" data-heading="Added">
        <Charge>{saidMass(sum.added_g, manner.units)}</Charge>
      </td>
      <td class="figure-cell" data-heading="Recovered">
        <Charge>{saidMass(sum.recovered_g, manner.units)}</Charge>
      </td>
      <td class="figure-cell" data-heading="Lost">
        <Range {...sum} manner={manner} />
      </td>
    </tr>
  );
  return (
    <section class="fleet-report">
      <h2 class="visually-hidden">By group</h2>
      <section class="table-scroll" aria-label="By group" tabindex={0}>
        <table class="fleet-list">
          <TableHead words={["Group"]} figures={["Vehicles", "Charge", "Added", "Recovered", "Lost"]} />
          <tbody>{groups.map((sum) => row(sum))}</tbody>
          <tfoot>{row(total)}</tfoot>
        </table>
      </section>
    </section>
  );
}

function Vehicles({ rows, page, pages, address, csv, manner }: AuditPageProps) {
  return (
    <section class="fleet-report">
      <h2 class="visually-hidden">By vehicle</h2>
      <section class="table-scroll" aria-label="By vehicle" tabindex={0}>
        <table class="fleet-list">
          <TableHead
            words={["Vehicle"]}
            figures={["Added", "Recovered", "Lost", "Model rate", "Annualizing rate", "Rolling rate"]}
          />
          <tbody>
            {rows.map((row) => (
              <tr>
                <th scope="row">
                  <a href={vehiclePath(row.id)} dir="auto">
                    {row.label}
                  </a>
                  <small>
                    <Facts of={[row.refrigerant, row.fleet_group]} />
                  </small>
                </th>
                <td class="figure-cell" data-heading="Added">
                  {row.added_g === 0 ? "0" : saidMass(row.added_g, manner.units)}
                </td>
                <td class="figure-cell" data-heading="Recovered">
                  {row.recovered_g === 0 ? "0" : saidMass(row.recovered_g, manner.units)}
                </td>
                <td class="figure-cell" data-heading="Lost">
                  <Range {...row} manner={manner} />
                </td>
                <td class="figure-cell" data-heading="Model rate">
                  {row.span_years > 0.05 ? percent((100 * row.lost_g) / row.nameplate_g / row.span_years) : "—"}
                </td>
                <td class="figure-cell" data-heading="Annualizing rate">
                  {row.annualizing_percent === null ? "—" : percent(row.annualizing_percent)}
                </td>
                <td class="figure-cell" data-heading="Rolling rate">
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
    </section>
  );
}

function percent(value: number): string {
  return `${value < 10 ? Number(value.toPrecision(2)) : Math.round(value)}%`;
}

function Terms() {
  return (
    <details class="numbers">
      <summary>Columns</summary>
      <p>
        Added and recovered are what the charge logs have on record. Lost is the model's estimate with its likely range,
        and the rates are shares of the nameplate charge a year, counted from the first entry of a log; sums take the
        vehicles' errors as independent. The two rates of regulation (40 CFR 82.152 and 84.102) were made for stationary
        equipment. Annualizing takes the last addition over the days since the fill before it, at most 365: for a
        vehicle that is topped off more seldom than yearly it says too much. Rolling takes what was added within 365
        days. A first charge that is on record as added counts as an addition.
      </p>
    </details>
  );
}
