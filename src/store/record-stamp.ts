import { GENERAL_CURRENCY } from "../../data/currencies.ts";

/** Ledgers that the model's question is made of. */
const ASKED_ABOUT = ["charge_log", "findings", "readings"] as const;

/** How many lines a ledger has of one vehicle `v`. */
export function linesOf(ledger: string): string {
  return `(SELECT count(*) FROM ${ledger} WHERE workspace_id = v.workspace_id AND vehicle_id = v.id)`;
}

/** Changes whenever a price book does: versions count up, and no book is ever deleted. */
const BOOKS_STAMP = "(SELECT concat_ws(' ', count(*), sum(version)) FROM price_books WHERE workspace_id = :workspace)";

const TERMS_STAMP = "(SELECT concat_ws(' ', count(*), sum(version)) FROM fleet_terms WHERE workspace_id = :workspace)";

const LOGGED_STAMP = `(SELECT concat_ws(' ', from_date, until_date, missed) FROM fleet_logged AS whole
  WHERE whole.workspace_id = v.workspace_id AND whole.vehicle_id = v.id)`;

/** A stamp of a vehicle `v` in its workspace `w`, which changes whenever what the model is asked about it does. */
function stampOf(lines: (ledger: string) => string): string {
  return `concat_ws('.', w.version, v.version, ${ASKED_ABOUT.map(lines).join(", ")}, ${BOOKS_STAMP},
    ${TERMS_STAMP}, ${LOGGED_STAMP})`;
}

/** SQL for the currency of the workspace's answers, as `answerCurrency` of `core/quotes/price-terms.ts` has it. */
export const ANSWER_CURRENCY = `(SELECT CASE WHEN EXISTS (SELECT 1 FROM price_books AS b
    WHERE b.workspace_id = :workspace AND b.archived_at IS NULL AND b.book ->> '$.currency' = w.currency)
  THEN w.currency ELSE '${GENERAL_CURRENCY}' END FROM workspaces AS w WHERE w.workspace_id = :workspace)`;

/** The stamp of one vehicle, or of a few: ledgers only grow, so the number of their lines tells. */
export const RECORD_STAMP = stampOf(linesOf);

/**
 * The vehicles in use with their stamps, each ledger counted once for all of them. (The plus keeps SQLite from going
 * through the vehicles by group: in the order of their ids, the other tables are read from front to back.)
 */
export const STAMPED_VEHICLES = `SELECT v.id AS vehicle_id, v.fleet_group, v.kind,
    ${stampOf((ledger) => `coalesce(of_${ledger}.lines, 0)`)} AS stamp
  FROM vehicles AS v JOIN workspaces AS w ON w.workspace_id = v.workspace_id
  ${ASKED_ABOUT.map(
    (ledger) => `LEFT JOIN (SELECT vehicle_id, count(*) AS lines FROM ${ledger}
      WHERE workspace_id = :workspace GROUP BY vehicle_id) AS of_${ledger} ON of_${ledger}.vehicle_id = v.id`,
  ).join(" ")}
  WHERE v.workspace_id = :workspace AND +v.archived_at IS NULL`;
