import { test_advised, tie } from "../../../data/model-constants.ts";
import type { Reason, Verdict } from "../question/contract.ts";
import type { Guards } from "./guard.ts";
import type { Option } from "./option.ts";

/** Which option to take, and why (MODEL §6). */

/** The option to take, and the reasons in the order of the contract. */
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
