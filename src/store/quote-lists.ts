import type { QuoteState } from "../core/quotes/quote.ts";
import type { RepairCheck } from "../core/reminders.ts";
import { columnsOf, nullable, number, rowReader, text } from "./columns.ts";
import { QUOTE, type Quote } from "./quote-row.ts";
import type { Scope } from "./scope.ts";
import type { Param } from "./sql.ts";

/** Columns of a quote that lists show as stored. */
const LISTED = [
  "id",
  "vehicle_id",
  "number",
  "status",
  "valid_until",
  "sent_at",
  "decided_at",
  "decided_name",
  "work_at",
  "version",
  "updated_at",
] as const;

/** A line of a list of quotes. */
export interface QuoteSummary extends Pick<Quote, (typeof LISTED)[number]> {
  vehicle_label: string;
  customer: string;
  /** Title of the option that was accepted. */
  decided_title: string | null;
  /** Of the option that was accepted, else of the one that is recommended; null where there is neither. */
  total_minor: number | null;
  currency: string;
}

/** What is looked for among quotes. */
export interface QuoteSearch {
  /** A number, or part of a customer, a vehicle's name, its plate or its VIN; "" for all. */
  text: string;
  state: QuoteState | null;
  /** The day that says what has expired, `YYYY-MM-DD`. */
  today: string;
  /** Only numbers under this one: the next page. */
  before: number | null;
  limit: number;
}

const SEARCHED = [
  "coalesce(q.content ->> 'customer', '')",
  "v.label",
  "coalesce(q.content ->> '$.vehicle_shown.words', '')",
  "coalesce(q.content ->> '$.vehicle_shown.plate', '')",
  "coalesce(q.content ->> '$.vehicle_shown.vin', '')",
] as const;

const summaryOf = rowReader<QuoteSummary>({
  ...columnsOf(QUOTE, LISTED),
  vehicle_label: text,
  customer: text,
  decided_title: nullable(text),
  total_minor: nullable(number),
  currency: text,
});
const repairCheckOf = rowReader<RepairCheck & { vehicle_id: string }>({ vehicle_id: text, repaired: text, on: text });

const SELECT_SUMMARIES = `SELECT ${LISTED.map((name) => `q.${name}`).join(", ")},
  v.label AS vehicle_label, q.content ->> 'customer' AS customer,
  (SELECT value ->> 'title' FROM json_each(q.snapshot, '$.options') WHERE value ->> 'id' = q.decided_option) AS decided_title,
  (SELECT value ->> '$.price.total_minor' FROM json_each(q.snapshot, '$.outlook.options')
    WHERE value ->> 'id' = coalesce(q.decided_option, q.snapshot ->> 'recommended')) AS total_minor,
  q.content ->> 'currency' AS currency
  FROM quotes AS q JOIN vehicles AS v ON v.workspace_id = q.workspace_id AND v.id = q.vehicle_id`;

/** Lists of the quotes of a workspace. Throw `Problem` not-found for a vehicle that is not in it. */
export class QuoteLists {
  readonly #scope: Scope;

  constructor(scope: Scope) {
    this.#scope = scope;
  }

  /** The quotes of a vehicle, newest first. */
  async list(vehicle_id: string): Promise<QuoteSummary[]> {
    const rows = await this.#scope.ofVehicle(vehicle_id, {
      sql: `${SELECT_SUMMARIES} WHERE q.workspace_id = :workspace AND q.vehicle_id = ? ORDER BY q.number DESC`,
      params: [vehicle_id],
    });
    return rows.map(summaryOf);
  }

  /**
   * The quotes given to a customer, and those for vehicles that are theirs and were given to nobody else; newest first.
   */
  ofCustomer(customer_id: string): Promise<QuoteSummary[]> {
    return this.#summaries(
      `q.workspace_id = :workspace AND coalesce(q.content ->> '$.customer_id',
         (SELECT p.customer_id FROM vehicle_particulars AS p
          WHERE p.workspace_id = q.workspace_id AND p.vehicle_id = q.vehicle_id)) = ?
       ORDER BY q.number DESC`,
      [customer_id],
    );
  }

  /** The latest quotes of the workspace, newest first. */
  recent(limit = 100): Promise<QuoteSummary[]> {
    return this.search({ text: "", state: null, today: "", before: null, limit });
  }

  /** The quotes that a search finds, newest first, from the one under number `before` on. */
  search({ text, state, today, before, limit }: QuoteSearch): Promise<QuoteSummary[]> {
    const conditions = ["q.workspace_id = :workspace"];
    const params: Param[] = [];
    if (text !== "") {
      conditions.push(
        `(CAST(q.number AS TEXT) = ? OR ${SEARCHED.map((part) => `instr(lower(${part}), lower(?)) > 0`).join(" OR ")})`,
      );
      params.push(text, ...SEARCHED.map(() => text));
    }
    if (state === "sent" || state === "expired") {
      conditions.push(`q.status = 'sent' AND q.valid_until ${state === "sent" ? ">=" : "<"} ?`);
      params.push(today);
    } else if (state !== null) {
      conditions.push("q.status = ?");
      params.push(state);
    }
    if (before !== null) {
      conditions.push("q.number < ?");
      params.push(before);
    }
    return this.#summaries(`${conditions.join(" AND ")} ORDER BY q.number DESC LIMIT ?`, [...params, limit]);
  }

  /** Those that wait for an answer, in time or not, and those that were accepted and whose work is not logged. */
  open(limit: number): Promise<QuoteSummary[]> {
    return this.#summaries(
      `q.workspace_id = :workspace
         AND (q.status = 'sent' OR q.status = 'accepted' AND q.work IS NULL) ORDER BY q.number LIMIT ?`,
      [limit],
    );
  }

  /** When to ask whether repairs of quotes held, with the day on which each was done. */
  async repairChecks(): Promise<(RepairCheck & { vehicle_id: string })[]> {
    const rows = await this.#scope.all(
      `SELECT vehicle_id, work ->> 'date' AS repaired, work ->> 'follow_up_on' AS "on" FROM quotes
       WHERE workspace_id = :workspace AND work ->> 'follow_up_on' IS NOT NULL ORDER BY number DESC`,
    );
    return rows.map(repairCheckOf);
  }

  async #summaries(condition: string, params: readonly Param[]): Promise<QuoteSummary[]> {
    return (await this.#scope.all(`${SELECT_SUMMARIES} WHERE ${condition}`, params)).map(summaryOf);
  }
}
