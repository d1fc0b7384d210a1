import { guard, SPELL_FILL_SHARE, SURPRISING } from "../../../data/model-constants.ts";
import { lastSpellOf } from "../leak/charge-log.ts";
import { lastsLessThan } from "../leak/leak.ts";
import { DAYS_PER_YEAR } from "../leak/leak-clock.ts";
import type { Posterior } from "../leak/posterior.ts";
import type { Question } from "../question/question.ts";
import { fillLeft } from "./futures.ts";

/** Conditions that override the comparison of costs (MODEL §6). */
export interface Guards {
  /** Gauge and vent readings say that low charge is not the trouble. */
  not_low: boolean;
  /** The log before the low look that stands gave it this small a chance, `days` after the last fill; else null. */
  surprise: { probability: number; days: number } | null;
  /** No pressure is left, so there are air and moisture in the system. */
  empty: boolean;
  /** Chance that a full charge does not last the floor, 0–1, where that forbids topping off; else null. */
  floor_probability: number | null;
}

/** Which guards hold for a question. */
export function guardsOf(question: Question, posterior: Posterior): Guards {
  return {
    not_low: question.plan.readings === "not-low",
    surprise: surpriseOf(question, posterior),
    empty: posterior.standing?.kind === "empty",
    floor_probability: floorProbability(question, posterior),
  };
}

/** Guard 4: a low look stands that the log gave little chance. It is a sudden leak or not low at all; readings tell. */
function surpriseOf({ plan }: Question, { standing, visits }: Posterior): Guards["surprise"] {
  if (standing === null || standing.kind === "empty" || standing.seen >= SURPRISING || plan.readings === "low")
    return null;
  const fill = visits.findLast((visit, entry) => entry < standing.entry && visit.fill !== null);
  if (fill === undefined) return null;
  return { probability: standing.seen, days: Math.round((visits[standing.entry]!.t - fill.t) * DAYS_PER_YEAR) };
}

/**
 * Guard 1: what does not hold a charge for the floor is not topped off again. The chance that a full charge lasts less
 * than the floor, 0–1, where that forbids topping off; null where topping off is allowed.
 *
 * @internal Called from outside by tests alone.
 */
export function floorProbability(question: Question, posterior: Posterior): number | null {
  const floor_years = question.plan.floor_months / 12;
  if (floor_years === 0) return null;
  const chance = lastsLessThan(posterior, question.nameplate_g, floor_years);
  if (chance > guard.likely) return chance;
  return chance > guard.possible && lastSpellWasShort(question, posterior, floor_years) ? chance : null;
}

/**
 * Whether the log's last spell, from a fill to the first low look after it, was shorter in season-adjusted time than
 * the floor. It does not count if the fill left too little, or if a repair or an `ok` look has overtaken it since.
 *
 * @internal Called from outside by tests alone.
 */
export function lastSpellWasShort(question: Question, posterior: Posterior, floor_years: number): boolean {
  const { visits, clocks } = posterior;
  const spell = lastSpellOf(visits);
  if (spell === null) return false;
  const { fill: from, low: to } = spell;
  if (fillLeft(posterior, from) < SPELL_FILL_SHARE * question.nameplate_g) return false;
  let filled_since = false;
  let latest_fill_t = visits[from]!.t;
  for (let entry = from + 1; entry < visits.length; entry++) {
    const visit = visits[entry]!;
    if (visit.repair !== null) return false;
    if (entry > to && visit.cooling === "ok" && (!filled_since || visit.t - latest_fill_t >= floor_years)) return false;
    if (visit.fill !== null) {
      if (entry >= to) filled_since = true;
      latest_fill_t = visit.t;
    }
  }
  return clocks.season(visits[to]!.t) - clocks.season(visits[from]!.t) < floor_years;
}
