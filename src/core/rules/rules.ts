import { type Bar, PLACES, type PlaceId, RULES, type Rule, type RuleTopic } from "../../../data/rules.ts";
import { dayNumber, isoFromDay } from "../quantities/dates.ts";
import type { OptionId, RefrigerantId, Service } from "../question/contract.ts";

export function isPlace(id: string): id is PlaceId {
  return Object.hasOwn(PLACES, id);
}

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
  return rulesEver(place).filter(
    ({ from, until }) => (from === null || day >= dayNumber(from)) && (until === null || day < dayNumber(until)),
  );
}

/** Rules of `place` that ended on or before `date`: what may still be remembered, and no longer holds. */
export function endedRules(place: PlaceId, date: string): Rule[] {
  return rulesEver(place).filter(({ until }) => until !== null && dayNumber(date) >= dayNumber(until));
}

function rulesEver(place: PlaceId): Rule[] {
  const places: PlaceId[] = [];
  for (let at: PlaceId | null = place; at !== null; at = PLACES[at].within) places.push(at);
  return places.flatMap((id) => RULES.filter((rule) => rule.place === id));
}

/**
 * Every bar in force in `place` on `date`, with its rule, the nearest rule first. Only rules whose text was read bar.
 */
export function barsIn(place: PlaceId, date: string): { bar: Bar; rule: Rule }[] {
  return rulesFor(place, date)
    .filter(({ grade }) => grade === "text-read")
    .flatMap((rule) => rule.bars.map((bar) => ({ bar, rule })));
}

/** Whether the text of any rule on who may, buying or repair was read for `place` itself or a place around it. */
export function rulesWereRead(place: PlaceId, date: string): boolean {
  return rulesFor(place, date).some(({ grade, topic }) => grade === "text-read" && DECIDING.has(topic));
}

const DECIDING: ReadonlySet<RuleTopic> = new Set(["who-may", "buying", "leak-repair"]);

/** Options that a rule forbids for this case, each once, with the rule nearest to the place. */
export function barredOptions(asked: RuleCase): RuledOption[] {
  return optionsUnder(asked, barsIn(asked.place, asked.date));
}

/** Options that a rule known second-hand would forbid, and no rule whose text was read: they warn, and bar nothing. */
export function warnedOptions(asked: RuleCase): RuledOption[] {
  const bars = rulesFor(asked.place, asked.date)
    .filter(({ grade }) => grade === "second-hand")
    .flatMap((rule) => rule.bars.map((bar) => ({ bar, rule })));
  const barred = barredOptions(asked);
  return optionsUnder(asked, bars).filter(({ option }) => !barred.some((one) => one.option === option));
}

function optionsUnder(
  { service, refrigerant, abnormal_leak }: RuleCase,
  bars: readonly { bar: Bar; rule: Rule }[],
): RuledOption[] {
  const found = new Map<OptionId, Rule>();
  for (const { bar, rule } of bars) {
    if (bar.service !== service || found.has(bar.option)) continue;
    if (bar.refrigerants !== undefined && !bar.refrigerants.some((id) => id === refrigerant)) continue;
    if (bar.when === "abnormal-leak" && abnormal_leak !== true) continue;
    found.set(bar.option, rule);
  }
  return [...found].map(([option, rule]) => ({ option, rule }));
}

/** The deposit on a can bought in `place` on `date`, or null where there is none that day. */
export function depositFor(place: PlaceId, date: string): Deposit | null {
  for (const rule of rulesFor(place, date)) {
    if (rule.deposit === null) continue;
    const return_by = isoFromDay(dayNumber(date) + rule.deposit.return_within_days);
    return { ...rule.deposit, return_by, rule };
  }
  return null;
}
