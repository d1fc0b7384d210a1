import { hindsight } from "../../../data/hindsight.ts";
import { lowAgainOf } from "../leak/forecast.ts";
import { nodesOf } from "../leak/nodes.ts";
import { posteriorOf } from "../leak/posterior.ts";
import { dayNumber, isoFromDay, monthsAfter } from "../quantities/dates.ts";
import type { AssessRequest } from "../question/contract.ts";
import { questionOf } from "../question/question.ts";
import { type Spell, spellsOf } from "./spells.ts";

/** What the model would have said after a charge from what was on record then, and what came. */
export interface Prediction extends Pick<Spell, "from" | "until" | "ended" | "low_on"> {
  /** The likely range of the next low charge and its middle; null: not within 20 years. */
  p05: string | null;
  p50: string | null;
  p95: string | null;
  /** The chance, as seen then, that it is low by `low_on`, else by `until`. */
  chance: number;
  /** The date by the rule "as long as last time"; null without a charge before that is known to have been low again. */
  by_rule: string | null;
}

/** Of a log, which says nothing of prices. */
export type ReplayRequest = Pick<AssessRequest, "as_of" | "vehicle" | "log" | "logged" | "assumptions">;

/**
 * The charges of the last years in a log (the first `most_a_vehicle` of them), oldest first, each predicted from the
 * entries up to then. The prior is that of the request; for an honest replay no group's, which is fitted to what came
 * later.
 */
export function replayed(request: ReplayRequest): Prediction[] {
  const spells = spellsOf(questionOf(request));
  const first_from = monthsAfter(request.as_of, -12 * hindsight.years_back);
  const first = spells.findIndex(({ from }) => from >= first_from);
  if (first < 0) return [];
  return spells.slice(first, first + hindsight.most_a_vehicle).map((spell, i) => {
    const { dateOf, chanceBy } = sayingOf(request, spell.from);
    const { from, until, ended, low_on } = spell;
    const [p05, p50, p95] = [dateOf(hindsight.from_chance), dateOf(0.5), dateOf(hindsight.to_chance)];
    const at = low_on ?? until;
    const chance = besideRange(chanceBy(at), at, p05, p95);
    return { from, until, ended, low_on, p05, p50, p95, chance, by_rule: asLastTime(spells[first + i - 1], spell) };
  });
}

/** What the model says on the day `as_of` of when it will be low again. */
function sayingOf(request: ReplayRequest, as_of: string) {
  const { logged } = request;
  const question = questionOf({
    as_of,
    vehicle: request.vehicle,
    log: (request.log ?? []).filter(({ date }) => date <= as_of),
    // Whoever says so today would have said so then.
    logged:
      logged == null || (logged.from ?? as_of) > as_of
        ? null
        : { ...logged, until: logged.until < as_of ? logged.until : as_of },
    assumptions: request.assumptions,
  });
  const posterior = posteriorOf(question, { record: false });
  return lowAgainOf(question, posterior, nodesOf(posterior, question.nameplate_g));
}

function asLastTime(before: Spell | undefined, { from, repaired_at_start }: Spell): string | null {
  if (before?.low_on == null || repaired_at_start) return null;
  return isoFromDay(dayNumber(from) + dayNumber(before.low_on) - dayNumber(before.from));
}

/** So near to the bounds of the range that nothing else can lie between. */
const NEXT_TO = 1e-9;

/** Dates are whole days: a chance that a day's rounding put on the other side of the range's bound is put right. */
function besideRange(chance: number, at: string, p05: string | null, p95: string | null): number {
  const { from_chance, to_chance } = hindsight;
  if (p05 === null || at < p05) return Math.min(from_chance - NEXT_TO, chance);
  if (p95 !== null && at > p95) return Math.max(to_chance + NEXT_TO, chance);
  return Math.min(to_chance, Math.max(from_chance, chance));
}
