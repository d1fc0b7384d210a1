import { focusOption } from "../../../src/core/page-answer.ts";
import { formatMonths } from "../../../src/core/quantities/format.ts";
import { ChartFigure, type KeyEntry } from "../../parts/figure.tsx";
import { saidMoney } from "../../words/numbers.ts";
import { OPTION_NAMES } from "../../words/places.ts";
import { saidYears } from "../../words/times.ts";
import { type Outcome, repairAndTopOff } from "../outcome.ts";
import { OPTION_DASHES } from "./option-dashes.ts";
import { crossing, runningTotals, yearEnds } from "./running-totals.ts";

/** What each option has cost by the end of each year, and how far the answer's own cost may be off. */
export function CostOverYears({ outcome }: { outcome: Outcome }) {
  const { answer, question, cost_band: band } = outcome;
  const { keep_years } = question.plan;
  const ends = yearEnds(keep_years);
  const { repair, topOff } = repairAndTopOff(answer);
  const shown = answer.options.filter(({ offered, id }) => offered || id === "repair" || id === "top-off");
  const totals = new Map(shown.map((option) => [option.id, runningTotals(option.cost_by_year)]));
  const focus = focusOption(answer);
  const crossed =
    repair.offered && topOff.offered
      ? crossing(runningTotals(repair.cost_by_year), runningTotals(topOff.cost_by_year), ends)
      : null;
  return (
    <ChartFigure
      id="cost-over-years"
      kind="cost-over-years"
      title={title(outcome, crossed)}
      summary={
        <>
          Cost on average, added up to the end of each year, in today's money; later years weigh less.{" "}
          {OPTION_NAMES[focus.id].name}: likely {saidMoney(focus.cost_p05)} to {saidMoney(focus.cost_p95)} in all; the
          band shows it year by year.
        </>
      }
      chartKey={[
        ...shown.map(
          ({ id }): KeyEntry => ({
            label: OPTION_NAMES[id].name,
            meaning: "money",
            sign: "line",
            dash: OPTION_DASHES[id],
            strong: id === focus.id,
          }),
        ),
        { label: `likely range: ${OPTION_NAMES[focus.id].name}`, meaning: "money", sign: "band" },
      ]}
      settings={{ "data-focus": focus.id, "data-crossing": crossed ?? undefined }}
    >
      <thead>
        <tr>
          <th scope="col" data-column="end">
            By the end of
          </th>
          {shown.map(({ id }) => (
            <th scope="col" class="figure-cell" data-column={id}>
              {OPTION_NAMES[id].name}
            </th>
          ))}
          <th scope="col" class="figure-cell" data-column="p05">
            Likely from
          </th>
          <th scope="col" class="figure-cell" data-column="p95">
            to
          </th>
        </tr>
      </thead>
      <tbody>
        {ends.map((end, i) => (
          <tr data-kind="year">
            <th scope="row">
              <data value={end}>{saidYears(end)}</data>
            </th>
            {shown.map(({ id }) => (
              <Cost amount={totals.get(id)?.[i] ?? 0} />
            ))}
            <Cost amount={band.p05[i] ?? 0} />
            <Cost amount={band.p95[i] ?? 0} />
          </tr>
        ))}
      </tbody>
    </ChartFigure>
  );
}

/** The answer's own cost beside that of the best other way that is open, tests apart. */
function title({ answer, question }: Outcome, crossed: number | null): string {
  const focus = focusOption(answer);
  const over = `Over ${saidYears(question.plan.keep_years)}`;
  const rival = answer.options
    .filter(({ id, offered, leads_to_repair }) => offered && id !== focus.id && leads_to_repair === null)
    .toSorted((a, b) => a.expected_cost - b.expected_cost)[0];
  if (rival === undefined)
    return `${over}, ${OPTION_NAMES[focus.id].doing} costs about ${saidMoney(focus.expected_cost)}`;
  const [less, more] = rival.expected_cost < focus.expected_cost ? [rival, focus] : [focus, rival];
  const saved = saidMoney(more.expected_cost - less.expected_cost);
  const finding = `${over}, ${OPTION_NAMES[less.id].doing} costs ${saved} less than ${OPTION_NAMES[more.id].doing}`;
  return crossed === null ? finding : `${finding}; repair and top-off cross after about ${formatMonths(12 * crossed)}`;
}

function Cost({ amount }: { amount: number }) {
  return (
    <td class="figure-cell">
      <data value={amount}>{saidMoney(amount)}</data>
    </td>
  );
}
