import { findingsSinceRepair } from "../../../src/core/leak/locations.ts";
import type { LocationId } from "../../../src/core/question/contract.ts";
import { ChartFigure } from "../../parts/figure.tsx";
import { FigureCell } from "../../parts/figure-cell.tsx";
import { ChartHead } from "../../parts/table-head.tsx";
import { saidPercent } from "../../words/numbers.ts";
import { PLACE_NAMES } from "../../words/places.ts";
import { isPlaceKnown, type Outcome } from "../outcome.ts";

const STANDS_OUT = 0.5;

/** How likely each location is to be the leak. */
export function WhereItLeaks({ outcome }: { outcome: Outcome }) {
  const places = outcome.answer.locations.toSorted((a, b) => b.probability - a.probability);
  return (
    <ChartFigure
      id="where-it-leaks"
      kind="where-it-leaks"
      shape="bars"
      title={places[0] === undefined ? "" : title(places[0])}
      summary={summary(outcome)}
    >
      <ChartHead words={{ place: "Location" }} figures={{ probability: "Chance" }} />
      <tbody>
        {places.map(({ id, probability }) => (
          <tr data-kind="place" data-place={id}>
            <th scope="row">{PLACE_NAMES[id].name}</th>
            <FigureCell value={probability}>{saidPercent(probability)}</FigureCell>
          </tr>
        ))}
      </tbody>
    </ChartFigure>
  );
}

function summary({ answer, question }: Outcome): string {
  if (findingsSinceRepair(question).length > 0) return "How likely each location is, given the test results.";
  if (isPlaceKnown(answer)) return "As you chose.";
  return "How often each location is the source in vehicles like this. A visual inspection or a leak test would narrow it down.";
}

function title({ id, probability }: { id: LocationId; probability: number }): string {
  const share = saidPercent(probability);
  return probability >= STANDS_OUT
    ? `Most likely it leaks at ${PLACE_NAMES[id].at}: ${share}`
    : `No clear location yet. Most likely: ${PLACE_NAMES[id].at} (${share})`;
}
