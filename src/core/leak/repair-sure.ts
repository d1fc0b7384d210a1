import { LEAK_NOISE, looks, REPAIR_SURE } from "../../../data/model-constants.ts";
import { normalCdfFast } from "../maths/normal.ts";
import { weightedMean } from "../maths/weighted-mean.ts";
import { isoFromDay } from "../quantities/dates.ts";
import type { Question } from "../question/question.ts";
import type { ClockValues } from "./clocks.ts";
import { dayAt } from "./leak-clock.ts";
import { G_COUNT, NODES, X, X_COUNT } from "./leak-grid.ts";
import { NEGLIGIBLE } from "./nodes.ts";
import type { Posterior } from "./posterior.ts";

/**
 * First quarter's date at which one more `ok` look would settle that the repair held; null without a repair, or when
 * that takes more than five years.
 */
export function repairSureDate(question: Question, posterior: Posterior): string | null {
  const { held, weight } = posterior;
  if (held === null) return null;
  if (weightedMean(held, weight) >= REPAIR_SURE) return question.as_of;
  const after = sureNodes(question, posterior, held);
  for (let quarter = 1; quarter <= 20; quarter++) {
    const t = quarter / 4;
    if (heldAfterOk(after, posterior.clocks.at(t)) >= REPAIR_SURE) return isoFromDay(dayAt(question.as_of_day, t));
  }
  return null;
}

/** What `repairSureDate` needs of each node that counts, over the first `count`. */
interface SureNodes {
  /** Number of nodes. */
  count: number;
  /** Index of the growth in `GROWTH`. */
  growth_index: Int32Array;
  /** Weight, adding to 1. */
  weight: Float64Array;
  /** Weight times the share in which the repair held. */
  held: Float64Array;
  /** Leak rate, grams a year. */
  k: Float64Array;
  /** Charge above the low line today, grams. */
  apart: Float64Array;
  /** Variance of that with the look's softness, g². */
  spread2: Float64Array;
}

function sureNodes({ nameplate_g }: Question, posterior: Posterior, held: Float64Array): SureNodes {
  const { weight, mean_m, mean_b, var_m, cov_mb, var_b } = posterior;
  const room = (): Float64Array => new Float64Array(NODES);
  const kept = { weight: room(), held: room(), k: room(), apart: room(), spread2: room() };
  const growth_index = new Int32Array(NODES);
  const soft2 = (looks.ok.softness * nameplate_g) ** 2;
  let count = 0;
  for (let j = 0, n = 0; j < G_COUNT; j++) {
    for (let i = 0; i < X_COUNT; i++, n++) {
      if (weight[n]! < NEGLIGIBLE) continue;
      growth_index[count] = j;
      kept.weight[count] = weight[n]!;
      kept.held[count] = weight[n]! * held[n]!;
      kept.k[count] = X[i]! * nameplate_g;
      kept.apart[count] = mean_m[n]! - mean_b[n]!;
      kept.spread2[count] = var_m[n]! - 2 * cov_mb[n]! + var_b[n]! + soft2;
      count++;
    }
  }
  return { count, growth_index, ...kept };
}

/** Chance that the repair held, given one `ok` look once the clocks read this. */
function heldAfterOk(nodes: SureNodes, { growth, growth_twice }: ClockValues): number {
  const { count, growth_index, weight, held, k, apart, spread2 } = nodes;
  const { mistaken } = looks.ok;
  let all = 0;
  let kept = 0;
  for (let n = 0; n < count; n++) {
    const rate = k[n]!;
    const j = growth_index[n]!;
    const s2 = spread2[n]! + rate * rate * LEAK_NOISE * LEAK_NOISE * growth_twice[j]!;
    const evidence = mistaken + (1 - 2 * mistaken) * normalCdfFast((apart[n]! - rate * growth[j]!) / Math.sqrt(s2));
    all += weight[n]! * evidence;
    kept += held[n]! * evidence;
  }
  return kept / all;
}
