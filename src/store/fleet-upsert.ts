import { millisecondsInDay } from "date-fns/constants";
import { Problem } from "../core/problem.ts";
import { insertRows } from "./bulk.ts";
import { ConstraintFailed } from "./errors.ts";
import { contentHash } from "./hash.ts";
import type { Scope, SubmitKey } from "./scope.ts";
import type { Statement } from "./sql.ts";
import { planOf } from "./upsert-plan.ts";
import type { EntryCheck, UpsertAnswer, UpsertCall } from "./upsert-shapes.ts";

/** Days for which the answer to a call under a key is kept. */
const KEPT_CALL_DAYS = 30;
/** How often a call is planned anew when someone writes at the same time. */
const ATTEMPTS = 3;

/**
 * Vehicles and events of other programs, each under the id that the program has for it. An item is stored whole or
 * refused whole; those that are good come in together, in one change. What a program sends again as it sent it before
 * is no news, so that it does not take back what somebody corrected or removed here since.
 */
export class FleetUpsert {
  readonly #scope: Scope;

  constructor(scope: Scope) {
    this.#scope = scope;
  }

  /**
   * Stores what is new or other. The same call under the same `key` changes nothing and gives the answer of the first;
   * throws `Problem` invalid when another call had this key, and changed when others write all the time.
   */
  async apply(
    call: UpsertCall,
    check: EntryCheck,
    key: SubmitKey = null,
  ): Promise<{ answer: UpsertAnswer; repeated: boolean }> {
    this.#scope.require("editor");
    const content_hash = key === null ? "" : await contentHash(call);
    for (let attempt = 1; ; attempt++) {
      const before = key === null ? null : await this.#answered(key, content_hash);
      if (before !== null) return { answer: before, repeated: true };
      const plan = await planOf(this.#scope, call, check);
      const statements = [
        ...(key === null ? [] : this.#remembering(key, content_hash, plan.answer)),
        ...plan.statements,
      ];
      const { answer } = plan;
      if (statements.length === 0) return { answer, repeated: false };
      try {
        await this.#scope.batch(statements);
        return { answer, repeated: false };
      } catch (error) {
        if (!(error instanceof ConstraintFailed)) throw error;
        if (error.kind !== "unique" && error.what !== "guard") throw error;
        if (attempt < ATTEMPTS) continue;
        throw new Problem("changed", "The records were changed at the same time. Nothing was stored: send it again.");
      }
    }
  }

  async #answered(key: string, content_hash: string): Promise<UpsertAnswer | null> {
    const [row] = await this.#scope.all<{ content_hash: string; answer: string }>(
      "SELECT content_hash, answer FROM bulk_calls WHERE workspace_id = :workspace AND call_key = ?",
      [key],
    );
    if (row === undefined) return null;
    if (row.content_hash === content_hash) return JSON.parse(row.answer);
    throw new Problem("invalid", "Another call came under this key before. Draw a new key for each call.", [
      { path: "Idempotency-Key", message: "This key belongs to a call with something else in it." },
    ]);
  }

  #remembering(call_key: string, content_hash: string, answer: UpsertAnswer): Statement[] {
    const made_at = this.#scope.now();
    const oldest = new Date(Date.parse(made_at) - KEPT_CALL_DAYS * millisecondsInDay).toISOString();
    return [
      { sql: "DELETE FROM bulk_calls WHERE workspace_id = :workspace AND made_at < ?", params: [oldest] },
      ...insertRows("bulk_calls", [{ call_key, content_hash, answer: JSON.stringify(answer), made_at }]),
    ];
  }
}
