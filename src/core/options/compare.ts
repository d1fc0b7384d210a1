import { DYE_WAIT_YEARS, LOCATED_SHARE, test_advised, tie } from "../../../data/model-constants.ts";
import type { TestOutcome } from "../leak/locations.ts";
import type { OptionAnswer, OptionId, Reason, TestId, Verdict } from "../question/contract.ts";
import type { Question } from "../question/question.ts";
import { type Futures, meanEventFreeRelease } from "./futures.ts";
import type { Guards } from "./guard.ts";
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

/** The options of a question, what each is expected to cost and release, and the verdict (MODEL §6). */

/** What an option does in one case: at once, or after one outcome of a test. Arrays are by place. */
export interface Branch {
  /** What is done. */
  course: "repair-now" | "repair-after-dye" | "top-off";
  /** Index of the switch rule; 0 for repairs. */
  rule: number;
  /** Chance of this case, 0–1. */
  chance: number;
  /** Chance of this case if the leak is at each place, 0–1. */
  chance_given: readonly number[];
  /** Chance of each place in this case, adding to 1. */
  belief: readonly number[];
  /** Fee for finding the place, due with a repair, money. */
  locate: number;
}

/** An option compared; what it shares with `OptionAnswer` is said there. */
export interface Option {
  /** Which option. */
  id: OptionId;
  /** Whether it can be chosen. */
  offered: boolean;
  /** Why it cannot be chosen; null where it can. */
  not_offered_because: OptionAnswer["not_offered_because"];
  /** Cost that no outcome changes, money: the price of a test, or the worth of the seasons lived without. */
  fixed: number;
  /** The cases it splits into; none for living without. */
  branches: readonly Branch[];
  /** Average cost, money discounted to today, without carbon. */
  expected_cost: number;
  /** Average release, grams. */
  release_g: number;
  /** `expected_cost` plus the carbon price of the release, money. */
  expected_cost_with_carbon: number;
  /** Of a test: chance that a repair follows, 0–1; else null. */
  leads_to_repair: number | null;
}

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

/** Costs whose relative difference is below this are equal up to rounding. */
export const SAME_COST = 1e-9;

/** A case that is certain, wherever the leak is. */
const CERTAIN = [1, 1, 1, 1, 1, 1] as const;

/** Mean tallies that hold a branch, and the row of it in them. */
export function meanPath(futures: Futures, branch: Pick<Branch, "course" | "rule">): [Float64Array, number] {
  if (branch.course === "repair-now") return [futures.repair_now, 0];
  if (branch.course === "repair-after-dye") return [futures.repair_after_dye_mean, 0];
  return [futures.top_off_mean, branch.rule];
}

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

/**
 * The option to take, and the reasons in the order of the contract.
 *
 * @internal Called from outside by tests alone.
 */
export function verdictOf(floor_months: number, options: readonly Option[], guards: Guards): Verdict {
  const rules = options
    .filter((one) => one.not_offered_because === "rule")
    .map((one): Reason => ({ code: "rule", values: { option: one.id } }));
  const check = checkFirst(guards);
  if (check !== null) {
    return { option: "check-first", guard: check.code, tie_break: false, reasons: [check, ...rules] };
  }

  const top_off_barred = options.some((one) => one.id === "top-off" && one.not_offered_because === "rule");
  const against = againstToppingOff(floor_months, guards, top_off_barred);
  const guard = against?.code ?? null;
  const reasons: Reason[] = against === null ? [] : [against];
  const offered = options.filter((one) => one.offered);
  const first = firstChoice(offered);
  if (first === null) return { option: null, guard, tie_break: false, reasons: [...reasons, ...rules] };
  const cleaner = cleanerChoice(offered, first);
  const choice = cleaner ?? first;
  if (cleaner !== null) {
    reasons.push({
      code: "tie-break",
      values: {
        dearer_by: cleaner.expected_cost_with_carbon - first.expected_cost_with_carbon,
        release_saved_g: first.release_g - cleaner.release_g,
      },
    });
  } else {
    const next = cheapest(offered.filter((one) => one !== choice));
    if (next !== null) {
      const cheaper_by = next.expected_cost_with_carbon - choice.expected_cost_with_carbon;
      reasons.push({ code: "cost", values: { next: next.id, cheaper_by } });
    }
  }
  return { option: choice.id, guard, tie_break: cleaner !== null, reasons: [...reasons, ...rules] };
}

/** Why readings have to come before any decision; null where they do not. */
function checkFirst({ not_low, surprise }: Guards): Extract<Reason, { code: "readings" | "surprise" }> | null {
  if (not_low) return { code: "readings", values: {} };
  return surprise === null ? null : { code: "surprise", values: surprise };
}

/**
 * The weightiest guard against topping off, or null. Lack of pressure is not named where a rule bars topping off
 * anyway.
 */
function againstToppingOff(
  floor_months: number,
  { empty, floor_probability }: Guards,
  barred: boolean,
): Extract<Reason, { code: "empty" | "floor" }> | null {
  if (empty && !barred) return { code: "empty", values: {} };
  return floor_probability === null
    ? null
    : { code: "floor", values: { floor_months, probability: floor_probability } };
}

/** What a choice between options goes by. */
export type Weighed = Pick<Option, "expected_cost_with_carbon" | "release_g" | "leads_to_repair">;

/** Whether an option is a leak test. */
export function isTest(option: Pick<Option, "leads_to_repair">): boolean {
  return option.leads_to_repair !== null;
}

/** The option of least expected cost, carbon included, the earlier on a tie; null without options. */
export function cheapest<T extends Weighed>(options: readonly T[]): T | null {
  let best: T | null = null;
  for (const one of options) {
    if (best === null || one.expected_cost_with_carbon < best.expected_cost_with_carbon) best = one;
  }
  return best;
}

/** The cheapest option that is no test, unless a test saves enough and is likely enough to lead to a repair. */
export function firstChoice<T extends Weighed>(offered: readonly T[]): T | null {
  const base = cheapest(offered.filter((one) => !isTest(one)));
  const test = cheapest(
    offered.filter(
      (one) =>
        isTest(one) &&
        (one.leads_to_repair ?? 0) >= test_advised.leads_to_repair &&
        (base === null || base.expected_cost_with_carbon - one.expected_cost_with_carbon > test_advised.saves),
    ),
  );
  return test ?? base;
}

/** The cheapest option that costs about as much as `choice` and releases much less; null where there is none. */
export function cleanerChoice<T extends Weighed>(offered: readonly T[], choice: T): T | null {
  const within = Math.max(tie.money, tie.share * choice.expected_cost_with_carbon);
  return cheapest(
    offered.filter(
      (one) =>
        one !== choice &&
        !isTest(one) &&
        one.expected_cost_with_carbon - choice.expected_cost_with_carbon <= within &&
        one.release_g < tie.release * choice.release_g,
    ),
  );
}

/** Where the tallies of single nodes of a branch are: the array, the row of node 0, and the rows between two nodes. */
export function nodeRows(futures: Futures, branch: Branch): { tallies: Float64Array; first: number; stride: number } {
  if (branch.course === "repair-now") return { tallies: futures.repair_now, first: 0, stride: 0 };
  if (branch.course === "repair-after-dye") return { tallies: futures.repair_after_dye, first: 0, stride: 1 };
  return { tallies: futures.top_off, first: branch.rule, stride: futures.rules.length };
}
