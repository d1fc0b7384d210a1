import { type Bar, PLACES, type PlaceId, RULES, type Rule, type RuleTopic } from "../../../data/rules.ts";
import { dayNumber, isoFromDay } from "../quantities/dates.ts";
import type { OptionId, RefrigerantId, Service } from "../question/contract.ts";

/** Whether `id` names a place of `data/rules.ts`. */
export function isPlace(id: string): id is PlaceId {
  return Object.hasOwn(PLACES, id);
}

/** What decides whether a rule applies. A fact that is left out bars nothing. */
export interface RuleCase {
  /** Where the work is done. */
  place: PlaceId;
  /** Who does it. */
  service: Service;
  /** The day of the work. */
  date: string;
  /** What the system is filled with. */
  refrigerant?: RefrigerantId;
  /** Whether the log shows an abnormal leak (`leakIsAbnormal`). */
  abnormal_leak?: boolean;
}

/** An option that a rule forbids. */
export interface RuledOption {
  /** Which option. */
  option: OptionId;
  /** The rule that forbids it. */
  rule: Rule;
}

/** The deposit on a can bought on a day. */
export interface Deposit {
  /** Money for each can. */
  per_can: number;
  /** What that money is in, ISO 4217. */
  currency: "USD";
  /** Days within which a can has to be returned. */
  return_within_days: number;
  /** The last of those days. */
  return_by: string;
  /** The rule that says so. */
  rule: Rule;
}

/** Rules in force in `place` on `date`: its own first, then those of the places it lies in. */
export function rulesFor(place: PlaceId, date: string): Rule[] {
  const day = dayNumber(date);
  return rulesEver(place).filter(
    ({ from, until }) => (from === null || day >= dayNumber(from)) && (until === null || day < dayNumber(until)),
  );
}

/** Rules of `place` that ended on or before `date`: people may remember them, but they no longer hold. */
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

/** Options that only rules known second-hand would forbid. They are warned of, not barred. */
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
