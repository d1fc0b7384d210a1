import { answerKind } from "../words/answer-words.ts";
import { saidMoney } from "../words/numbers.ts";
import { groundOf, type Outcome, shopOnlyBecause } from "./outcome.ts";

/** Addresses of the steps after an answer; each carries the vehicle or the question along. */
export interface Ways {
  top_off: string;
  readings: string;
  leak_tests: string;
  /** Where a shop writes a quote about it; null for a question that is not a saved vehicle. */
  quote: string | null;
  /** Where a visual inspection, and new caps and cores, are logged; null for a question that is not a saved vehicle. */
  log_look: string | null;
  log_repair: string | null;
  /** The question without its readings; null where they are a set of a vehicle. */
  leave_out: string | null;
}

interface Step {
  words: string;
  href: string;
}

/** The average saving from which a free look at the fittings is offered first. */
const WORTH_A_LOOK = 5;

/** One button for what to do next, and the second best as a link. */
export function NextStep({ outcome, ways }: { outcome: Outcome; ways: Ways }) {
  const [first, second] = stepsOf(outcome, ways);
  return (
    <p class="next-step">
      {first !== undefined && (
        <a class="button" href={first.href}>
          {first.words}
        </a>
      )}
      {second !== undefined && <a href={second.href}>{second.words}</a>}
    </p>
  );
}

function stepsOf(outcome: Outcome, ways: Ways): readonly Step[] {
  const readings = { words: "Check readings first", href: ways.readings };
  const ask = { words: "What to ask a shop for", href: `#${ASK_A_SHOP}` };
  const plan = { words: "Plan the top-off", href: ways.top_off };
  switch (answerKind(groundOf(outcome))) {
    case "top-off":
      // A plan for doing it oneself would only say to stop, and gauges are not for everybody there.
      if (shopOnlyBecause(outcome) !== null)
        return ways.quote === null
          ? [{ words: "Which readings to ask for first", href: ways.readings }]
          : [readings, { words: "Write a quote", href: ways.quote }];
      return [plan, readings];
    case "if-poor":
      return [{ words: "Check readings", href: ways.readings }, plan];
    case "dye-test":
      return [
        outcome.answer.low_now ? { words: "Plan the top-off with dye", href: ways.top_off } : ask,
        { words: "How a dye test works", href: ways.leak_tests },
      ];
    case "leave":
      return [inspection(outcome, ways), { words: "Check readings", href: ways.readings }];
    case "repair":
    case "repair-fast":
    case "repair-empty":
    case "find-leak":
    case "electronic-test": {
      const { look_over } = outcome.answer.value_of;
      const looks = look_over !== null && look_over > WORTH_A_LOOK;
      return [ask, looks ? inspection(outcome, ways) : readings];
    }
    case "readings-first":
      return [
        { words: "Take readings", href: ways.readings },
        { words: "Look for the leak yourself", href: ways.leak_tests },
      ];
    case "not-low":
      return [{ words: "See what the readings point to", href: ways.readings }, ask];
    case "live-without":
      return [{ words: "Check readings", href: ways.readings }];
    case "none":
      return [{ words: "See the local rules", href: "#local-rules" }];
  }
}

/** The part of the page with what to ask a shop for. */
export const ASK_A_SHOP = "ask-a-shop";

function inspection({ answer: { value_of }, currency }: Outcome, { leak_tests }: Ways): Step {
  const saves = value_of.look_over ?? 0;
  return {
    words:
      saves > WORTH_A_LOOK
        ? `Look it over yourself first (free, saves about ${saidMoney(saves, currency)} on average)`
        : "Look it over yourself (free)",
    href: leak_tests,
  };
}
