import type { AssessAnswer, AssessRequest } from "../core/contract.ts";
import { StoreFailure } from "./errors.ts";
import { contentHash } from "./hash.ts";
import type { Scope } from "./scope.ts";

/** Answers kept for each vehicle: today's, and a few what-ifs. */
const KEPT_PER_VEHICLE = 4;

/** Answers of the model, kept under the hash of their question and the model's version; never wrong, only absent. */
export class Assessments {
  readonly #scope: Scope;

  constructor(scope: Scope) {
    this.#scope = scope;
  }

  /** The answer to a question about a vehicle: the kept one, or what `assess` computes, which is then kept. */
  async answer(
    vehicle_id: string,
    request: AssessRequest,
    model_version: string,
    assess: (request: AssessRequest) => AssessAnswer,
  ): Promise<AssessAnswer> {
    const input_hash = await contentHash(request);
    const [kept] = await this.#scope.ofVehicle<{ answer: string }>(vehicle_id, {
      sql: `SELECT answer FROM assessments
        WHERE workspace_id = :workspace AND vehicle_id = ? AND input_hash = ? AND model_version = ?`,
      params: [vehicle_id, input_hash, model_version],
    });
    if (kept !== undefined) return JSON.parse(kept.answer);
    const answer = assess(request);
    await this.#keep(vehicle_id, input_hash, model_version, JSON.stringify(answer));
    return answer;
  }

  /** A disk that is full or read-only must not take the page away. */
  async #keep(vehicle_id: string, input_hash: string, model_version: string, answer: string): Promise<void> {
    const statements = [
      {
        sql: `INSERT INTO assessments (workspace_id, vehicle_id, input_hash, model_version, answer, made_at)
          VALUES (:workspace, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING`,
        params: [vehicle_id, input_hash, model_version, answer, this.#scope.now()],
      },
      {
        sql: `DELETE FROM assessments WHERE workspace_id = :workspace AND vehicle_id = ? AND rowid NOT IN (
            SELECT rowid FROM assessments WHERE workspace_id = :workspace AND vehicle_id = ?
            ORDER BY made_at DESC, rowid DESC LIMIT ?)`,
        params: [vehicle_id, vehicle_id, KEPT_PER_VEHICLE],
      },
    ];
    await this.#scope.batch(statements).catch((error: unknown) => {
      if (!(error instanceof StoreFailure)) throw error;
    });
  }
}
