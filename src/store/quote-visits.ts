import { addMinutes } from "date-fns";
import type { Scope } from "./scope.ts";

/** Minutes without a look at the list after which the next look is a new visit. */
const VISIT_MINUTES = 30;
/** Within a visit, a look is recorded at most this often, in minutes. */
const WRITTEN_EVERY_MINUTES = 5;

/** What happened to a quote without the person's doing. */
export type QuoteNews = "accepted" | "declined" | "expired";

/** When each person last looked at the quotes, and what has happened to them since. */
export class QuoteVisits {
  readonly #scope: Scope;

  constructor(scope: Scope) {
    this.#scope = scope;
  }

  /**
   * Writes down that the person looks at the list now; gives the instant of the visit before. The first visit is its
   * own: nothing is new to it.
   */
  async visit(): Promise<string> {
    const { actor } = this.#scope;
    const now = this.#scope.now();
    const [known] = await this.#scope.all<{ since: string; visited_at: string }>(
      "SELECT since, visited_at FROM quote_visits WHERE workspace_id = :workspace AND person = ?",
      [actor],
    );
    const ago = (minutes: number) => addMinutes(now, -minutes).toISOString();
    const another = known === undefined || known.visited_at < ago(VISIT_MINUTES);
    const since = known === undefined ? now : another ? known.visited_at : known.since;
    if (another || known.visited_at < ago(WRITTEN_EVERY_MINUTES))
      await this.#scope.batch([
        {
          sql: `INSERT INTO quote_visits (workspace_id, person, since, visited_at) VALUES (:workspace, ?, ?, ?)
            ON CONFLICT (workspace_id, person) DO UPDATE SET since = excluded.since, visited_at = excluded.visited_at`,
          params: [actor, since, now],
        },
      ]);
    return since;
  }

  /**
   * What is new since an instant, by quote: answers that the person did not record, and quotes that ran out between
   * the days `from` and `today`, both where the shop is.
   */
  async news(since: string, { from, today }: { from: string; today: string }): Promise<Map<string, QuoteNews>> {
    const rows = await this.#scope.all<{ id: string; news: QuoteNews }>(
      `SELECT id, CASE status WHEN 'sent' THEN 'expired' ELSE status END AS news FROM quotes
       WHERE workspace_id = :workspace AND (
         status IN ('accepted', 'declined') AND decided_at > ? AND coalesce(decided_by, '') <> ?
         OR status = 'sent' AND valid_until >= ? AND valid_until < ?)`,
      [since, this.#scope.actor, from, today],
    );
    return new Map(rows.map(({ id, news }) => [id, news]));
  }
}
