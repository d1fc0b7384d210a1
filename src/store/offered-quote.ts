import type { WrittenAgreement } from "../core/quotes/agreement.ts";
import type { QuoteState } from "../core/quotes/quote.ts";
import type { QuoteDecision, QuoteSnapshot } from "../core/quotes/quote-document.ts";
import { json, nullable, number, oneOf, rowReader, text } from "./columns.ts";
import { sha256Hex } from "./hash.ts";
import type { Sql } from "./sql.ts";
import { keptText } from "./text.ts";
import { tellAnswer } from "./webhook-outbox.ts";

/** What the customer's link opens: this, and nothing else. */
export interface OfferedQuote {
  status: Exclude<QuoteState, "draft" | "expired">;
  snapshot: QuoteSnapshot;
  decided_at: string | null;
  decided_name: string | null;
  decided_option: string | null;
  /** What was agreed on besides the option, oldest first. */
  agreed: WrittenAgreement[] | null;
  /** Number of a later quote that was sent instead of this one; null for none, and where the shop wants it unsaid. */
  newer_number: number | null;
  /** The shop's, as it is today; "" for none. */
  logo: string;
  /** Where the shop is: its calendar says when the quote runs out. */
  time_zone: string;
}

interface Edge {
  sql: Sql;
}

const SELECT_OFFERED = `SELECT q.status, q.snapshot, q.decided_at, q.decided_name, q.decided_option, q.agreed, w.time_zone,
  coalesce((SELECT l.letterhead ->> 'logo' FROM letterheads AS l WHERE l.workspace_id = q.workspace_id), '') AS logo,
  (SELECT max(n.number) FROM quotes AS n WHERE n.workspace_id = q.workspace_id AND n.replaces = q.id
    AND n.status IN ('sent', 'accepted', 'declined') AND NOT EXISTS (SELECT 1 FROM letterheads AS l
      WHERE l.workspace_id = q.workspace_id AND l.letterhead ->> 'tell_newer' = 'no')) AS newer_number
  FROM quotes AS q JOIN workspaces AS w USING (workspace_id) WHERE q.token_hash = ? AND q.status <> 'draft'`;

/** The quote behind a token; null for an unknown one. */
export async function offeredQuote({ sql }: Edge, token: string): Promise<OfferedQuote | null> {
  const [row] = await sql.all(SELECT_OFFERED, [await sha256Hex(token)]);
  return row === undefined ? null : offeredOf(row);
}

/**
 * Writes down what the customer said, once: whoever comes second, comes after the last day (`today` is the day where
 * the shop is), or after it was withdrawn, changes nothing. Gives the quote as it then stands, and whether this was the
 * one. Null for an unknown token.
 */
export async function decideQuote(
  { sql, now }: Edge & { now: () => Date },
  token: string,
  { option, name, keep_years }: QuoteDecision,
  today: string,
): Promise<{ offered: OfferedQuote; decided: boolean } | null> {
  const token_hash = await sha256Hex(token);
  const at = now().toISOString();
  const [changed, , found] = await sql.batch([
    {
      sql: `UPDATE quotes SET status = ?, decided_at = ?, decided_name = ?, decided_option = ?, decided_keep_years = ?,
          version = version + 1, updated_at = ?, updated_by = 'customer'
        WHERE token_hash = ? AND status = 'sent' AND valid_until >= ? RETURNING id`,
      params: [
        option === null ? "declined" : "accepted",
        at,
        keptText(name),
        option,
        keep_years,
        at,
        token_hash,
        today,
      ],
    },
    tellAnswer(at, "q.token_hash = ? AND q.decided_at = ? AND q.decided_how IS NULL", [token_hash, at]),
    { sql: SELECT_OFFERED, params: [token_hash] },
  ]);
  const [row] = found!;
  return row === undefined ? null : { offered: offeredOf(row), decided: changed!.length === 1 };
}

const offeredOf = rowReader<OfferedQuote>({
  status: oneOf(["sent", "accepted", "declined", "withdrawn"]),
  snapshot: json(),
  decided_at: nullable(text),
  decided_name: nullable(text),
  decided_option: nullable(text),
  agreed: nullable(json()),
  newer_number: nullable(number),
  logo: text,
  time_zone: text,
});
