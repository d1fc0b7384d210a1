import { formatMonths } from "../../src/core/quantities/format.ts";
import { Term } from "../parts/term.tsx";
import { saidChance, saidMass, saidMoney } from "../words/numbers.ts";
import { Day, Money } from "../words/said.tsx";
import { isPlaceKnown, type Outcome, optionOf, repairAndTopOff } from "./outcome.ts";

/** What is not known, and what each way of finding out would be worth. */
export function Settle({ outcome }: { outcome: Outcome }) {
  const { answer, question, units } = outcome;
  const { value_of } = answer;
  const { mean, p05, p95 } = answer.leak.g_per_year;
  return (
    <>
      <p>
        It is open <strong>how fast</strong> it leaks, {saidMass(p05, units)} to {saidMass(p95, units)} a year around{" "}
        {saidMass(mean, units)}
        {isPlaceKnown(answer) ? null : (
          <>
            , and <strong>where</strong>
          </>
        )}
        .
      </p>
      <table class="settle">
        <caption class="visually-hidden">Ways to find out, their price and what they are worth on average</caption>
        <thead>
          <tr>
            <th scope="col">Way to find out</th>
            <th scope="col" class="figure-cell">
              Price
            </th>
            <th scope="col" class="figure-cell">
              On average
            </th>
          </tr>
        </thead>
        <tbody>
          {value_of.look_over !== null && (
            <Way
              name="Look the fittings over for oil and dirt, engine off"
              note="finds the plain cases"
              price={0}
              net={value_of.look_over}
            />
          )}
          <Test outcome={outcome} id="dye-test" net={value_of.dye_test_net} price={question.prices.dye_price} />
          <Test
            outcome={outcome}
            id="electronic-test"
            net={value_of.electronic_test_net}
            price={question.prices.electronic_price}
          />
          <WaitForNextLow outcome={outcome} />
        </tbody>
      </table>
      <Perfect outcome={outcome} />
    </>
  );
}

interface WayProps {
  name: string;
  note?: string;
  price: number;
  net: number;
}

function Way({ name, note, price, net }: WayProps) {
  return (
    <tr>
      <th scope="row">
        {name}
        {note !== undefined && <small>{note}</small>}
      </th>
      <td class="figure-cell">{price === 0 ? "free" : saidMoney(price)}</td>
      <td class="figure-cell">
        <data class="money" value={net}>
          {saidMoney(Math.abs(net))}
        </data>{" "}
        {net < 0 ? "lost" : "saved"}
      </td>
    </tr>
  );
}

function Test({
  outcome,
  id,
  net,
  price,
}: {
  outcome: Outcome;
  id: "dye-test" | "electronic-test";
  net: number | null;
  price: number;
}) {
  const option = optionOf(outcome.answer, id);
  const name = id === "dye-test" ? "Dye test" : "Electronic leak test";
  if (net === null || option === undefined) {
    return (
      <tr>
        <th scope="row">{name}</th>
        <td class="figure-cell">{saidMoney(price)}</td>
        <td class="figure-cell soft">not open</td>
      </tr>
    );
  }
  return (
    <Way
      name={name}
      note={`leads to a repair in ${saidChance(option.leads_to_repair ?? 0)} cases`}
      price={price}
      net={net}
    />
  );
}

function WaitForNextLow({ outcome }: { outcome: Outcome }) {
  const { answer } = outcome;
  const { topOff } = repairAndTopOff(answer);
  const { watch_date } = topOff;
  return (
    <tr>
      <th scope="row">
        Wait for the next low charge
        <small>
          {watch_date !== null && watch_date > answer.as_of ? (
            <>
              low before <Day iso={watch_date} /> or after tells a fast leak from a slow one
            </>
          ) : (
            `a charge that lasts less than ${formatMonths(topOff.switch_months ?? 0)} tells a fast leak`
          )}
        </small>
      </th>
      <td class="figure-cell">free</td>
      <td class="figure-cell soft">in the top-off</td>
    </tr>
  );
}

function Perfect({ outcome }: { outcome: Outcome }) {
  const { perfect_leak_rate, perfect_location } = outcome.answer.value_of;
  if (perfect_leak_rate === null || perfect_location === null) return null;
  return (
    <p class="small soft">
      Nothing that only tells the <Term id="leak-rate">leak rate</Term> can be worth more than{" "}
      <Money>{saidMoney(perfect_leak_rate)}</Money>, nothing that only tells the place more than{" "}
      <Money>{saidMoney(perfect_location)}</Money>.
    </p>
  );
}
