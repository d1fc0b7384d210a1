import type { AssessAnswer, AssessRequest } from "../core/question/contract.ts";
import { ConstraintFailed, StoreFailure } from "./errors.ts";
import { contentHash } from "./hash.ts";
import type { Scope } from "./scope.ts";

/** Answers kept for each vehicle: today's, that of its last entry, and a few what-ifs. */
const KEPT_PER_VEHICLE = 5;
/** Answers stored in one statement: with the longest logs ten take half a megabyte, of the two that it may have. */
const KEPT_AT_ONCE = 10;

/** A question about a vehicle. */
export interface Asked {
  vehicle_id: string;
  request: AssessRequest;
}

interface Kept {
  vehicle_id: string;
  input_hash: string;
  answer: string;
}

/**
 * Cached answers of the model, by the hash of their question and the version of the model. A question or model that
 * differs has another key, so a cached answer may be missing but not wrong.
 */
export class Assessments {
  readonly #scope: Scope;

  constructor(scope: Scope) {
    this.#scope = scope;
  }

  /**
   * The answer to a question about a vehicle: the kept one, or what `assess` computes, which is then kept. Throws
   * `Problem` not-found for a vehicle that is not in this workspace.
   */
  async answer<Answer extends AssessAnswer>(
    vehicle_id: string,
    request: AssessRequest,
    model_version: string,
    assess: (request: AssessRequest) => Answer | Promise<Answer>,
  ): Promise<Answer> {
    const input_hash = await contentHash(request);
    const [kept] = await this.#scope.ofVehicle<{ answer: string }>(vehicle_id, {
      sql: `SELECT answer FROM assessments
        WHERE workspace_id = :workspace AND vehicle_id = ? AND input_hash = ? AND model_version = ?`,
      params: [vehicle_id, input_hash, model_version],
    });
    if (kept !== undefined) return JSON.parse(kept.answer);
    const answer = await assess(request);
    await this.#keep([{ vehicle_id, input_hash, answer: JSON.stringify(answer) }], model_version);
    return answer;
  }

  /**
   * The answers to several questions, in their order. Those about vehicles that are not here are not kept. No more than
   * `most_new` are computed: after them there are kept ones only, and null for the others.
   */
  async answers<Answer extends AssessAnswer>(
    asked: readonly Asked[],
    model_version: string,
    assess: (request: AssessRequest) => Answer | Promise<Answer>,
    most_new = asked.length,
  ): Promise<(Answer | null)[]> {
    const hashes = await Promise.all(asked.map(({ request }) => contentHash(request)));
    const found = await this.#scope.all<{ vehicle_id: string; input_hash: string; answer: string }>(
      `SELECT vehicle_id, input_hash, answer FROM assessments
       WHERE workspace_id = :workspace AND model_version = ? AND (vehicle_id, input_hash) IN
         (SELECT value ->> 0, value ->> 1 FROM json_each(?))`,
      [model_version, JSON.stringify(asked.map(({ vehicle_id }, i) => [vehicle_id, hashes[i]]))],
    );
    const kept = new Map(found.map(({ vehicle_id, input_hash, answer }) => [`${vehicle_id} ${input_hash}`, answer]));
    const made: Kept[] = [];
    const answers: (Answer | null)[] = [];
    // One by one, so that a long list does not fill the queue of model runs that others wait in.
    for (const [i, { vehicle_id, request }] of asked.entries()) {
      const input_hash = hashes[i]!;
      const known = kept.get(`${vehicle_id} ${input_hash}`);
      if (known === undefined && made.length >= most_new) {
        answers.push(null);
        continue;
      }
      const answer: Answer = known === undefined ? await assess(request) : JSON.parse(known);
      if (known === undefined) made.push({ vehicle_id, input_hash, answer: JSON.stringify(answer) });
      answers.push(answer);
    }
    for (let i = 0; i < made.length; i += KEPT_AT_ONCE)
      await this.#keep(made.slice(i, i + KEPT_AT_ONCE), model_version);
    return answers;
  }

  /** Stores answers if possible: neither a full disk nor a vehicle just deleted may break the page. */
  async #keep(made: readonly Kept[], model_version: string): Promise<void> {
    const statements = [
      {
        sql: `INSERT INTO assessments (workspace_id, vehicle_id, input_hash, model_version, answer, made_at)
          SELECT :workspace, value ->> 'vehicle_id', value ->> 'input_hash', ?, value ->> 'answer', ?
          FROM json_each(?) WHERE true ON CONFLICT DO NOTHING`,
        params: [model_version, this.#scope.now(), JSON.stringify(made)],
      },
      {
        sql: `DELETE FROM assessments WHERE workspace_id = :workspace
          AND (vehicle_id, input_hash, model_version) IN (
            SELECT vehicle_id, input_hash, model_version FROM (
              SELECT vehicle_id, input_hash, model_version,
                row_number() OVER (PARTITION BY vehicle_id ORDER BY made_at > ?, made_at DESC) AS place
              FROM assessments WHERE workspace_id = :workspace AND vehicle_id IN (SELECT value FROM json_each(?)))
            WHERE place > ?)`,
        // What was made later than now, before the clock was set back, goes first.
        params: [this.#scope.now(), JSON.stringify(made.map(({ vehicle_id }) => vehicle_id)), KEPT_PER_VEHICLE],
      },
    ];
    await this.#scope.batch(statements).catch((error: unknown) => {
      if (error instanceof StoreFailure) return;
      if (error instanceof ConstraintFailed && error.kind === "foreign-key") return;
      throw error;
    });
  }
}
