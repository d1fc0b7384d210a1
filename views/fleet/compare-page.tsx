import type { Child } from "hono/jsx";
import { type FleetRow, leakOf_g, type ReckonedRow, watchDateAhead } from "../../src/core/fleet/row.ts";
import { formatMonth } from "../../src/core/quantities/dates.ts";
import { GRAMS_PER_OUNCE } from "../../src/core/quantities/units.ts";
import type { AssetUrl } from "../assets.ts";
import { ChartFigure } from "../parts/figure.tsx";
import { FigureCell } from "../parts/figure-cell.tsx";
import { PricesUsedLine } from "../parts/prices-used.tsx";
import { ChartHead } from "../parts/table-head.tsx";
import { vehiclePath } from "../vehicles/record/record.ts";
import { answerWords } from "../words/answer-words.ts";
import { saidChargeNow, saidLeak } from "../words/estimates.ts";
import { inSentence } from "../words/in-sentence.ts";
import { LowAgain } from "../words/low-again.tsx";
import { saidChance, saidExactMass, saidMass, saidOdometer, saidPercent } from "../words/numbers.ts";
import { OPTION_NAMES } from "../words/places.ts";
import { Charge, Money, Release } from "../words/said.tsx";
import { FleetFrame } from "./frame.tsx";
import { type MoneyAndUnits, saidSum } from "./shown.ts";

export interface ComparePageProps {
  rows: readonly FleetRow[];
  /** More were asked for than fit beside each other. */
  cut: boolean;
  manner: MoneyAndUnits;
  asset: AssetUrl;
}

type Reckoned = FleetRow & { reckoned: ReckonedRow };

/** `/fleet/compare`: up to six vehicles side by side. */
export function ComparePage({ rows, cut, manner, asset }: ComparePageProps) {
  const reckoned = rows.filter((row): row is Reckoned => row.reckoned !== null);
  return (
    <FleetFrame title="Vehicles side by side" path="/fleet/compare" asset={asset} charts>
      <p class="page-name">Side by side</p>
      <h1 class="page-title">{finding(reckoned, manner)}</h1>
      {cut && <p>Six fit beside each other; the first six that were ticked are shown.</p>}
      {reckoned.length === 0 ? (
        <p>
          Tick vehicles in the <a href="/fleet">table of the fleet</a>, then press Compare.
        </p>
      ) : (
        <>
          <Matrix rows={reckoned} manner={manner} />
          <section class="fleet-report">
            <h2>Leak and cost</h2>
            <Leaks rows={reckoned} manner={manner} />
            <Costs rows={reckoned} manner={manner} />
            <PricesUsedLine prices={manner.prices} />
          </section>
        </>
      )}
    </FleetFrame>
  );
}

/** The common action where all vehicles have the same; else which must not be topped off; else which gains most. */
function finding(rows: readonly Reckoned[], manner: MoneyAndUnits): string {
  const [first] = rows;
  if (first === undefined) return "No vehicle to compare";
  const answers = new Set(rows.map(({ reckoned }) => answerWords(reckoned.answer)));
  if (answers.size === 1) {
    const who = rows.length === 1 ? first.label : rows.length === 2 ? "Both vehicles" : `All ${rows.length} vehicles`;
    return `${who}: ${inSentence([...answers][0]!)}`;
  }
  const too_fast = rows.filter(({ reckoned }) => reckoned.answer.verdict.guard === "floor").length;
  if (too_fast > 0) {
    return `${too_fast} of ${rows.length} ${too_fast === 1 ? "leaks" : "leak"} too fast to be topped off again`;
  }
  const gain = ({ reckoned }: Reckoned) => reckoned.cost_as_is - reckoned.cost_best;
  const best = rows.reduce((most, row) => (gain(row) > gain(most) ? row : most));
  if (gain(best) < 1) return "Topping off is the cheapest for all of them";
  return `${best.label} gains most: about ${saidSum(gain(best), manner)} a year by ${OPTION_NAMES[best.reckoned.verdict as keyof typeof OPTION_NAMES].doing}`;
}

function Matrix({ rows, manner }: { rows: readonly Reckoned[]; manner: MoneyAndUnits }) {
  const mass = (grams: number) => saidMass(grams, manner.units);
  const line = (heading: string, cell: (row: Reckoned) => Child) => (
    <tr>
      <th scope="row">{heading}</th>
      {rows.map((row) => (
        <td>{cell(row)}</td>
      ))}
    </tr>
  );
  return (
    <section class="table-scroll" aria-label="Vehicles side by side" tabindex={0}>
      <table class="fleet-list fleet-matrix">
        <thead>
          <tr>
            <td />
            {rows.map(({ id, label, refrigerant, nameplate_g }) => (
              <th scope="col">
                <a href={vehiclePath(id)} dir="auto">
                  {label}
                </a>
                <small>
                  {refrigerant} · {saidExactMass(nameplate_g, manner.units)}
                </small>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {line("What to do", ({ reckoned }) => answerWords(reckoned.answer))}
          {line("Cheapest in", ({ reckoned }) => (reckoned.sure === null ? "—" : `${saidChance(reckoned.sure)} cases`))}
          {line("Leak a year", ({ reckoned, nameplate_g }) => {
            const leak = saidLeak(leakOf_g(reckoned.answer, nameplate_g), manner.units);
            return (
              <>
                <Charge>{leak.best}</Charge>
                <small>{leak.range}</small>
              </>
            );
          })}
          {line("Of the charge a year", ({ reckoned }) => saidPercent(reckoned.answer.leak_fraction.median))}
          {line("Charge now", ({ reckoned }) => (
            <Charge>{saidChargeNow(reckoned.answer.charge_now_g, manner.units).best}</Charge>
          ))}
          {line("Low again", ({ reckoned }) => (
            <LowAgain {...reckoned.answer} />
          ))}
          {line("Watch date", ({ reckoned }) => {
            const watch = watchDateAhead(reckoned);
            return watch === null ? "—" : <time datetime={watch}>{formatMonth(watch)}</time>;
          })}
          {line("Cost a year, topping off", ({ reckoned }) => (
            <Money>{saidSum(reckoned.cost_as_is, manner)}</Money>
          ))}
          {line("Cost a year, with the answer", ({ reckoned }) => (
            <Money>{saidSum(reckoned.cost_best, manner)}</Money>
          ))}
          {line("Release a year, topping off", ({ reckoned }) => (
            <Release>{mass(reckoned.release_as_is_g)}</Release>
          ))}
          {line("Release a year, with the answer", ({ reckoned }) => (
            <Release>{mass(reckoned.release_best_g)}</Release>
          ))}
          {line("From its own log", ({ reckoned, fleet_group }) => (
            <>
              {saidPercent(reckoned.own_share)}
              <small>{fleet_group === null ? "the rest from leaks in general" : `the rest from ${fleet_group}`}</small>
            </>
          ))}
          {line("Group", ({ fleet_group }) => fleet_group ?? "—")}
          {line("Depot", ({ depot }) => depot ?? "—")}
          {rows.some(({ model_year }) => model_year !== null) &&
            line("Model year", ({ model_year }) => model_year ?? "—")}
          {rows.some(({ odometer }) => odometer !== null) &&
            line("Odometer", ({ odometer }) => (odometer === null ? "—" : saidOdometer(odometer, manner.units)))}
        </tbody>
      </table>
    </section>
  );
}

function Leaks({ rows, manner }: { rows: readonly Reckoned[]; manner: MoneyAndUnits }) {
  const unit = manner.units === "metric" ? "g" : "oz";
  const inUnit = (grams: number) => (manner.units === "metric" ? grams : grams / GRAMS_PER_OUNCE);
  const fastest = rows.reduce((most, row) =>
    row.reckoned.leak_g_per_year > most.reckoned.leak_g_per_year ? row : most,
  );
  const cell = (grams: number) => <FigureCell value={inUnit(grams)}>{saidMass(grams, manner.units)}</FigureCell>;
  return (
    <ChartFigure
      id="fleet-leaks"
      kind="fleet-leaks"
      title={`${fastest.label} leaks most: about ${saidMass(fastest.reckoned.leak_g_per_year, manner.units)} a year`}
      summary="The best estimate and likely range of each vehicle's leak. Where ranges overlap, the logs can't yet tell which leaks more."
      shape="bars"
      settings={{ "data-unit": unit }}
    >
      <ChartHead words={{ vehicle: "Vehicle" }} figures={{ low: "From", median: "Middle", high: "To" }} />
      <tbody>
        {rows.map(({ label, nameplate_g, reckoned }) => (
          <tr data-kind="vehicle">
            <th scope="row">{label}</th>
            {cell(reckoned.answer.leak_fraction.p05 * nameplate_g)}
            {cell(reckoned.leak_g_per_year)}
            {cell(reckoned.answer.leak_fraction.p95 * nameplate_g)}
          </tr>
        ))}
      </tbody>
    </ChartFigure>
  );
}

function Costs({ rows, manner }: { rows: readonly Reckoned[]; manner: MoneyAndUnits }) {
  const dearest = rows.reduce((most, row) => (row.reckoned.cost_as_is > most.reckoned.cost_as_is ? row : most));
  const cell = (amount: number) => <FigureCell value={amount}>{saidSum(amount, manner)}</FigureCell>;
  return (
    <ChartFigure
      id="fleet-costs"
      kind="fleet-costs"
      title={`Topping off costs the most for ${dearest.label}: about ${saidSum(dearest.reckoned.cost_as_is, manner)} a year`}
      summary="What each vehicle costs a year on average while it is kept: topped off whenever it is low, and with the answer."
      shape="bars"
      chartKey={[
        { label: "topping off", meaning: "soft", sign: "bar" },
        { label: "with the answer", meaning: "money", sign: "bar" },
      ]}
    >
      <ChartHead words={{ vehicle: "Vehicle" }} figures={{ as_is: "Topping off", best: "With the answer" }} />
      <tbody>
        {rows.map(({ label, reckoned }) => (
          <tr data-kind="vehicle">
            <th scope="row">{label}</th>
            {cell(reckoned.cost_as_is)}
            {cell(reckoned.cost_best)}
          </tr>
        ))}
      </tbody>
    </ChartFigure>
  );
}
