import { weightedQuantile } from "../maths/weighted-quantile.ts";
import { type AssessRequest, LOCATION_IDS, type OptionId } from "../question/contract.ts";
import { costsByNodeAndPlace } from "./cost-spread.ts";
import { futuresOf } from "./futures.ts";
import { type Outlook, outlookOfRequest } from "./outlook.ts";
import { fadingIntegral } from "./spending.ts";

/** What an option has cost by the end of each year, at its low and its high end; the last year's are the option's own 5–95 %. */
export interface CostBand {
  p05: number[];
  p95: number[];
}

/**
 * 5 % and 95 % of the money spent on an option by the end of each year of the plan, over leak and place, discounted and
 * without carbon. Its decisions are those of the whole plan; only the counting stops early.
 * Throws RangeError when the request does not compare `id`.
 */
export function costBand(request: AssessRequest, id: OptionId): CostBand {
  return costBandOf(outlookOfRequest(request), id);
}

/** The same of an outlook that is there already. */
export function costBandOf(outlook: Outlook, id: OptionId): CostBand {
  const { keep_years } = outlook.question.plan;
  const by_year = Array.from({ length: Math.ceil(keep_years) }, (_, i) =>
    costsUntil(outlook, id, Math.min(i + 1, keep_years)),
  );
  const weights = weightsOf(outlook);
  const quantiles = (p: number) => by_year.map((costs) => weightedQuantile(costs.slice(), weights.slice(), p));
  return { p05: quantiles(0.05), p95: quantiles(0.95) };
}

/** Cost of an option at each node and place, counted until `years`. */
function costsUntil(
  { question, start, futures, tags, comparison }: Outlook,
  id: OptionId,
  years: number,
): Float64Array {
  const option = comparison.options.find((one) => one.id === id);
  if (option === undefined) throw new RangeError(`Not among the options compared: ${id}`);
  const counted = futuresOf({ ...question, plan: { ...question.plan, keep_years: years } }, start, futures.table);
  const { fade } = futures.ledger.horizon;
  // Living without it costs a bit every day; what else is fixed is paid today.
  const share =
    id === "live-without" ? fadingIntegral(fade, 0, years) / fadingIntegral(fade, 0, question.plan.keep_years) : 1;
  return costsByNodeAndPlace({ ...option, fixed: option.fixed * share }, counted, tags, false);
}

/** Weight of each node and place, in the order of `costsByNodeAndPlace`. */
function weightsOf({ nodes, known }: Outlook): Float64Array {
  const places = LOCATION_IDS.length;
  return Float64Array.from(
    { length: nodes.count * places },
    (_, i) => nodes.weight[Math.floor(i / places)]! * known.belief[i % places]!,
  );
}
