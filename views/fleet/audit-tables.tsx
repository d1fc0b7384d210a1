import { pageNumber } from "../../src/core/quantities/number-text.ts";
import { FigureCell } from "../parts/figure-cell.tsx";
import { Pager } from "../parts/pager.tsx";
import { TableHead } from "../parts/table-head.tsx";
import { vehiclePath } from "../vehicles/record/record.ts";
import { Charge, Facts, Release } from "../words/said.tsx";
import { type AuditPageProps, type AuditTotal, estimatedKg, kg, span } from "./audit-shown.ts";
import { saidTotalCo2e } from "./shown.ts";

/** A year by refrigerant, depot or group, with what it comes to in all. */
export function Sums({ name, sums, total }: { name: string; sums: readonly AuditTotal[]; total: AuditTotal }) {
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
      <FigureCell heading="Vehicles">{pageNumber(sum.vehicles)}</FigureCell>
      <FigureCell heading="Nameplate">{kg(sum.nameplate_g)}</FigureCell>
      <FigureCell heading="First charges">{kg(sum.first_charge_g)}</FigureCell>
      <FigureCell heading="Charged">
        <Charge>{kg(sum.added_g)}</Charge>
      </FigureCell>
      <FigureCell heading="Recovered">{kg(sum.recovered_g)}</FigureCell>
      <FigureCell heading="Mass balance">{kg(sum.net_added_g)}</FigureCell>
      <FigureCell heading="Released">
        <Release>{estimatedKg(sum.lost_g)}</Release>
        <small>{span(sum)}</small>
      </FigureCell>
      <FigureCell heading="CO₂e">
        <Release>{saidTotalCo2e(sum.lost_co2e_kg)}</Release>
      </FigureCell>
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

/** A year by vehicle, a page at a time. */
export function Vehicles({ rows, page, pages, address, csv }: AuditPageProps) {
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
                <FigureCell heading="Charged">
                  {kg(row.added_g)}
                  {row.first_charge_g > 0 && <small>first charge</small>}
                </FigureCell>
                <FigureCell heading="Recovered">{kg(row.recovered_g)}</FigureCell>
                <FigureCell heading="Released">
                  <Release>{estimatedKg(row.lost_g)}</Release>
                  <small>{span(row)}</small>
                </FigureCell>
                <FigureCell heading="Model, % a year">
                  {row.span_years > 0.05 ? percent((100 * row.lost_g) / row.nameplate_g / row.span_years) : "—"}
                </FigureCell>
                <FigureCell heading="Annualizing, % a year">
                  {row.annualizing_percent === null ? "—" : percent(row.annualizing_percent)}
                </FigureCell>
                <FigureCell heading="Rolling, % a year">
                  {row.rolling_percent === null ? "—" : percent(row.rolling_percent)}
                </FigureCell>
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
