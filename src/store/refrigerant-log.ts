import { REFRIGERANTS, type RefrigerantId } from "../core/question/contract.ts";
import type { Revision } from "../core/question/record.ts";
import {
  CYLINDER_CONDITIONS,
  type CylinderCondition,
  type CylinderMove,
  MOVE_KINDS,
  type MoveKind,
} from "../core/refrigerant/cylinders.ts";
import { insertRows, upsertRow } from "./bulk.ts";
import { assignments, type Columns, namesOf, nullable, number, oneOf, rowReader, rowWriter, text } from "./columns.ts";
import { ConstraintFailed, notFound } from "./errors.ts";
import { notReplaced } from "./ledger.ts";
import { REVISION, revisionNow } from "./revision.ts";
import type { Scope, Submission, SubmitKey } from "./scope.ts";
import type { Param, Statement } from "./sql.ts";
import { keptText } from "./text.ts";
import { atVersion, versionedChange } from "./versioned-change.ts";

export interface CylinderInput {
  /** The number on it. */
  name: string;
  refrigerant: RefrigerantId;
  condition: CylinderCondition;
  /** The most it may hold, g; null where nobody said. */
  most_g: number | null;
  retired: boolean;
}

export interface Cylinder extends Omit<CylinderInput, "retired">, Revision {
  id: string;
  /** Out of use since; null while in use. */
  retired_at: string | null;
}

export interface MoveInput {
  kind: MoveKind;
  date: string;
  amount_g: number;
  /** From or to whom; "" for nothing said. */
  note: string;
}

/** What a person recorded of a cylinder. */
export interface RecordedMove extends MoveInput {
  id: string;
  cylinder_id: string;
  recorded_at: string;
  recorded_by: string;
  /** Taken back since; null for one that counts. */
  removed_at: string | null;
  removed_by: string | null;
}

/** Who did an entry of a charge log, and which cylinders it was; "" and null where nobody said. */
export interface WorkInput {
  technician: string;
  certificate: string;
  recovered_into: string | null;
  charged_from: string | null;
}

export interface RefrigerantWork extends WorkInput, Revision {
  log_id: string;
  vehicle_id: string;
}

/** An entry of a charge log in which refrigerant was recovered or charged, as the refrigerant log has it. */
export interface WorkLine extends WorkInput {
  log_id: string;
  vehicle_id: string;
  vehicle_label: string;
  words: string;
  plate: string;
  vin: string;
  refrigerant: RefrigerantId;
  nameplate_g: number;
  date: string;
  recovered_g: number | null;
  added_g: number | null;
  added_by: "scale" | "cans" | null;
  recorded_by: string;
  /** Of what is said beside the entry; 0 for nothing yet. */
  version: number;
}

/** A move of a cylinder, recorded by itself or with a vehicle. */
export interface CylinderLine extends CylinderMove {
  cylinder_id: string;
  note: string;
  /** Of a move recorded by itself; null for one that comes from a vehicle. */
  move_id: string | null;
  vehicle_id: string | null;
}

/** Characters (code points) of the texts. */
export const REFRIGERANT_LOG_CHARS = { name: 60, technician: 120, certificate: 120, note: 200 } as const;

const CYLINDER: Columns<Cylinder> = {
  id: text,
  name: text,
  refrigerant: oneOf(REFRIGERANTS),
  condition: oneOf(CYLINDER_CONDITIONS),
  most_g: nullable(number),
  retired_at: nullable(text),
  ...REVISION,
};
const MOVE: Columns<RecordedMove> = {
  id: text,
  cylinder_id: text,
  kind: oneOf(MOVE_KINDS),
  date: text,
  amount_g: number,
  note: text,
  recorded_at: text,
  recorded_by: text,
  removed_at: nullable(text),
  removed_by: nullable(text),
};
const SAID: Columns<WorkInput> = {
  technician: text,
  certificate: text,
  recovered_into: nullable(text),
  charged_from: nullable(text),
};
const WORK: Columns<RefrigerantWork> = { log_id: text, vehicle_id: text, ...SAID, ...REVISION };

export const SELECT_CYLINDERS = `SELECT ${namesOf(CYLINDER).join(", ")} FROM cylinders`;
export const SELECT_MOVES = `SELECT ${namesOf(MOVE).join(", ")} FROM cylinder_moves`;
export const SELECT_WORK = `SELECT ${namesOf(WORK).join(", ")} FROM refrigerant_work`;

export const cylinderOf = rowReader(CYLINDER);
export const moveOf = rowReader(MOVE);
export const moveRow = rowWriter(MOVE);
export const workOf = rowReader(WORK);
/** What is said beside an entry, as a row of its table, without the workspace. */
export const workRow = rowWriter(WORK);
export const cylinderRow = rowWriter(CYLINDER);
const workLineOf = rowReader<WorkLine>({
  log_id: text,
  vehicle_id: text,
  vehicle_label: text,
  words: text,
  plate: text,
  vin: text,
  refrigerant: oneOf(REFRIGERANTS),
  nameplate_g: number,
  date: text,
  recovered_g: nullable(number),
  added_g: nullable(number),
  added_by: nullable(oneOf(["scale", "cans"])),
  recorded_by: text,
  ...SAID,
  version: number,
});
const cylinderLineOf = rowReader<CylinderLine>({
  cylinder_id: text,
  kind: oneOf([...MOVE_KINDS, "recovered", "charged"]),
  date: text,
  amount_g: number,
  note: text,
  move_id: nullable(text),
  vehicle_id: nullable(text),
});

/** The entries that hold, of vehicles that are no samples, in which refrigerant moved. */
const ENTRIES = `FROM charge_log AS line
  JOIN vehicles AS v ON v.workspace_id = line.workspace_id AND v.id = line.vehicle_id AND v.example = 0
  LEFT JOIN vehicle_particulars AS p ON p.workspace_id = line.workspace_id AND p.vehicle_id = line.vehicle_id
  LEFT JOIN refrigerant_work AS w ON w.workspace_id = line.workspace_id AND w.log_id = line.id
  WHERE line.workspace_id = :workspace AND line.change <> 'removed' AND ${notReplaced("charge_log")}
    AND (line.recovered_g > 0 OR line.added_g > 0)`;

const SELECT_LINES = `SELECT line.id AS log_id, line.vehicle_id, v.label AS vehicle_label, coalesce(p.words, '') AS words,
  coalesce(p.plate, '') AS plate, coalesce(p.vin, '') AS vin, v.refrigerant, v.nameplate_g, line.date, line.recovered_g,
  line.added_g, line.added_by, line.recorded_by, coalesce(w.technician, '') AS technician,
  coalesce(w.certificate, '') AS certificate, w.recovered_into, w.charged_from,
  coalesce(w.version, 0) AS version ${ENTRIES}`;

/**
 * The refrigerant log of a workspace. What was recovered and charged comes from the charge logs, each entry as it holds
 * now; here stand the cylinders, what came and went without a vehicle, and who did each entry with which cylinder. All
 * methods throw `Problem` not-found for an id that is not in this workspace.
 */
export class RefrigerantLog {
  readonly #scope: Scope;

  constructor(scope: Scope) {
    this.#scope = scope;
  }

  /** All cylinders, those in use first, by name. */
  async cylinders(): Promise<Cylinder[]> {
    const rows = await this.#scope.all(
      `${SELECT_CYLINDERS} WHERE workspace_id = :workspace ORDER BY retired_at IS NOT NULL, name, id`,
    );
    return rows.map(cylinderOf);
  }

  async cylinder(id: string): Promise<Cylinder> {
    const [row] = await this.#scope.all(`${SELECT_CYLINDERS} WHERE workspace_id = :workspace AND id = ?`, [id]);
    if (row === undefined) throw notFound("cylinder");
    return cylinderOf(row);
  }

  /** Every move that counts, of one cylinder or of all, in order of dates. */
  async lines(cylinder_id: string | null = null): Promise<CylinderLine[]> {
    const of = (column: string) => (cylinder_id === null ? `${column} IS NOT NULL` : `${column} = ?`);
    const params = cylinder_id === null ? [] : [cylinder_id];
    const [moves, recovered, charged] = await this.#scope.batch([
      {
        sql: `SELECT cylinder_id, kind, date, amount_g, note, id AS move_id, NULL AS vehicle_id FROM cylinder_moves
          WHERE workspace_id = :workspace AND removed_at IS NULL AND ${of("cylinder_id")}`,
        params,
      },
      {
        sql: `SELECT w.recovered_into AS cylinder_id, 'recovered' AS kind, line.date, line.recovered_g AS amount_g, v.label AS note,
          NULL AS move_id, line.vehicle_id ${ENTRIES} AND line.recovered_g > 0 AND ${of("w.recovered_into")}`,
        params,
      },
      {
        sql: `SELECT w.charged_from AS cylinder_id, 'charged' AS kind, line.date, line.added_g AS amount_g, v.label AS note,
          NULL AS move_id, line.vehicle_id ${ENTRIES} AND line.added_g > 0 AND ${of("w.charged_from")}`,
        params,
      },
    ]);
    return [...moves!, ...recovered!, ...charged!]
      .map(cylinderLineOf)
      .toSorted((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0));
  }

  async create(input: CylinderInput, submit_key: SubmitKey = null): Promise<Cylinder> {
    const id = this.#scope.newId();
    const insert = insertRows("cylinders", [{ id, ...this.#row(input), ...revisionNow(this.#scope) }]);
    const submission = { key: submit_key, content: ["cylinder", input], subject_id: id, subject_version: 1 };
    return this.#stored(submission, insert);
  }

  /** Puts `input` in place of version `version`. */
  async update(id: string, version: number, input: CylinderInput, submit_key: SubmitKey = null): Promise<Cylinder> {
    const row = this.#row(input);
    const change = {
      sql: `UPDATE cylinders SET ${assignments(row)}, version = version + 1, updated_at = ?, updated_by = ?
        WHERE workspace_id = :workspace AND id = ?`,
      params: [...Object.values(row), this.#scope.now(), this.#scope.actor, id],
    };
    const submission = { key: submit_key, content: [id, version, input], subject_id: id, subject_version: version + 1 };
    return this.#stored(submission, [atVersion("cylinders", version, { id }), change]);
  }

  /** Records what came or went without a vehicle, or what the scale showed. */
  async addMove(cylinder_id: string, input: MoveInput, submit_key: SubmitKey = null): Promise<void> {
    const id = this.#scope.newId();
    const { kind, date, amount_g, note } = input;
    const row = { id, cylinder_id, kind, date, amount_g, note: keptText(note), recorded_at: this.#scope.now() };
    const insert = insertRows("cylinder_moves", [{ ...row, recorded_by: this.#scope.actor }]);
    const submission = { key: submit_key, content: [cylinder_id, input], subject_id: id, subject_version: 1 };
    try {
      await this.#scope.change(insert, submission);
    } catch (error) {
      if (error instanceof ConstraintFailed && error.kind === "foreign-key") throw notFound("cylinder");
      throw error;
    }
  }

  /** Takes back a move that was recorded by mistake; its line stays, and counts no more. */
  async removeMove(cylinder_id: string, move_id: string): Promise<void> {
    this.#scope.require("editor");
    const [removed] = await this.#scope.batch([
      {
        sql: `UPDATE cylinder_moves SET removed_at = ?, removed_by = ?
          WHERE workspace_id = :workspace AND id = ? AND cylinder_id = ? AND removed_at IS NULL RETURNING id`,
        params: [this.#scope.now(), this.#scope.actor, move_id, cylinder_id],
      },
    ]);
    if (removed!.length === 0) throw notFound("entry");
  }

  /** The entries of a year, in order; those that name no technician or cylinder, too. */
  async year(year: number): Promise<WorkLine[]> {
    const rows = await this.#scope.all(
      `${SELECT_LINES} AND line.date BETWEEN ? AND ? ORDER BY line.date, line.recorded_at, line.id`,
      [`${year}-01-01`, `${year}-12-31`],
    );
    return rows.map(workLineOf);
  }

  /** One entry. */
  async entry(log_id: string): Promise<WorkLine> {
    const [row] = await this.#scope.all(`${SELECT_LINES} AND line.id = ?`, [log_id]);
    if (row === undefined) throw notFound("log entry");
    return workLineOf(row);
  }

  /** Says who did an entry and with which cylinders, in place of version `version` (0: of nothing). */
  async setWork(log_id: string, version: number, input: WorkInput, submit_key: SubmitKey = null): Promise<WorkLine> {
    const { vehicle_id } = await this.entry(log_id);
    const row = workRow({ log_id, vehicle_id, ...input, ...revisionNow(this.#scope, version + 1) });
    const write = upsertRow("refrigerant_work", "log_id", ["vehicle_id", "created_at", "created_by"], row);
    try {
      const { current } = await versionedChange(this.#scope, {
        key: submit_key,
        content: ["work", log_id, version, input],
        subject_id: log_id,
        subject_version: version + 1,
        statements: [atVersion("refrigerant_work", version, { log_id }), write],
        read: (id) => this.entry(id),
      });
      return current;
    } catch (error) {
      if (error instanceof ConstraintFailed && error.kind === "foreign-key") throw notFound("cylinder");
      throw error;
    }
  }

  /** The statement that says it together with a new entry, to be one change with it. */
  addition(log_id: string, vehicle_id: string, input: WorkInput, at: string): Statement {
    const revision = revisionNow(this.#scope, 1, at);
    return insertRows("refrigerant_work", [workRow({ log_id, vehicle_id, ...input, ...revision })])[0]!;
  }

  #row({ name, refrigerant, condition, most_g, retired }: CylinderInput): Record<string, Param> {
    return { name: keptText(name), refrigerant, condition, most_g, retired_at: retired ? this.#scope.now() : null };
  }

  async #stored(submission: Submission, statements: readonly Statement[]): Promise<Cylinder> {
    const read = (id: string) => this.cylinder(id);
    return (await versionedChange(this.#scope, { ...submission, statements, read })).current;
  }
}
