import { namesOf } from "./columns.ts";
import { FIGURES } from "./fleet-columns.ts";
import { ANSWER_CURRENCY } from "./record-stamp.ts";
import type { Param } from "./sql.ts";
import { searchText } from "./text.ts";

/** Selecting and sorting the vehicles of a fleet, for its table, its pictures and its exports alike. */

/** How the table can be sorted; `worth` lists first those for which acting makes a difference, by what it saves. */
export const FLEET_SORTS = [
  "worth",
  "label",
  "fleet_group",
  "depot",
  "model_year",
  "odometer",
  "saved",
  "avoided",
  ...namesOf(FIGURES),
] as const;
export type FleetSort = (typeof FLEET_SORTS)[number];

/** No answer: neither an option nor `check-first`. */
export const NO_VERDICT = "none";

/** Days between which a vehicle becomes low, both counted in; null: open on that side. */
export interface LowSpan {
  from: string | null;
  until: string | null;
}

export interface FleetQuery {
  search?: string;
  fleet_group?: string;
  depot?: string;
  refrigerant?: string;
  /** An option, `check-first`, or `NO_VERDICT`. */
  verdict?: string;
  /** When it is low. Open at the beginning, those that are low now are meant too; at the end, those that never are. */
  low?: LowSpan | null;
  sort?: FleetSort;
  descending?: boolean;
  /** From 1. */
  page?: number;
  per_page?: number;
}

/** Whether the figures are in the currency that answers have now; others have to be recomputed. */
export const IN_ITS_MONEY = `a.currency = ${ANSWER_CURRENCY}`;

/** Vehicles `v` with the short rows `a` of their answers. */
export const JOINED = `vehicles AS v LEFT JOIN fleet_answers AS a
  ON a.workspace_id = v.workspace_id AND a.vehicle_id = v.id AND ${IN_ITS_MONEY}`;

/** The vehicles that a query means, as a condition on `JOINED`; whether that is all of them. */
export function matching({ search = "", fleet_group, depot, refrigerant, verdict, low }: FleetQuery) {
  const every = ["v.workspace_id = :workspace", "v.archived_at IS NULL"];
  const conditions = [...every];
  const params: Param[] = [];
  const add = (condition: string, ...values: Param[]) => {
    conditions.push(condition);
    params.push(...values);
  };
  if (fleet_group) add("v.fleet_group = ?", fleet_group);
  if (depot) add("v.depot = ?", depot);
  if (refrigerant) add("v.refrigerant = ?", refrigerant);
  if (verdict === NO_VERDICT) add("a.vehicle_id IS NOT NULL AND a.verdict IS NULL");
  else if (verdict) add("a.verdict = ?", verdict);
  if (low?.from != null) add("a.low_now = 0 AND ifnull(a.next_low, '9999') >= ?", low.from);
  if (low?.until != null) add("(a.low_now = 1 OR a.next_low <= ?)", low.until);
  for (const word of searchText(search).split(/\s+/).filter(Boolean).slice(0, 8))
    add("instr(v.search_text, ?) > 0", word);
  return { condition: conditions.join(" AND "), params, all: conditions.length === every.length };
}

const SAVED = "(a.cost_as_is - a.cost_best)";
const AVOIDED = "(a.release_as_is_g - a.release_best_g)";

/** The ORDER BY of the table: vehicles without an answer last, equal ones by name. */
export function orderOf(sort: FleetSort, descending: boolean): string {
  const way = descending ? "DESC" : "ASC";
  const by = {
    worth: `abs(${SAVED}) >= 0.5 ${way} NULLS LAST, ${SAVED} ${way} NULLS LAST, ${AVOIDED}`,
    label: "v.sort_key",
    fleet_group: "v.fleet_group",
    depot: "v.depot",
    model_year: "v.model_year",
    watch_date: "CASE WHEN a.watch_date > a.as_of THEN a.watch_date END",
    odometer: "v.odometer ->> '$.km'",
    saved: SAVED,
    avoided: AVOIDED,
  };
  return `${sort in by ? by[sort as keyof typeof by] : `a.${sort}`} ${way} NULLS LAST, v.sort_key, v.id`;
}
