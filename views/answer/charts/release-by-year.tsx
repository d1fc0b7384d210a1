import { GASOLINE } from "../../../data/everyday.ts";
import { GWP_DATA } from "../../../data/gwp.ts";
import { focusOption } from "../../../src/core/page-answer.ts";
import type { UnitSystem } from "../../../src/core/quantities/units.ts";
import { ChartFigure } from "../../parts/figure.tsx";
import { FigureCell } from "../../parts/figure-cell.tsx";
import { saidCo2e, saidCount, saidMass, saidRelease } from "../../words/numbers.ts";
import { OPTION_NAMES } from "../../words/places.ts";
import { saidYears } from "../../words/times.ts";
import { type Outcome, repairAndTopOff } from "../outcome.ts";

/** The release of each option, year by year, and its climate impact. */
export function ReleaseByYear({ outcome }: { outcome: Outcome }) {
  const { answer, question, units } = outcome;
  const { topOff, repair } = repairAndTopOff(answer);
  const focus = focusOption(answer);
  const other = focus.id === "repair" ? topOff : repair;
  const shown = answer.options.filter(({ offered, id }) => offered || id === "repair" || id === "top-off");
  const years = focus.release_by_year_g.length;
  return (
    <ChartFigure
      id="release-by-year"
      kind="release-by-year"
      shape="bars"
      title={`Over ${saidYears(question.plan.keep_years)}, ${OPTION_NAMES[focus.id].doing} releases about ${saidRelease(focus.release_g, units)}; ${OPTION_NAMES[other.id].doing} ${saidRelease(other.release_g, units)}`}
      summary={
        <>
          Each bar is the total, one segment per year. {saidCo2e(focus.co2e_kg)} CO₂e for the answer warms like burning{" "}
          {gasoline(focus.co2e_kg, units)} (US EPA figure; warming potentials of {GWP_DATA[question.plan.gwp].name}).
        </>
      }
      settings={{ "data-units": units }}
    >
      <thead>
        <tr>
          <th scope="col" data-column="option">
            Option
          </th>
          {Array.from({ length: years }, (_, i) => (
            <th scope="col" class="figure-cell" data-column={`year-${i + 1}`}>
              Year {i + 1}
            </th>
          ))}
          <th scope="col" class="figure-cell" data-column="co2e_kg">
            CO₂e
          </th>
        </tr>
      </thead>
      <tbody>
        {shown.map(({ id, release_by_year_g, co2e_kg }) => (
          <tr data-kind={id === focus.id ? "chosen" : "other"} data-option={id}>
            <th scope="row">{OPTION_NAMES[id].name}</th>
            {release_by_year_g.map((grams) => (
              <FigureCell value={grams}>{saidMass(grams, units)}</FigureCell>
            ))}
            <FigureCell value={co2e_kg}>{saidCo2e(co2e_kg)}</FigureCell>
          </tr>
        ))}
      </tbody>
    </ChartFigure>
  );
}

function gasoline(co2e_kg: number, units: UnitSystem): string {
  const gallons = (co2e_kg * 1000) / GASOLINE.co2_g_per_gallon;
  const [count, one, many] =
    units === "us" ? [gallons, "a gallon", "gallons"] : [gallons * GASOLINE.liters_per_gallon, "a liter", "liters"];
  return count < 1.5
    ? `less than ${one === "a gallon" ? "two gallons" : "two liters"} of gasoline`
    : `${saidCount(count)} ${many} of gasoline`;
}
