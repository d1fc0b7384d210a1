import { focusOption } from "../../../src/core/page-answer.ts";
import type { OptionAnswer } from "../../../src/core/question/contract.ts";
import { ChartFigure } from "../../parts/figure.tsx";
import { FigureCell } from "../../parts/figure-cell.tsx";
import { estimated, saidDifference, saidMoney, saidMoneySpan } from "../../words/numbers.ts";
import { OPTION_NAMES } from "../../words/places.ts";
import { saidMonths, saidYears } from "../../words/times.ts";
import {
  comparedCost,
  comparedCostByYear,
  countsCarbon,
  type Outcome,
  repairAndTopOff,
  repairToday,
  rivalOf,
} from "../outcome.ts";
import { OPTION_SHORT } from "./option-dashes.ts";
import { crossing, runningTotals, yearEnds } from "./running-totals.ts";

/** What each option has cost from today to the end of each year, and how far the answer's own cost may be off. */
export function CostOverYears({ outcome }: { outcome: Outcome }) {
  const { answer, question, currency } = outcome;
  const { cost_band: band } = answer;
  const { keep_years } = question.plan;
  const ends = [0, ...yearEnds(keep_years)];
  const { repair, topOff } = repairAndTopOff(answer);
  const shown = answer.options.filter(({ offered, id }) => offered || id === "repair" || id === "top-off");
  const totals = new Map(shown.map((option) => [option.id, totalsOf(outcome, option)]));
  const focus = focusOption(answer);
  const rival = rivalOf(outcome);
  const carbon = countsCarbon(outcome);
  const crossed =
    repair.offered && topOff.offered ? crossing(totals.get("repair") ?? [], totals.get("top-off") ?? [], ends) : null;
  return (
    <ChartFigure
      id="cost-over-years"
      kind="cost-over-years"
      title={title(outcome, crossed)}
      summary={
        <>
          Average cost so far, from today on, in today's money (later costs are discounted)
          {carbon ? ", with CO₂e priced in. " : ". "}
          Likely range for {OPTION_NAMES[focus.id].doing}: {saidMoneySpan(focus.cost_p05, focus.cost_p95, currency)} in
          all
          {carbon ? " before CO₂e." : "; the band shows it year by year."}
        </>
      }
      settings={{
        "data-focus": focus.id,
        "data-rival": rival?.id,
        "data-crossing": crossed ?? undefined,
        "data-currency": saidMoney(0, currency).replace("0", "").trim(),
      }}
    >
      <Head shown={shown} carbon={carbon} />
      <tbody>
        {ends.map((end, i) => (
          <tr data-kind={end === 0 ? "start" : "year"}>
            <th scope="row">
              <data value={end}>{end === 0 ? "today" : saidYears(end)}</data>
            </th>
            {shown.map(({ id }) => (
              <Cost amount={totals.get(id)?.[i] ?? 0} currency={currency} />
            ))}
            {!carbon && (
              <Band of={end === 0 ? null : { p05: band.p05[i - 1], p95: band.p95[i - 1] }} currency={currency} />
            )}
          </tr>
        ))}
      </tbody>
    </ChartFigure>
  );
}

function Head({ shown, carbon }: { shown: readonly OptionAnswer[]; carbon: boolean }) {
  return (
    <thead>
      <tr>
        <th scope="col" data-column="end">
          By the end of
        </th>
        {shown.map(({ id }) => (
          <th scope="col" class="figure-cell" data-column={id} data-short={OPTION_SHORT[id]}>
            {OPTION_NAMES[id].name}
          </th>
        ))}
        {!carbon && (
          <>
            <th scope="col" class="figure-cell" data-column="p05">
              Likely range from
            </th>
            <th scope="col" class="figure-cell" data-column="p95">
              to
            </th>
          </>
        )}
      </tr>
    </thead>
  );
}

/** The likely range of the answer's own cost by the end of a year; on the day there is none. */
function Band({ of, currency }: { of: { p05: number | undefined; p95: number | undefined } | null; currency: string }) {
  if (of === null)
    return (
      <>
        <td />
        <td />
      </>
    );
  return (
    <>
      <Cost amount={of.p05 ?? 0} currency={currency} />
      <Cost amount={of.p95 ?? 0} currency={currency} />
    </>
  );
}

/** The cost of an option on the day, and by the end of each year. */
function totalsOf(outcome: Outcome, option: OptionAnswer): number[] {
  const { answer } = outcome;
  const by_year = runningTotals(comparedCostByYear(option));
  const today =
    option.id === "repair" ? repairToday(outcome) : (answer.paid_today[answer.options.indexOf(option)] ?? 0);
  return [Math.min(today, by_year[0] ?? today), ...by_year];
}

/** The answer's own cost beside that of the best other option that is open, tests apart. */
function title(outcome: Outcome, crossed: number | null): string {
  const { answer, question, currency } = outcome;
  const focus = focusOption(answer);
  const over = `Over ${saidYears(question.plan.keep_years)}`;
  const rival = rivalOf(outcome);
  if (rival === undefined)
    return `${over}, ${OPTION_NAMES[focus.id].doing} costs about ${saidMoney(comparedCost(focus), currency)}`;
  const [less, more] = comparedCost(rival) < comparedCost(focus) ? [rival, focus] : [focus, rival];
  const priced = countsCarbon(outcome) ? ", with CO₂e priced in" : "";
  if (estimated(comparedCost(less)) === estimated(comparedCost(more)))
    return `${over}, ${OPTION_NAMES[less.id].doing} and ${OPTION_NAMES[more.id].doing} cost about the same${priced}`;
  const finding = `${over}, ${OPTION_NAMES[less.id].doing} costs ${saidDifference(comparedCost(more), comparedCost(less), currency)} less than ${OPTION_NAMES[more.id].doing}${priced}`;
  return crossed === null ? finding : `${finding}; repair and top-off cross after about ${saidMonths(12 * crossed)}`;
}

function Cost({ amount, currency }: { amount: number; currency: string }) {
  return <FigureCell value={amount}>{saidMoney(amount, currency)}</FigureCell>;
}
