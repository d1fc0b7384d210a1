import { addHours, addMinutes, isAfter, isBefore } from "date-fns";
import { Problem } from "../core/problem.ts";
import { ConstraintFailed, notFound, StoreFailure } from "./errors.ts";
import { sha256Hex } from "./hash.ts";
import { newId, newKey, type RandomBytes } from "./ids.ts";
import type { Role } from "./roles.ts";
import { guard, type Scope, type SubmitKey } from "./scope.ts";
import type { Sql, Statement } from "./sql.ts";
import { keptText } from "./text.ts";

/**
 * A `link` is exchanged once for a session, an `api` key is sent with every request, a `feed` key opens the calendar
 * feed only.
 */
export const PURPOSES = ["link", "api", "feed"] as const;
export type Purpose = (typeof PURPOSES)[number];

/** The identity of a request: workspace, role and actor. */
export interface Access {
  workspaceId: string;
  role: Role;
  /** Recorded with each change: the id of the access key, or `local`. */
  actor: string;
}

/** What is known about a key; the key itself is not. */
export interface AccessKey {
  id: string;
  purpose: Purpose;
  role: Role;
  label: string;
  created_at: string;
  created_by: string;
  /** When the link was used for a session; it works once. */
  exchanged_at: string | null;
  last_used_at: string | null;
  revoked_at: string | null;
}

/** How long a session lasts without a visit; also the longest that browsers keep a cookie. */
export const SESSION_DAYS = 400;
/** Precision of "last used", so that reading a page seldom writes. */
const LAST_USED_STEP_MINUTES = 15;

/** The actor for keys that nobody with access created. */
const SETUP = "setup";

/** The access keys of one workspace, for its owners. */
export class AccessKeys {
  readonly #scope: Scope;

  constructor(scope: Scope) {
    this.#scope = scope;
  }

  /** Newest first, revoked ones too. */
  async list(): Promise<AccessKey[]> {
    this.#scope.require("owner");
    return this.#scope.all<AccessKey>(
      `SELECT id, purpose, role, label, created_at, created_by, exchanged_at, last_used_at, revoked_at
       FROM access_keys WHERE workspace_id = :workspace ORDER BY created_at DESC, id`,
    );
  }

  /** The name of each key by its id, revoked ones too, so that records can say who made them. */
  async labels(): Promise<ReadonlyMap<string, string>> {
    const keys = await this.#scope.all<Pick<AccessKey, "id" | "label">>(
      "SELECT id, label FROM access_keys WHERE workspace_id = :workspace",
    );
    return new Map(keys.map(({ id, label }) => [id, label]));
  }

  /**
   * Makes a key and gives it, the only time that it is shown. A feed key has the role of a viewer. When the same submit
   * arrives twice, the first key cannot be shown again: it is revoked if unused, and a second one is made.
   */
  async create(
    purpose: Purpose,
    role: Role,
    label: string,
    submit_key: SubmitKey = null,
  ): Promise<{ id: string; key: string }> {
    this.#scope.require("owner");
    const id = this.#scope.newId();
    const key = this.#scope.newKey();
    const now = this.#scope.now();
    const insert = {
      sql: `INSERT INTO access_keys (workspace_id, id, purpose, role, label, key_hash, created_at, created_by)
        VALUES (:workspace, ?, ?, ?, ?, ?, ?, ?)`,
      params: [id, purpose, role, keptText(label), await sha256Hex(key), now, this.#scope.actor],
    };
    await this.#scope.batch([...(submit_key === null ? [] : replaceUnseen(submit_key, id, now)), insert]);
    return { id, key };
  }

  /**
   * Revokes a key and ends the sessions made with it. The last link of an owner cannot be revoked, or nobody could get
   * in any more. Throws `Problem` not-found, or forbidden for that last link.
   */
  async revoke(id: string): Promise<void> {
    this.#scope.require("owner");
    const another_owner = guard(
      `NOT EXISTS (SELECT 1 FROM access_keys WHERE workspace_id = :workspace AND id = ? AND purpose = 'link' AND role = 'owner')
       OR EXISTS (SELECT 1 FROM access_keys WHERE workspace_id = :workspace AND id <> ? AND purpose = 'link'
         AND role = 'owner' AND revoked_at IS NULL)`,
      [id, id],
    );
    const revoke = {
      sql: `UPDATE access_keys SET revoked_at = coalesce(revoked_at, ?) WHERE workspace_id = :workspace AND id = ? RETURNING id`,
      params: [this.#scope.now(), id],
    };
    const end_sessions = {
      sql: "DELETE FROM sessions WHERE workspace_id = :workspace AND access_id = ?",
      params: [id],
    };
    try {
      const [, revoked] = await this.#scope.batch([another_owner, revoke, end_sessions]);
      if (revoked!.length === 0) throw notFound("access key");
    } catch (error) {
      if (error instanceof ConstraintFailed && error.what === "guard")
        throw new Problem(
          "forbidden",
          "This is the last owner's link. Make another owner's link first, then revoke this one.",
        );
      throw error;
    }
  }
}

/** Revokes the unused key of an earlier arrival of this submit, and points the submit to `id`. */
function replaceUnseen(submit_key: string, id: string, now: string): Statement[] {
  return [
    {
      sql: `UPDATE access_keys SET revoked_at = ? WHERE workspace_id = :workspace AND exchanged_at IS NULL
        AND last_used_at IS NULL AND revoked_at IS NULL
        AND id = (SELECT subject_id FROM submissions WHERE workspace_id = :workspace AND submit_key = ?)`,
      params: [now, submit_key],
    },
    {
      sql: `INSERT INTO submissions (workspace_id, submit_key, content_hash, subject_id, subject_version, submitted_at)
        VALUES (:workspace, ?, '', ?, 1, ?)
        ON CONFLICT (workspace_id, submit_key) DO UPDATE SET subject_id = excluded.subject_id`,
      params: [submit_key, id, now],
    },
  ];
}

interface Edge {
  sql: Sql;
  now: () => Date;
}

/** What an unused link would open, without exchanging it; null for any other key. */
export async function linkPreview(
  { sql }: Edge,
  key: string,
): Promise<{ workspace: string; role: Role; label: string } | null> {
  const [found] = await sql.all<{ workspace: string; role: Role; label: string }>(
    `SELECT w.name AS workspace, k.role, k.label FROM access_keys AS k JOIN workspaces AS w USING (workspace_id)
     WHERE k.key_hash = ? AND k.purpose = 'link' AND k.exchanged_at IS NULL AND k.revoked_at IS NULL`,
    [await sha256Hex(key)],
  );
  return found ?? null;
}

/**
 * Exchanges a link for the token of a session, once: null when it was exchanged or revoked before, or never existed.
 */
export async function exchangeLink(
  { sql, now, random }: Edge & { random: RandomBytes },
  key: string,
): Promise<string | null> {
  const [key_hash, token] = [await sha256Hex(key), newKey(sql, random)];
  const at = now().toISOString();
  const [opened] = await sql.batch([
    {
      sql: `INSERT INTO sessions (workspace_id, access_id, token_hash, created_at, expires_at)
        SELECT workspace_id, id, ?, ?, ? FROM access_keys
        WHERE key_hash = ? AND purpose = 'link' AND exchanged_at IS NULL AND revoked_at IS NULL RETURNING access_id`,
      params: [await sha256Hex(token), at, expiry(now()), key_hash],
    },
    {
      sql: `UPDATE access_keys SET exchanged_at = ?, last_used_at = ?
        WHERE key_hash = ? AND purpose = 'link' AND exchanged_at IS NULL AND revoked_at IS NULL`,
      params: [at, at, key_hash],
    },
    { sql: "DELETE FROM sessions WHERE expires_at < ?", params: [at] },
  ]);
  return opened!.length === 0 ? null : token;
}

interface FoundAccess {
  workspace_id: string;
  id: string;
  role: Role;
  last_used_at: string | null;
}

/**
 * The identity of a session; null when it is unknown, expired or revoked. Visits extend it from time to time;
 * `prolonged` says that this one did, so that the cookie must be renewed.
 */
export async function accessOfSession(
  edge: Edge,
  token: string,
): Promise<{ access: Access; prolonged: boolean } | null> {
  const token_hash = await sha256Hex(token);
  const [found] = await edge.sql.all<FoundAccess>(
    `SELECT k.workspace_id, k.id, k.role, k.last_used_at FROM sessions AS s
     JOIN access_keys AS k ON k.workspace_id = s.workspace_id AND k.id = s.access_id
     WHERE s.token_hash = ? AND s.expires_at >= ? AND k.revoked_at IS NULL`,
    [token_hash, edge.now().toISOString()],
  );
  if (found === undefined) return null;
  const prolonged = await noteUse(edge, found, [
    { sql: "UPDATE sessions SET expires_at = ? WHERE token_hash = ?", params: [expiry(edge.now()), token_hash] },
  ]);
  return { access: accessOf(found), prolonged };
}

/** The identity of an `api` or `feed` key; null when it is unknown, revoked or of another kind. */
export async function accessOfKey(edge: Edge, key: string, purpose: "api" | "feed"): Promise<Access | null> {
  const [found] = await edge.sql.all<FoundAccess>(
    `SELECT workspace_id, id, role, last_used_at FROM access_keys
     WHERE key_hash = ? AND purpose = ? AND revoked_at IS NULL`,
    [await sha256Hex(key), purpose],
  );
  if (found === undefined) return null;
  await noteUse(edge, found, []);
  return accessOf(found);
}

/** Ends one session. */
export async function endSession({ sql }: Edge, token: string): Promise<void> {
  await sql.all("DELETE FROM sessions WHERE token_hash = ?", [await sha256Hex(token)]);
}

/** Records that a key was used, in one batch with other statements, unless that was recorded a short time ago. */
async function noteUse(
  { sql, now }: Edge,
  { workspace_id, id, last_used_at }: FoundAccess,
  also: Statement[],
): Promise<boolean> {
  // A use that lies ahead was written before the clock was set back.
  const recent = last_used_at !== null && !isAfter(last_used_at, now());
  if (recent && isBefore(now(), addMinutes(last_used_at, LAST_USED_STEP_MINUTES))) return false;
  const used = {
    sql: "UPDATE access_keys SET last_used_at = ? WHERE workspace_id = ? AND id = ?",
    params: [now().toISOString(), workspace_id, id],
  };
  try {
    await sql.batch([used, ...also]);
    return true;
  } catch (error) {
    // People must be able to read on when the disk is full or read-only.
    if (error instanceof StoreFailure) return false;
    throw error;
  }
}

function accessOf({ workspace_id, id, role }: FoundAccess): Access {
  return { workspaceId: workspace_id, role, actor: id };
}

function expiry(now: Date): string {
  return addHours(now, 24 * SESSION_DAYS).toISOString();
}

/**
 * A new owner's link for a workspace that no owner has entered yet; null when one has, or without such a workspace.
 * It replaces an unused link that was made here before.
 */
export async function firstOwnerLink(
  { sql, now, random }: Edge & { random: RandomBytes },
  workspace_id: string,
): Promise<string | null> {
  const key = newKey(sql, random);
  const at = now().toISOString();
  const [, made] = await sql.batch([
    {
      sql: `UPDATE access_keys SET revoked_at = ?
        WHERE workspace_id = ? AND created_by = ? AND exchanged_at IS NULL AND revoked_at IS NULL`,
      params: [at, workspace_id, SETUP],
    },
    {
      sql: `INSERT INTO access_keys (workspace_id, id, purpose, role, label, key_hash, created_at, created_by)
        SELECT workspace_id, ?, 'link', 'owner', 'First owner', ?, ?, ? FROM workspaces
        WHERE workspace_id = ? AND NOT EXISTS (
          SELECT 1 FROM access_keys WHERE access_keys.workspace_id = workspaces.workspace_id
          AND purpose = 'link' AND role = 'owner' AND exchanged_at IS NOT NULL AND revoked_at IS NULL)
        RETURNING id`,
      params: [newId(random), await sha256Hex(key), at, SETUP, workspace_id],
    },
  ]);
  return made!.length === 0 ? null : key;
}
