import { tie as TIE } from "../../data/model-constants.ts";
import type { OptionAnswer } from "../../src/core/question/contract.ts";
import { estimated, saidDifference } from "../words/numbers.ts";
import { OPTION_NAMES } from "../words/places.ts";
import { Money } from "../words/said.tsx";
import { chosenOption, comparedCost, type Outcome } from "./outcome.ts";

/** What decides where two options cost about the same. */
const DECIDES = {
  law: "Your local rules decide it.",
  release: "Less refrigerant released decides it.",
  trouble: "Less trouble decides it.",
  cost: "The lower average cost decides it.",
} as const;

interface TieWith {
  rival: OptionAnswer;
  by: keyof typeof DECIDES;
}

/**
 * The option that costs about as much as the answer, or less but for a rule, and what decides between them; null where
 * cost decides alone.
 */
export function tieOf(outcome: Pick<Outcome, "answer" | "local">): TieWith | null {
  const { answer, local } = outcome;
  const chosen = chosenOption(outcome);
  if (chosen === undefined || answer.verdict.guard !== null) return null;
  const others = answer.options.filter((one) => one !== chosen).toSorted((a, b) => comparedCost(a) - comparedCost(b));
  const broken = answer.verdict.reasons.find((reason) => reason.code === "tie-break");
  if (broken !== undefined) {
    const least = comparedCost(chosen) - broken.values.dearer_by;
    const apart = (one: OptionAnswer) => Math.abs(comparedCost(one) - least);
    const rival = others.filter(({ offered }) => offered).toSorted((a, b) => apart(a) - apart(b))[0];
    return rival === undefined ? null : { rival, by: "release" };
  }
  const untested = others.filter(({ leads_to_repair }) => leads_to_repair === null);
  const barred = untested.find(({ id }) => local.barred.some(({ option }) => option === id));
  if (barred !== undefined && (isNear(barred, chosen) || comparedCost(barred) < comparedCost(chosen)))
    return { rival: barred, by: "law" };
  const other = untested.find((one) => one.offered && isNear(one, chosen));
  if (other !== undefined) {
    const cleaner = isSaidAlike(other, chosen) && chosen.release_g < other.release_g;
    return { rival: other, by: cleaner ? "release" : "cost" };
  }
  if (chosen.leads_to_repair !== null) return null;
  // A test that costs more is no rival: nobody would go to its trouble.
  const test = others.find(
    (one) =>
      one.offered && one.leads_to_repair !== null && estimated(comparedCost(one)) <= estimated(comparedCost(chosen)),
  );
  return test === undefined ? null : { rival: test, by: "trouble" };
}

function isNear(one: OptionAnswer, chosen: OptionAnswer): boolean {
  const least = Math.min(comparedCost(one), comparedCost(chosen));
  return Math.abs(comparedCost(one) - comparedCost(chosen)) <= Math.max(TIE.money, TIE.share * least);
}

function isSaidAlike(one: OptionAnswer, other: OptionAnswer): boolean {
  return estimated(comparedCost(one)) === estimated(comparedCost(other));
}

/** That it is a tie on cost, with what, and what decides it: the same words for every tie. */
export function Tie({ outcome }: { outcome: Outcome }) {
  const tie = tieOf(outcome);
  const chosen = chosenOption(outcome);
  if (tie === null || chosen === undefined) return null;
  const [cost, own] = [comparedCost(tie.rival), comparedCost(chosen)];
  return (
    <>
      {" "}
      {isNear(tie.rival, chosen) ? "A tie on cost" : "On cost alone"}: {OPTION_NAMES[tie.rival.id].doing} costs about{" "}
      {isSaidAlike(tie.rival, chosen) ? (
        "the same"
      ) : (
        <>
          <Money>{saidDifference(Math.max(cost, own), Math.min(cost, own), outcome.currency)}</Money>{" "}
          {cost > own ? "more" : "less"}
        </>
      )}
      . {DECIDES[tie.by]}
    </>
  );
}
