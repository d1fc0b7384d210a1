import { DYE_WAIT_YEARS, LOCATED_SHARE } from "../../../data/model-constants.ts";
import type { TestOutcome } from "../leak/locations.ts";
import type { OptionId, TestId, Verdict } from "../question/contract.ts";
import type { Question } from "../question/question.ts";
import { type Futures, meanEventFreeRelease } from "./futures.ts";
import type { Guards } from "./guard.ts";
import { type Branch, meanPath, type Option } from "./option.ts";
import { fadingIntegral } from "./spending.ts";
import {
  type PlacePrices,
  type PriceTags,
  placePrices,
  type RowCosts,
  rowCostAt,
  rowCosts,
  tallyCost,
  tallyRelease,
} from "./tally.ts";
import { verdictOf } from "./verdict.ts";

/** The options of a question, and what each is expected to cost and release (MODEL §6). */

/** The options of a question, compared. */
export interface Comparison {
  /** In the order of `OPTION_IDS`. */
  options: readonly Option[];
  /** Index of the switch rule under which topping off costs least. */
  best_rule: number;
  /** What to do, and why. */
  verdict: Verdict;
}

/** What the comparison needs to know besides the futures. */
export interface Knowledge {
  /** Chance of each place, adding to 1. */
  belief: readonly number[];
  /** Posterior mean leak, grams a year: tests may miss a tiny one. */
  k_g: number;
  /** The possible outcomes of each test. */
  outcomes: Readonly<Record<TestId, readonly TestOutcome[]>>;
  /** Tests done since the last repair. */
  tests_done: ReadonlySet<TestId>;
  /** Conditions that override the comparison. */
  guards: Guards;
}

/** A case that is certain, wherever the leak is. */
const CERTAIN = [1, 1, 1, 1, 1, 1] as const;

/** The fee for finding the leak, money: none where one place is nearly certain. */
export function locateFee(belief: readonly number[], tags: Pick<PriceTags, "locate_fee">): number {
  return belief.some((share) => share >= LOCATED_SHARE) ? 0 : tags.locate_fee;
}

/** Index of the switch rule of least expected cost, carbon included; the smaller rule on a tie. */
export function bestRule(futures: Futures, tags: PriceTags, place: PlacePrices): number {
  return bestRow(rowCosts(futures.top_off_mean, futures.rules.length, tags), place);
}

/** The row of least cost at a place; the first on a tie. */
function bestRow(costs: RowCosts, place: PlacePrices): number {
  let best = 0;
  let least = Infinity;
  for (let row = 0; row < costs.running.length; row++) {
    const cost = rowCostAt(costs, row, place);
    if (cost < least - 1e-9) {
      least = cost;
      best = row;
    }
  }
  return best;
}

/** What the options of a question are worked out from. */
interface Comparing {
  /** What was asked. */
  question: Question;
  /** The years ahead, without prices. */
  futures: Futures;
  /** The prices put on them. */
  tags: PriceTags;
  /** What is known besides. */
  known: Knowledge;
  /** The mean costs of each course. */
  costs: CourseCosts;
  /** What may be done after a test. */
  open: CoursesOpen;
  /** Whether a rule bars repairs. */
  repair_out: boolean;
  /** Whether topping off is barred by a rule, or below the floor. */
  top_off_out: boolean;
}

function comparingOf(question: Question, futures: Futures, tags: PriceTags, known: Knowledge): Comparing {
  const { barred } = question.plan;
  const { guards } = known;
  const repair_out = barred.includes("repair");
  const top_off_out = barred.includes("top-off") || guards.floor_probability !== null;
  return {
    question,
    futures,
    tags,
    known,
    costs: {
      "top-off": rowCosts(futures.top_off_mean, futures.rules.length, tags),
      "repair-now": rowCosts(futures.repair_now, 1, tags),
      "repair-after-dye": rowCosts(futures.repair_after_dye_mean, 1, tags),
    },
    // Without pressure the system is not topped off: after a test the only course is repair.
    open: guards.empty || (top_off_out && !repair_out) ? "repair" : repair_out && !top_off_out ? "top-off" : "either",
    repair_out,
    top_off_out,
  };
}

/**
 * Compares the options of a question. It works on mean tallies, not on nodes, so sensitivity runs repeat it cheaply.
 */
export function compare(question: Question, futures: Futures, tags: PriceTags, known: Knowledge): Comparison {
  const { plan, prices } = question;
  const { guards } = known;
  const comparing = comparingOf(question, futures, tags, known);
  const { costs, repair_out } = comparing;
  const fee = locateFee(known.belief, tags);
  const best_rule = bestRow(costs["top-off"], placePrices(known.belief, tags, fee));
  const whole = { chance: 1, chance_given: CERTAIN, belief: known.belief, locate: fee };
  const dye_fixed =
    prices.dye_price + prices.dye_inspection_fee * Math.exp(-futures.spending.horizon.fade * DYE_WAIT_YEARS);
  const top_off_because = plan.barred.includes("top-off")
    ? "rule"
    : guards.empty
      ? "empty"
      : guards.floor_probability !== null
        ? "floor"
        : null;
  const options = [
    option("repair", repair_out ? "rule" : null, 0, [{ course: "repair-now", rule: 0, ...whole }], null, futures, tags),
    testOption(comparing, "dye-test", "dye", dye_fixed, "repair-after-dye"),
    testOption(comparing, "electronic-test", "electronic", prices.electronic_price, "repair-now"),
    option("top-off", top_off_because, 0, [{ course: "top-off", rule: best_rule, ...whole }], null, futures, tags),
  ];
  if (plan.season_worth !== null) {
    const because = plan.barred.includes("live-without") ? "rule" : null;
    options.push(liveWithout(plan.season_worth, because, futures, tags));
  }
  return { options, best_rule, verdict: verdictOf(plan.floor_months, options, guards) };
}

/**
 * The free visual inspection, worked out like a test; null once done, or where nothing could follow from it. No verdict
 * waits for it.
 */
export function lookOver(question: Question, futures: Futures, tags: PriceTags, known: Knowledge): Option | null {
  const comparing = comparingOf(question, futures, tags, known);
  const { repair_out, top_off_out } = comparing;
  if (known.tests_done.has("visual") || (repair_out && (top_off_out || known.guards.empty))) return null;
  return testOption(comparing, "electronic-test", "visual", 0, "repair-now");
}

/** A test, and what is done after each of its outcomes. */
function testOption(
  { question, futures, tags, known, costs, open, repair_out, top_off_out }: Comparing,
  id: OptionId,
  test: TestId,
  fixed: number,
  repair: Branch["course"],
): Option {
  const { barred } = question.plan;
  const { guards } = known;
  const branches = known.outcomes[test].map((outcome) => branchAfter(outcome, repair, costs, tags, open));
  const leads = branches.reduce((sum, one) => sum + (one.course === "top-off" ? 0 : one.chance), 0);
  const because = ((): Option["not_offered_because"] => {
    if (barred.includes(id) || (repair_out && barred.includes("top-off"))) return "rule";
    if (test === "dye" && guards.empty) return "empty";
    const floor = guards.floor_probability !== null;
    if ((repair_out && top_off_out) || (test === "dye" && floor && futures.start.top_up_now)) return "floor";
    return known.tests_done.has(test) ? "done" : null;
  })();
  return option(id, because, fixed, branches, leads, futures, tags);
}

/** The mean costs of each course; of topping off, a row for each switch rule. */
type CourseCosts = Readonly<Record<Branch["course"], RowCosts>>;

/** The courses that may be taken after a test. */
type CoursesOpen = "repair" | "top-off" | "either";

/** What is done after an outcome of a test: the cheaper of repair and topping off, as far as both are open. */
function branchAfter(
  outcome: TestOutcome,
  repair: Branch["course"],
  costs: CourseCosts,
  tags: PriceTags,
  open: CoursesOpen,
): Branch {
  const locate = outcome.place === null ? locateFee(outcome.belief, tags) : 0;
  const place = placePrices(outcome.belief, tags, locate);
  const rule = bestRow(costs["top-off"], place);
  const common = { chance: outcome.chance, chance_given: outcome.chance_given, belief: outcome.belief, locate };
  const repairing: Branch = { course: repair, rule: 0, ...common };
  const topping: Branch = { course: "top-off", rule, ...common };
  if (open !== "either") return open === "repair" ? repairing : topping;
  return rowCostAt(costs[repair], 0, place) <= rowCostAt(costs["top-off"], rule, place) ? repairing : topping;
}

/** An option with its expected cost and release summed over its branches. */
function option(
  id: OptionId,
  not_offered_because: Option["not_offered_because"],
  fixed: number,
  branches: readonly Branch[],
  leads_to_repair: number | null,
  futures: Futures,
  tags: PriceTags,
): Option {
  let expected_cost = fixed;
  let release_g = 0;
  for (const branch of branches) {
    const [tallies, row] = meanPath(futures, branch);
    expected_cost += branch.chance * tallyCost(tallies, row, tags, placePrices(branch.belief, tags, branch.locate));
    release_g += branch.chance * tallyRelease(tallies, row, tags);
  }
  return {
    id,
    offered: not_offered_because === null,
    not_offered_because,
    fixed,
    branches,
    expected_cost,
    release_g,
    expected_cost_with_carbon: expected_cost + tags.release * release_g,
    leads_to_repair,
  };
}

/** Living without cooling: it costs the worth of the seasons, and what is in the system leaks out. */
function liveWithout(
  season_worth: number,
  not_offered_because: Option["not_offered_because"],
  futures: Futures,
  tags: PriceTags,
): Option {
  const { years, fade } = futures.spending.horizon;
  const expected_cost = season_worth * fadingIntegral(fade, 0, years);
  const release_g = meanEventFreeRelease(futures);
  return {
    id: "live-without",
    offered: not_offered_because === null,
    not_offered_because,
    fixed: expected_cost,
    branches: [],
    expected_cost,
    release_g,
    expected_cost_with_carbon: expected_cost + tags.release * release_g,
    leads_to_repair: null,
  };
}
