import { optionOf } from "../../src/core/question/option-of.ts";
import { TableHead } from "../parts/table-head.tsx";
import { Term } from "../parts/term.tsx";
import { answerKind } from "../words/answer-words.ts";
import { saidLeak } from "../words/estimates.ts";
import { estimated, saidChance, saidMoney } from "../words/numbers.ts";
import { Day, Money, Whole } from "../words/said.tsx";
import { saidMonths } from "../words/times.ts";
import { groundOf, isPlaceKnown, type Outcome, repairAndTopOff, watchDateOf } from "./outcome.ts";

/** What is not known, and the worth of each way to find out. */
export function Settle({ outcome }: { outcome: Outcome }) {
  const { answer, question, units, currency } = outcome;
  const { value_of } = answer;
  return (
    <>
      <p>
        We don't know exactly <strong>how fast</strong> it leaks (likely range{" "}
        {saidLeak(answer.leak.g_per_year, units).range})
        {isPlaceKnown(answer) ? null : (
          <>
            , or <strong>where</strong>
          </>
        )}
        .
      </p>
      <table class="settle">
        <caption class="visually-hidden">Ways to find out, their price and whether they are worth it</caption>
        <TableHead words={["Way to find out"]} figures={["Price", "Worth it?"]} />
        <tbody>
          {value_of.look_over !== null && (
            <Way
              name="Visual inspection of the fittings, engine off"
              note="finds obvious leaks only"
              price={0}
              net={value_of.look_over}
              currency={currency}
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
  currency: string;
}

function Way({ name, note, price, net, currency }: WayProps) {
  return (
    <tr>
      <th scope="row">
        {name}
        {note !== undefined && <small>{note}</small>}
      </th>
      <td class="figure-cell">{price === 0 ? "free" : saidMoney(price, currency)}</td>
      <td class="figure-cell">
        <data class="money" value={net}>
          {worth(net, currency)}
        </data>
      </td>
    </tr>
  );
}

/** A test's effect on the average cost, its own price included: a negative saving is a cost. */
function worth(net: number, currency: string): string {
  if (estimated(net) === 0) return "changes nothing";
  return net < 0 ? `costs ${saidMoney(-net, currency)} more than it saves` : `saves ${saidMoney(net, currency)}`;
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
        <td class="figure-cell">{saidMoney(price, outcome.currency)}</td>
        <td class="figure-cell soft">not available</td>
      </tr>
    );
  }
  return (
    <Way
      name={name}
      note={`leads to a repair in ${saidChance(option.leads_to_repair ?? 0)} cases`}
      price={price}
      net={net}
      currency={outcome.currency}
    />
  );
}

/** Waiting is a way to find out only where it is topped off meanwhile. */
function WaitForNextLow({ outcome }: { outcome: Outcome }) {
  const kind = answerKind(groundOf(outcome));
  if (kind !== "top-off" && kind !== "leave" && kind !== "if-poor" && kind !== "dye-test") return null;
  const watch_date = watchDateOf(outcome);
  const { switch_months } = repairAndTopOff(outcome.answer).topOff;
  return (
    <tr>
      <th scope="row">
        Wait for the next low charge
        <small>
          {watch_date !== null ? (
            <>
              low before <Day iso={watch_date} /> means a fast leak; later means a slow one
            </>
          ) : (
            `a charge that lasts less than ${saidMonths(switch_months ?? 0)} means a fast leak`
          )}
        </small>
      </th>
      <td class="figure-cell">free</td>
      <td class="figure-cell soft">part of topping off</td>
    </tr>
  );
}

function Perfect({ outcome }: { outcome: Outcome }) {
  const { perfect_leak_rate, perfect_location } = outcome.answer.value_of;
  if (perfect_leak_rate === null || perfect_location === null) return null;
  const of = (worth: number) => <Money>{saidMoney(worth, outcome.currency)}</Money>;
  if (estimated(perfect_leak_rate) === 0 && estimated(perfect_location) === 0) return null;
  return (
    <p class="small soft">
      The most it is worth paying to find the location is {of(perfect_location)}; to know the exact{" "}
      <Whole>
        <Term id="leak-rate">leak rate</Term>,
      </Whole>{" "}
      {of(perfect_leak_rate)}.
    </p>
  );
}
