import { monthTable } from "../../src/core/leak/month-table.ts";
import { Spending } from "../../src/core/options/spending.ts";
import { TALLY } from "../../src/core/options/tally.ts";
import { questionOf } from "../../src/core/question/question.ts";
import { nodePaths, singleEvents } from "../support/node-paths.ts";

/**
 * What the options count for top-offs in later years, against present value factors. The model discounts continuously,
 * so a yearly rate d is its discount ln(1 + d), and a yearly escalation e its growth ln(1 + e).
 */
export function tallied(
  times: readonly number[],
  rate: number,
  escalation = 0,
): { visits: number; refrigerant: number } {
  const years = Math.ceil(Math.max(...times)) + 1;
  const question = questionOf({
    as_of: "2026-05-01",
    vehicle: { refrigerant: "R-134a", nameplate_g: 650 },
    plan: { service: "shop", keep_years: years },
    assumptions: { discount: Math.log1p(rate), refrigerant_growth: Math.log1p(escalation) },
  });
  // Nothing else ends the vehicle's life.
  const spending = new Spending({ ...question, plan: { ...question.plan, hazard: 0 } });
  const each = (value: number) => times.map(() => value);
  const events = singleEvents(times, each(1), each(Infinity));
  const table = monthTable((u) => u, [(u) => u], { years, hazard: 0 });
  const tally = nodePaths(events, { k: 1, clock: 0 }, [0], spending, table);
  return { visits: tally[TALLY.visits]!, refrigerant: tally[TALLY.refrigerant]! };
}
