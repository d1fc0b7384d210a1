import { type FleetPictures, monthsAhead, type ReleaseYear } from "../../src/core/fleet/pictures.ts";
import type { FleetTotals } from "../../src/core/fleet/row.ts";
import { dayNumber, isoFromDay } from "../../src/core/quantities/dates.ts";
import { pageNumber } from "../../src/core/quantities/number-text.ts";
import { GRAMS_PER_UNIT } from "../../src/core/quantities/units.ts";
import { ChartFigure } from "../parts/figure.tsx";
import { FigureCell } from "../parts/figure-cell.tsx";
import { ChartHead } from "../parts/table-head.tsx";
import { vehiclePath } from "../vehicles/record/record.ts";
import { saidMass } from "../words/numbers.ts";
import { Day } from "../words/said.tsx";
import { saidMonth } from "../words/times.ts";
import { type MoneyAndUnits, saidNumber, saidShare, saidTotal, saidTotalCo2e, vehicles } from "./shown.ts";

export interface PicturesProps {
  pictures: FleetPictures;
  years: readonly ReleaseYear[];
  /** Of the vehicles in the pictures. */
  labels: ReadonlyMap<string, string>;
  totals: FleetTotals;
  today: string;
  /** The address of the table with those vehicles alone that are low from a day to a day; null is open. */
  lowAddress: (from: string | null, until: string | null) => string;
  manner: MoneyAndUnits;
}

/** Fewer are seen at a glance in the table. */
const FEWEST = 3;

/** The fleet at a glance: three figures, then four pictures, of the vehicles that the filters leave. */
export function Pictures(props: PicturesProps) {
  const { pictures } = props;
  if (pictures.vehicles === 0) return null;
  return (
    <>
      <Figures {...props} />
      {pictures.vehicles >= FEWEST && (
        <section class="fleet-pictures" aria-labelledby="pictures">
          <h2 class="visually-hidden" id="pictures">
            In pictures
          </h2>
          <Leaks {...props} />
          <Ranks {...props} />
          <Months {...props} />
          <Years {...props} />
        </section>
      )}
    </>
  );
}

function Figures({ pictures, totals, lowAddress, manner }: PicturesProps) {
  const saved = totals.cost_as_is - totals.cost_best;
  const avoided = totals.co2e_as_is_kg - totals.co2e_best_kg;
  const { until, vehicles: low } = pictures.low_soon;
  return (
    <dl class="fleet-figures">
      <div>
        <dt>{saved < 0 ? "more to spend" : "saved"} by following every answer</dt>
        <dd class="money">{saidTotal(Math.abs(saved), manner)} a year</dd>
      </div>
      <div>
        <dt>{avoided < 0 ? "more than" : "less than"} topping off</dt>
        <dd class="release">{saidTotalCo2e(Math.abs(avoided))} CO₂e a year</dd>
      </div>
      <div>
        <dt>
          low now or by <Day iso={until} />
        </dt>
        <dd class="charge">
          <a href={lowAddress(null, until)}>{vehicles(low)}</a>
        </dd>
      </div>
    </dl>
  );
}

function Leaks({ pictures, labels }: PicturesProps) {
  const { leaks, groups } = pictures;
  const fastest = leaks.reduce((most, one) => (one.leak_share > most.leak_share ? one : most));
  const others = groups.length > 1 ? "Other vehicles" : "All vehicles";
  const some = leaks.length < pictures.vehicles;
  return (
    <ChartFigure
      id="leak-by-group"
      kind="leak-by-group"
      title={`${labels.get(fastest.id)} leaks fastest: ${saidShare(fastest.leak_share)} of its charge a year`}
      summary={
        some
          ? `${saidNumber(leaks.length)} of ${vehicles(pictures.vehicles)}: the fastest of each group, and an even sample.`
          : "Each vehicle's best estimate."
      }
      shape={groups.length > 6 ? "tall" : "wide"}
      chartKey={[
        { label: "has entries", meaning: "charge", sign: "dot" },
        { label: "no entries", meaning: "charge", sign: "ring" },
      ]}
    >
      <ChartHead
        words={{ vehicle: "Vehicle", group: "Group" }}
        figures={{ leak: "Leak a year, of the charge", log: "Entries" }}
      />
      <tbody>
        {leaks.map(({ id, fleet_group, leak_share, no_entries }) => (
          <tr data-kind={no_entries ? "no-entries" : "logged"}>
            <VehicleName id={id} label={labels.get(id)} />
            <td dir="auto">{fleet_group ?? others}</td>
            <FigureCell value={leak_share}>{saidShare(leak_share)}</FigureCell>
            <td class="figure-cell">{no_entries ? "none" : "yes"}</td>
          </tr>
        ))}
      </tbody>
    </ChartFigure>
  );
}

function Ranks({ pictures, labels, manner }: PicturesProps) {
  const { ranks, half, vehicles: count } = pictures;
  if (ranks.length === 0) return null;
  return (
    <ChartFigure
      id="release-by-rank"
      kind="release-by-rank"
      title={`${saidNumber(half)} of ${vehicles(count)} ${half === 1 ? "releases" : "release"} half of all refrigerant`}
      summary="Share of all release, topping off, by rank."
      settings={{ "data-half": half }}
    >
      <ChartHead
        words={{ vehicle: "Vehicle" }}
        figures={{ rank: "Rank", release: "Releases a year", share: "Share so far" }}
      />
      <tbody>
        {ranks.map(({ rank, id, release_g, share }) => (
          <tr data-kind="vehicle">
            <VehicleName id={id} label={labels.get(id)} />
            <FigureCell value={rank}>{saidNumber(rank)}</FigureCell>
            <FigureCell value={release_g}>{saidMass(release_g, manner.units)}</FigureCell>
            <FigureCell value={share}>{saidShare(share)}</FigureCell>
          </tr>
        ))}
      </tbody>
    </ChartFigure>
  );
}

function Months({ pictures, today, lowAddress }: PicturesProps) {
  const { now, months, later } = pictures.low;
  const days = monthsAhead(today);
  const most = months.reduce((best, one) => (one.vehicles > best.vehicles ? one : best));
  const next = most.vehicles > 0 ? `most next in ${saidMonth(`${most.month}-01`)}` : "none more within a year";
  const row = (kind: string, name: string, short: string, href: string, count: number) => (
    <tr data-kind={kind}>
      <th scope="row" data-short={short}>
        <a href={href}>{name}</a>
      </th>
      <FigureCell value={count}>{saidNumber(count)}</FigureCell>
    </tr>
  );
  return (
    <ChartFigure
      id="low-by-month"
      kind="low-by-month"
      title={`${now === 0 ? "None" : vehicles(now)} low now, ${next}`}
      summary="By the likeliest month."
    >
      <ChartHead words={{ month: "Low" }} figures={{ vehicles: "Vehicles" }} />
      <tbody>
        {row("now", "Now", "now", lowAddress(null, today), now)}
        {months.map(({ month, vehicles: count }, i) => {
          const name = saidMonth(`${month}-01`);
          const from = i === 0 ? daysAfter(today, 1) : days[i]!;
          return row("month", name, name.slice(0, 3), lowAddress(from, daysAfter(days[i + 1]!, -1)), count);
        })}
        {row("later", "Later", "later", lowAddress(days.at(-1)!, null), later)}
      </tbody>
    </ChartFigure>
  );
}

function Years({ years, manner, today }: PicturesProps) {
  const this_year = Number(today.slice(0, 4));
  const last = years.findLast(({ year }) => year < this_year) ?? years.at(-1);
  if (last === undefined) return null;
  const unit = manner.units === "metric" ? "kg" : "lb";
  const amount = (grams: number) => grams / GRAMS_PER_UNIT[unit];
  const said = (grams: number) => `${pageNumber(Number(amount(grams).toPrecision(3)))}\u00a0${unit}`;
  const cell = (grams: number) => <FigureCell value={amount(grams)}>{said(grams)}</FigureCell>;
  return (
    <ChartFigure
      id="added-lost"
      kind="added-lost"
      title={`${last.year}: ${said(last.added_g)} added, about ${said(last.lost_g)} lost`}
      summary={`${this_year} so far.`}
      settings={{ "data-unit": unit }}
      chartKey={[
        { label: "added", meaning: "charge", sign: "bar" },
        { label: "lost, estimated", meaning: "release", sign: "outline" },
      ]}
    >
      <ChartHead words={{ year: "Year" }} figures={{ added: "Added", lost: "Lost" }} />
      <tbody>
        {years.map(({ year, added_g, lost_g }) => (
          <tr data-kind="year">
            <th scope="row" data-short={`’${String(year).slice(2)}`}>
              <a href={`/fleet/audit?year=${year}`}>{year}</a>
            </th>
            {cell(added_g)}
            {cell(lost_g)}
          </tr>
        ))}
      </tbody>
    </ChartFigure>
  );
}

function daysAfter(iso: string, days: number): string {
  return isoFromDay(dayNumber(iso) + days);
}

function VehicleName({ id, label }: { id: string; label: string | undefined }) {
  return (
    <th scope="row">
      <a href={vehiclePath(id)} dir="auto">
        {label}
      </a>
    </th>
  );
}
