import { planParameters } from "../../../data/parameters.ts";
import { X, X_COUNT } from "../leak/leak-grid.ts";
import { findingsSinceRepair, locationBeliefs, testOutcomes } from "../leak/locations.ts";
import { type Nodes, nodesOf } from "../leak/nodes.ts";
import { type Posterior, posteriorOf } from "../leak/posterior.ts";
import type { AssessRequest } from "../question/contract.ts";
import { type Question, questionOf } from "../question/question.ts";
import { gwp } from "../refrigerant/gwp.ts";
import { type Comparison, compare, type Knowledge } from "./compare.ts";
import { type Futures, futuresOf, startOf, type Walking } from "./futures.ts";
import { guardsOf } from "./guard.ts";
import type { Start } from "./node-events.ts";
import { type PriceTags, priceTags } from "./tally.ts";

/** The stages from a question to its verdict, kept so that a changed assumption recomputes only what it affects. */
export interface Outlook {
  /** What was asked. */
  question: Question;
  /** What the log says of the leak. */
  posterior: Posterior;
  /** The nodes of the posterior that matter. */
  nodes: Nodes;
  /** Where the future starts. */
  start: Start;
  /** What the comparison knows besides the futures. */
  known: Knowledge;
  /** The years ahead, without prices. */
  futures: Futures;
  /** The prices put on them. */
  tags: PriceTags;
  /** The options with their costs, and the verdict. */
  comparison: Comparison;
}

/**
 * All stages for a request. `horizons`, times the years of its plan, are those of later walks. Throws RangeError for a
 * date that does not exist.
 */
export function outlookOfRequest(
  request: AssessRequest,
  { horizons = [] }: { horizons?: readonly number[] } = {},
): Outlook {
  const question = questionOf(request);
  const ahead = horizons.map((times) => withinKeepYears(times * question.plan.keep_years));
  return outlookOf(question, posteriorOf(question), { ahead });
}

/** Years as near to `years` as a plan may be long. */
export function withinKeepYears(years: number): number {
  const { min, max } = planParameters.keep_years;
  return Math.min(max, Math.max(min, years));
}

/** The stages from a posterior on; `walking` as in `futuresOf`. */
export function outlookOf(question: Question, posterior: Posterior, walking: Walking = {}): Outlook {
  const nodes = nodesOf(posterior, question.nameplate_g);
  const start = startOf(question, posterior, nodes);
  const findings = findingsSinceRepair(question);
  const k_g = meanLeak(posterior, question.nameplate_g);
  const belief = locationBeliefs(question, findings, k_g);
  const known: Knowledge = {
    belief,
    k_g,
    outcomes: {
      dye: testOutcomes(belief, question.prices, "dye", k_g),
      electronic: testOutcomes(belief, question.prices, "electronic", k_g),
      visual: testOutcomes(belief, question.prices, "visual", k_g),
    },
    tests_done: new Set(findings.map((finding) => finding.test)),
    guards: guardsOf(question, posterior),
  };
  return withFutures({ question, posterior, nodes, start, known }, walking);
}

/**
 * The stages from the years ahead on, for a question whose horizon, discounting, price growth or seep has changed;
 * `walking` as in `futuresOf`.
 */
export function withFutures(
  base: Pick<Outlook, "question" | "posterior" | "nodes" | "start" | "known">,
  walking: Walking = {},
): Outlook {
  const { question, posterior, start } = base;
  const { keep_years, hazard } = question.plan;
  const horizon = { years: Math.max(keep_years, ...(walking.ahead ?? [])), hazard };
  const futures = futuresOf(question, start, posterior.clocks.months(horizon), walking);
  return withPrices({ ...base, futures });
}

/** The stages from the prices on, for a question whose prices have changed. */
export function withPrices(base: Omit<Outlook, "tags" | "comparison">): Outlook {
  const tags = priceTags(base.question, gwp(base.question.plan.gwp, base.question.refrigerant));
  return { ...base, tags, comparison: compare(base.question, base.futures, tags, base.known) };
}

/** Posterior mean leak, grams a year. */
function meanLeak(posterior: Posterior, nameplate_g: number): number {
  const { weight } = posterior;
  let mean = 0;
  for (let j = 0; j < weight.length; j += X_COUNT) {
    for (let i = 0; i < X_COUNT; i++) mean += weight[j + i]! * X[i]!;
  }
  return mean * nameplate_g;
}
