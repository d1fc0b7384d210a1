import type { LocationId } from "../../../src/core/question/contract.ts";
import { ChartFigure } from "../../parts/figure.tsx";
import { saidPercent } from "../../words/numbers.ts";
import { PLACE_NAMES } from "../../words/places.ts";
import { isPlaceKnown, type Outcome } from "../outcome.ts";

const STANDS_OUT = 0.5;

/** How likely each place is to be the leak. */
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
      <thead>
        <tr>
          <th scope="col" data-column="place">
            Place
          </th>
          <th scope="col" class="figure-cell" data-column="probability">
            Likely to be it
          </th>
        </tr>
      </thead>
      <tbody>
        {places.map(({ id, probability }) => (
          <tr data-kind="place" data-place={id}>
            <th scope="row">{PLACE_NAMES[id].name}</th>
            <td class="figure-cell">
              <data value={probability}>{saidPercent(probability)}</data>
            </td>
          </tr>
        ))}
      </tbody>
    </ChartFigure>
  );
}

function summary({ answer, question }: Outcome): string {
  if (question.findings.length > 0) return "How likely each place is, after what the tests showed.";
  if (isPlaceKnown(answer)) return "As it is supposed here.";
  return "How often each place is the leak in vehicles like this. Nothing is known about this one yet; a look-over or a test moves the bars.";
}

function title({ id, probability }: { id: LocationId; probability: number }): string {
  const share = saidPercent(probability);
  return probability >= STANDS_OUT
    ? `Most likely it leaks at ${PLACE_NAMES[id].at}: ${share}`
    : `No place stands out: the likeliest is ${PLACE_NAMES[id].at}, ${share}`;
}
