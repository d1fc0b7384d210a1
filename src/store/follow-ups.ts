import type { ChargeEntryInput, FindingInput } from "../core/question/record.ts";
import { insertRows } from "./bulk.ts";
import { type Columns, namesOf, oneOf, rowReader, rowWriter, text } from "./columns.ts";
import { Conflict, ConstraintFailed, notFound } from "./errors.ts";
import type { Scope, SubmitKey } from "./scope.ts";
import type { Statement } from "./sql.ts";
import { keptText } from "./text.ts";
import type { WorkLedgers } from "./vehicle-ledgers.ts";

/** A follow-up that is done with: recorded with its result, or dismissed with a reason. */
export interface ClosedFollowUp {
  vehicle_id: string;
  /** As `followUpKey` has it. */
  follow_up: string;
  outcome: "done" | "dismissed";
  /** The result in words, or the reason. */
  words: string;
  closed_at: string;
  closed_by: string;
}

/** Characters (code points) of a reason. */
export const REASON_CHARS = 200;

const CLOSED: Columns<ClosedFollowUp> = {
  vehicle_id: text,
  follow_up: text,
  outcome: oneOf(["done", "dismissed"]),
  words: text,
  closed_at: text,
  closed_by: text,
};
export const SELECT_CLOSED = `SELECT ${namesOf(CLOSED).join(", ")} FROM follow_ups_closed`;
export const closedOf = rowReader(CLOSED);
export const closedRow = rowWriter(CLOSED);

/** One text for a follow-up of a vehicle. */
export function closedKey(vehicle_id: string, follow_up: string): string {
  return `${vehicle_id} ${follow_up}`;
}

/** What is known of a vehicle's owner, for a call. */
export interface Reachable {
  vehicle_id: string;
  customer_id: string;
  name: string;
  phone: string;
  plate: string;
}

/** What is recorded along with the end of a follow-up. */
export interface FollowUpResult {
  outcome: "done" | "dismissed";
  words: string;
  charge_log?: readonly ChargeEntryInput[];
  findings?: readonly FindingInput[];
}

/** How follow-ups of a workspace ended. Open ones are worked out from the records and not stored. */
export class FollowUps {
  readonly #scope: Scope;
  readonly #ledgers: WorkLedgers;

  constructor(scope: Scope, ledgers: WorkLedgers) {
    this.#scope = scope;
    this.#ledgers = ledgers;
  }

  /** Every follow-up that is done with, as `closedKey` has it. */
  async closedKeys(): Promise<Set<string>> {
    const rows = await this.#scope.all<Pick<ClosedFollowUp, "vehicle_id" | "follow_up">>(
      "SELECT vehicle_id, follow_up FROM follow_ups_closed WHERE workspace_id = :workspace",
    );
    return new Set(rows.map(({ vehicle_id, follow_up }) => closedKey(vehicle_id, follow_up)));
  }

  /** Those that were closed last, newest first. */
  async closedLately(limit: number): Promise<ClosedFollowUp[]> {
    const rows = await this.#scope.all(
      `${SELECT_CLOSED} WHERE workspace_id = :workspace ORDER BY closed_at DESC, vehicle_id, follow_up LIMIT ?`,
      [limit],
    );
    return rows.map(closedOf);
  }

  /** Those of a vehicle, oldest first. */
  async closedOf(vehicle_id: string): Promise<ClosedFollowUp[]> {
    const rows = await this.#scope.all(
      `${SELECT_CLOSED} WHERE workspace_id = :workspace AND vehicle_id = ? ORDER BY closed_at, follow_up`,
      [vehicle_id],
    );
    return rows.map(closedOf);
  }

  /** Whose the vehicles are, and how to reach them; a vehicle that is nobody's is left out. */
  reachable(): Promise<Reachable[]> {
    return this.#scope.all<Reachable & Record<string, string>>(
      `SELECT p.vehicle_id, c.id AS customer_id, c.name, c.phone, p.plate FROM vehicle_particulars AS p
       JOIN customers AS c ON c.workspace_id = p.workspace_id AND c.id = p.customer_id
       WHERE p.workspace_id = :workspace AND c.erased_at IS NULL`,
    );
  }

  /**
   * Ends a follow-up, together with what was seen. Pressed twice it is stored once. Throws `Problem` not-found for a
   * vehicle that is not in this workspace, and `Conflict` when somebody else has ended it.
   */
  async close(
    vehicle_id: string,
    follow_up: string,
    { outcome, words, charge_log = [], findings = [] }: FollowUpResult,
    submit_key: SubmitKey = null,
  ): Promise<void> {
    const at = this.#scope.now();
    const closed = { vehicle_id, follow_up, outcome, words: keptText(words), closed_at: at };
    const statements: Statement[] = [
      ...insertRows("follow_ups_closed", [closedRow({ ...closed, closed_by: this.#scope.actor })]),
      ...charge_log.map((entry) => this.#ledgers.charge_log.addition(vehicle_id, entry, at).statement),
      ...findings.map((finding) => this.#ledgers.findings.addition(vehicle_id, finding, at).statement),
    ];
    const content = [vehicle_id, follow_up, outcome, words, charge_log, findings];
    const submission = { key: submit_key, content, subject_id: vehicle_id, subject_version: 1 };
    try {
      await this.#scope.change(statements, submission);
    } catch (error) {
      if (!(error instanceof ConstraintFailed)) throw error;
      if (error.kind === "foreign-key") throw notFound("vehicle");
      if (error.what === "follow_ups_closed.workspace_id")
        throw new Conflict(closed, "Somebody has recorded this follow-up in the meantime.");
      throw error;
    }
  }

  /** Opens a follow-up again that was dismissed by mistake; any other stays as it is. */
  async reopen(vehicle_id: string, follow_up: string): Promise<void> {
    this.#scope.require("editor");
    await this.#scope.batch([
      {
        sql: `DELETE FROM follow_ups_closed WHERE workspace_id = :workspace AND vehicle_id = ? AND follow_up = ?
          AND outcome = 'dismissed'`,
        params: [vehicle_id, follow_up],
      },
    ]);
  }
}
