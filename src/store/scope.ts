import { ConstraintFailed, forbidden, notFound } from "./errors.ts";
import { contentHash } from "./hash.ts";
import { newId, newKey, type RandomBytes } from "./ids.ts";
import { mayAct, type Role } from "./roles.ts";
import { type Param, placesOf, READS, type Row, type Sql, type Statement } from "./sql.ts";

export interface ScopeOptions {
  sql: Sql;
  workspaceId: string;
  /** The role. Routes check it first; this catches a route that forgot. */
  role: Role;
  /** The actor, as recorded with each change. */
  actor: string;
  now: () => Date;
  random: RandomBytes;
}

/** Identifies one submit: the key is made with the form, so a submit that arrives twice has the same key. */
export type SubmitKey = string | null;

/**
 * What a submit stores: `content` tells a repeat from another change under the same key; `subject` is what it makes.
 */
export interface Submission {
  key: SubmitKey;
  content: unknown;
  subject_id: string;
  subject_version: number;
}

/** What the first arrival of a repeated submit had stored. */
export interface Repeat {
  subject_id: string;
  subject_version: number;
  /** False when the key came back with something else in the form. */
  same_content: boolean;
}

/**
 * The only way from repositories to the database. Every statement has `:workspace` where the workspace's id belongs,
 * and gets the id here. A statement without it is refused, so none can reach other workspaces by omission.
 */
export class Scope {
  readonly workspaceId: string;
  readonly actor: string;
  readonly #role: Role;
  readonly #sql: Sql;
  readonly #now: () => Date;
  readonly #random: RandomBytes;

  constructor({ sql, workspaceId, role, actor, now, random }: ScopeOptions) {
    this.#sql = sql;
    this.workspaceId = workspaceId;
    this.actor = actor;
    this.#role = role;
    this.#now = now;
    this.#random = random;
  }

  /** Throws `Problem` forbidden unless the one who acts may do what `needed` may. */
  require(needed: Role): void {
    if (!mayAct(this.#role, needed)) throw forbidden(this.#role, needed);
  }

  now(): string {
    return this.#now().toISOString();
  }

  newId(): string {
    return newId(this.#random);
  }

  /** A new key to these records. */
  newKey(): string {
    return newKey(this.#sql, this.#random);
  }

  async all<R extends object = Row>(sql: string, params: readonly Param[] = []): Promise<R[]> {
    const bound = this.#bind({ sql, params });
    const rows = await this.#sql.all<R>(bound.sql, bound.params);
    await this.#told([bound]);
    return rows;
  }

  async batch(statements: readonly Statement[]): Promise<Row[][]> {
    const bound = statements.map((statement) => this.#bind(statement));
    const rows = await this.#sql.batch(bound);
    await this.#told(bound);
    return rows;
  }

  /** `Sql.stamp` of these records; null where the database has none. */
  async stamp(): Promise<string | null> {
    return (await this.#sql.stamp?.(this.workspaceId)) ?? null;
  }

  async #told(statements: readonly Statement[]): Promise<void> {
    if (statements.some(({ sql }) => !READS.test(sql))) await this.#sql.changed?.(this.workspaceId);
  }

  /** The rows of `statement`, if the vehicle exists in this workspace. Throws `Problem` not-found otherwise. */
  async ofVehicle<R extends object = Row>(vehicle_id: string, statement: Statement): Promise<R[]> {
    const [vehicle, rows] = await this.batch([vehicleExists(vehicle_id), statement]);
    if (vehicle!.length === 0) throw notFound("vehicle");
    return rows as R[];
  }

  /**
   * Makes one change, all of it or nothing. Null when it was made; when this submit had been stored before, nothing is
   * changed and it gives what was stored then.
   */
  async change(statements: readonly Statement[], submission: Submission): Promise<Repeat | null> {
    this.require("editor");
    const { key, content, subject_id, subject_version } = submission;
    if (key === null) {
      await this.batch(statements);
      return null;
    }
    const content_hash = await contentHash(content);
    const remember = {
      sql: `INSERT INTO submissions (workspace_id, submit_key, content_hash, subject_id, subject_version, submitted_at)
            VALUES (:workspace, ?, ?, ?, ?, ?)`,
      params: [key, content_hash, subject_id, subject_version, this.now()],
    };
    try {
      await this.batch([remember, ...statements]);
      return null;
    } catch (error) {
      if (!(error instanceof ConstraintFailed && error.what === "submissions.workspace_id")) throw error;
      const [stored] = await this.all<{ content_hash: string; subject_id: string; subject_version: number }>(
        `SELECT content_hash, subject_id, subject_version FROM submissions
         WHERE workspace_id = :workspace AND submit_key = ?`,
        [key],
      );
      return {
        subject_id: stored!.subject_id,
        subject_version: stored!.subject_version,
        same_content: stored!.content_hash === content_hash,
      };
    }
  }

  #bind({ sql, params = [] }: Statement): { sql: string; params: Param[] } {
    const { text, places } = boundText(sql);
    const given = params.values();
    const bound = places.map((place) => (place === ":workspace" ? this.workspaceId : given.next().value!));
    return { sql: text, params: [...bound, ...given] };
  }
}

/** A statement that undoes its whole batch unless `condition` holds. */
export function guard(condition: string, params: readonly Param[]): Statement {
  return { sql: `INSERT INTO guards (workspace_id, holds) SELECT :workspace, 0 WHERE NOT (${condition})`, params };
}

function vehicleExists(vehicle_id: string): Statement {
  return { sql: "SELECT 1 AS found FROM vehicles WHERE workspace_id = :workspace AND id = ?", params: [vehicle_id] };
}

const bound_texts = new Map<string, { text: string; places: ReturnType<typeof placesOf> }>();

function boundText(sql: string) {
  let bound = bound_texts.get(sql);
  if (bound === undefined) {
    const places = placesOf(sql);
    if (!places.includes(":workspace")) throw new Error(`This statement belongs to no workspace: ${sql}`);
    bound = { text: sql.replace(/:workspace\b/g, "?"), places };
    bound_texts.set(sql, bound);
  }
  return bound;
}
