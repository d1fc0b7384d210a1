import { PLACES, type PlaceId, RULES, type Rule } from "../../data/rules.ts";
import type { OptionId, RefrigerantId, Service } from "./contract.ts";
import { dayNumber, isoFromDay } from "./dates.ts";

/** What decides whether a rule bites. Unknown facts are left out, and then bar nothing. */
export interface RuleCase {
  place: PlaceId;
  service: Service;
  /** `YYYY-MM-DD`: the day of the work. */
  date: string;
  refrigerant?: RefrigerantId;
  /** Whether more has leaked than such a system loses by itself; for rules that speak of an abnormal leak. */
  abnormal_leak?: boolean;
}

export interface RuledOption {
  option: OptionId;
  rule: Rule;
}

/** Deposit on a can bought on `date`, and the last day on which it comes back. */
export interface Deposit {
  per_can: number;
  currency: "USD";
  return_within_days: number;
  return_by: string;
  rule: Rule;
}

/** Rules in force in `place` on `date`, the place's own first, then those of the places around it. */
export function rulesFor(place: PlaceId, date: string): Rule[] {
  const day = dayNumber(date);
  const inForce = (rule: Rule) =>
    (rule.from === null || day >= dayNumber(rule.from)) && (rule.until === null || day < dayNumber(rule.until));
  const places: PlaceId[] = [];
  for (let at: PlaceId | null = place; at !== null; at = PLACES[at].within) places.push(at);
  return places.flatMap((id) => RULES.filter((rule) => rule.place === id && inForce(rule)));
}

/** Options that a rule forbids for this case, each once, with the rule nearest to the place. */
export function barredOptions(ruleCase: RuleCase): RuledOption[] {
  const barred = new Map<OptionId, Rule>();
  for (const rule of rulesFor(ruleCase.place, ruleCase.date)) {
    for (const bar of rule.bars) {
      if (bar.service !== ruleCase.service) continue;
      if (bar.refrigerants !== undefined && !bar.refrigerants.some((id) => id === ruleCase.refrigerant)) continue;
      if (bar.when === "abnormal-leak" && ruleCase.abnormal_leak !== true) continue;
      if (!barred.has(bar.option)) barred.set(bar.option, rule);
    }
  }
  return [...barred].map(([option, rule]) => ({ option, rule }));
}

/** The deposit on a can bought in `place` on `date`, or null where there is none that day. */
export function depositFor(place: PlaceId, date: string): Deposit | null {
  for (const rule of rulesFor(place, date)) {
    if (rule.deposit === null) continue;
    const { per_can, currency, return_within_days } = rule.deposit;
    return {
      per_can,
      currency,
      return_within_days,
      return_by: isoFromDay(dayNumber(date) + return_within_days),
      rule,
    };
  }
  return null;
}
