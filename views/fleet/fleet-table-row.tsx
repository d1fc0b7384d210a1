import { type AgesKnown, type FleetRow, type ReckonedRow, watchDateAhead } from "../../src/core/fleet/row.ts";
import { formatDate, formatShortMonth } from "../../src/core/quantities/dates.ts";
import { distanceIn, distanceUnitIn } from "../../src/core/quantities/distance.ts";
import { FigureCell } from "../parts/figure-cell.tsx";
import { vehiclePath } from "../vehicles/record/record.ts";
import { answerWords } from "../words/answer-words.ts";
import { saidNextLow } from "../words/estimates.ts";
import { estimated, massFigure } from "../words/numbers.ts";
import { Money, Release } from "../words/said.tsx";
import { type MoneyAndUnits, saidNumber, saidShare, saidSum } from "./shown.ts";

/** One vehicle of the fleet's table. */

interface RowProps {
  row: FleetRow;
  manner: MoneyAndUnits;
  ages: AgesKnown;
  /** How many cells the answer takes. */
  answer_cells: number;
  ticked: boolean;
  /** Whether all are selected, so that none can be unticked. */
  fixed: boolean;
}

/** A vehicle with its answer, or that it has none yet. */
export function FleetTableRow({ row, manner, ages, answer_cells, ticked, fixed }: RowProps) {
  const { id, label, fleet_group, depot, model_year, odometer, reckoned } = row;
  const { units } = manner;
  return (
    <tr>
      <td class="fleet-tick">
        <input type="checkbox" name="v" value={id} aria-label={`Select ${label}`} checked={ticked} disabled={fixed} />
      </td>
      <th scope="row">
        <a href={vehiclePath(id)} dir="auto">
          {label}
        </a>
      </th>
      <td dir="auto" class="fleet-whose">
        {fleet_group}
      </td>
      <td dir="auto" class="fleet-whose">
        {depot}
      </td>
      {reckoned === null ? (
        <td colspan={answer_cells}>Not calculated yet</td>
      ) : (
        <Cells reckoned={reckoned} manner={manner} />
      )}
      {ages.model_year && <FigureCell heading="Model year">{model_year}</FigureCell>}
      {ages.odometer && (
        <td class="figure-cell fleet-far" data-heading="Odometer" data-unit={distanceUnitIn(units)}>
          {odometer !== null && (
            <span title={`read on ${formatDate(odometer.on)}`}>
              {saidNumber(Math.round(distanceIn(odometer.km, distanceUnitIn(units))))}
            </span>
          )}
        </td>
      )}
    </tr>
  );
}

function Cells({ reckoned, manner }: { reckoned: ReckonedRow; manner: MoneyAndUnits }) {
  const { answer, cost_as_is, cost_best, release_as_is_g, release_best_g } = reckoned;
  const saved = estimated(cost_as_is - cost_best);
  const unit = manner.units === "metric" ? "g" : "oz";
  const amount = (grams: number) => massFigure(grams, manner.units);
  const less_g = release_as_is_g - release_best_g;
  const low = saidNextLow(answer);
  const watch = watchDateAhead(reckoned);
  return (
    <>
      <td class="fleet-what" data-heading="What to do">
        {answerWords(answer)}
        <DespiteCost reckoned={reckoned} />
      </td>
      <FigureCell heading="Saves">{saved !== 0 && <Money>{saidSum(saved, manner)}</Money>}</FigureCell>
      <FigureCell heading="Less release" unit={unit}>
        {amount(less_g) !== "0" && <Release>{amount(less_g)}</Release>}
      </FigureCell>
      <FigureCell heading="Leak a year" unit={unit}>
        {reckoned.no_entries && (
          <span role="img" aria-label="no entries">
            ○{" "}
          </span>
        )}
        {amount(reckoned.leak_g_per_year)}
      </FigureCell>
      <FigureCell heading="Of charge">{saidShare(reckoned.leak_share)}</FigureCell>
      <FigureCell heading="Charge now">{saidCharge(reckoned.charge_share)}</FigureCell>
      <td data-heading="Low again" class={low.low_now ? "fleet-when" : undefined}>
        {low.low_now ? (
          <strong>Low now</strong>
        ) : low.date === null ? (
          "not within 20 years"
        ) : (
          <time datetime={low.date}>{formatShortMonth(low.date)}</time>
        )}
      </td>
      <td data-heading="Watch">{watch !== null && <time datetime={watch}>{formatShortMonth(watch)}</time>}</td>
    </>
  );
}

/** What is in it, of a full charge, in whole percent: `62%`, `<1%`. */
function saidCharge(share: number): string {
  const percent = Math.round(100 * Math.min(1, share));
  return percent === 0 && share > 0 ? "<1%" : `${percent}%`;
}

/** Why it is repaired although topping off for ever would cost less. */
function DespiteCost({ reckoned: { answer, verdict, cost_best, cost_as_is } }: { reckoned: ReckonedRow }) {
  if (verdict !== "repair" || cost_best <= cost_as_is) return null;
  const { guard } = answer.verdict;
  const offered = answer.options.some(({ id, offered }) => id === "top-off" && offered);
  const why =
    guard === "floor"
      ? "too leaky to top off"
      : guard === "empty"
        ? "no pressure left"
        : offered
          ? "less release"
          : "topping off is not allowed";
  return <small>: {why}</small>;
}
