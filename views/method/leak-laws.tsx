import { LEAK_LAW_CASES, LEAK_LAWS } from "../../data/leak-laws.ts";
import { TableHead } from "../parts/table-head.tsx";
import { saidPercent } from "../words/numbers.ts";
import { Scrolled } from "./scrolled.tsx";

/** What would change if leaks followed another law than the model's. */
export function LeakLaws() {
  return (
    <>
      <p>
        The model's law (p² − 101.325²) fits a long narrow leak, and makes a leak of R-134a 3.2 times as fast at 40 °C
        as at 20 °C. Leaks of another kind would follow another law. The {LEAK_LAW_CASES} worked cases were asked again
        under each, by changing how much each month weighs. Half of the cases move by less than the first figure of a
        column, none by more than the second.
      </p>
      <Scrolled id="leak-laws" title="If it leaked by another law">
        <TableHead
          words={["Law"]}
          figures={[
            "40 °C against 20 °C",
            "Best estimate of the leak",
            "Lowest cost",
            "Next low charge",
            "Other answers",
          ]}
        />
        <tbody>
          {LEAK_LAWS.map((row) => (
            <tr>
              <th scope="row">
                {row.name}
                <small>{row.where}</small>
              </th>
              <td class="figure-cell">{row.hot_to_mild.toFixed(1)} times</td>
              <td class="figure-cell">
                {saidPercent(row.leak_median)}
                <small>up to {saidPercent(row.leak_most)}</small>
              </td>
              <td class="figure-cell">up to {saidPercent(row.cost_most)}</td>
              <td class="figure-cell">up to {row.days_most} days</td>
              <td class="figure-cell">
                {row.verdicts_changed} of {LEAK_LAW_CASES}
              </td>
            </tr>
          ))}
        </tbody>
      </Scrolled>
      <p>
        Not in any of them: a seal that shrinks in the cold and leaks then, and a high side that leaks only while the
        engine runs.
      </p>
    </>
  );
}
