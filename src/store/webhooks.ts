import { Problem } from "../core/problem.ts";
import { notFound } from "./errors.ts";
import type { Scope, SubmitKey } from "./scope.ts";
import { atVersion, versionedChange } from "./versioned-change.ts";
import { tellWebhook, type WebhookEvent } from "./webhook-outbox.ts";

/** Where a workspace tells what has happened. The secret is not read again. */
export interface Webhook {
  url: string;
  /** 0: there is none. */
  version: number;
}

const NO_WEBHOOK: Webhook = { url: "", version: 0 };

export const MESSAGE_STATES = ["waiting", "delivered", "failed"] as const;

/** What was told, without what it says. Instants are ISO. */
export interface WebhookMessage {
  id: string;
  event: WebhookEvent;
  state: (typeof MESSAGE_STATES)[number];
  attempts: number;
  due_at: string | null;
  tried_at: string | null;
  outcome: string | null;
  created_at: string;
}

/** The webhook of a workspace and its last messages: all of it is the owner's. */
export class Webhooks {
  readonly #scope: Scope;

  constructor(scope: Scope) {
    this.#scope = scope;
  }

  async get(): Promise<Webhook> {
    const [row] = await this.#scope.all<Webhook>("SELECT url, version FROM webhooks WHERE workspace_id = :workspace");
    return row ?? NO_WEBHOOK;
  }

  /**
   * Puts another address in place of version `version`. The first one comes with a secret, which is given this once;
   * later ones keep it, unless a new one is asked for. Throws `Conflict` when the version is another.
   */
  async save(
    url: string,
    version: number,
    { new_secret = version === 0, submit_key = null }: { new_secret?: boolean; submit_key?: SubmitKey } = {},
  ): Promise<{ webhook: Webhook; secret: string | null }> {
    this.#scope.require("owner");
    const secret = this.#scope.newKey();
    const { current, repeated } = await versionedChange(this.#scope, {
      key: submit_key,
      content: [url, version, new_secret],
      subject_id: this.#scope.workspaceId,
      subject_version: version + 1,
      statements: [
        atVersion("webhooks", version),
        {
          sql: `INSERT INTO webhooks (workspace_id, url, secret, version, updated_at, updated_by)
            VALUES (:workspace, ?, ?, 1, ?, ?)
            ON CONFLICT (workspace_id) DO UPDATE SET url = excluded.url, version = version + 1,
              secret = CASE WHEN ? = 1 THEN excluded.secret ELSE secret END,
              updated_at = excluded.updated_at, updated_by = excluded.updated_by`,
          params: [url, secret, this.#scope.now(), this.#scope.actor, new_secret ? 1 : 0],
        },
      ],
      read: () => this.get(),
    });
    return { webhook: current, secret: new_secret && !repeated ? secret : null };
  }

  /** Tells nothing any more, and forgets what was told. */
  async remove(): Promise<void> {
    this.#scope.require("owner");
    await this.#scope.batch([
      { sql: "DELETE FROM webhook_messages WHERE workspace_id = :workspace" },
      { sql: "DELETE FROM webhooks WHERE workspace_id = :workspace" },
    ]);
  }

  /** The last messages, newest first. */
  async messages(limit: number): Promise<WebhookMessage[]> {
    return this.#scope.all<WebhookMessage>(
      `SELECT id, event, state, attempts, due_at, tried_at, outcome, created_at FROM webhook_messages
       WHERE workspace_id = :workspace ORDER BY created_at DESC, id DESC LIMIT ?`,
      [limit],
    );
  }

  /** Sends a message again, from now on with all its attempts. Throws `Problem` not-found. */
  async sendAgain(id: string): Promise<void> {
    this.#scope.require("owner");
    const [changed] = await this.#scope.batch([
      {
        sql: `UPDATE webhook_messages SET state = 'waiting', attempts = 0, due_at = ?, outcome = NULL
          WHERE workspace_id = :workspace AND id = ? RETURNING id`,
        params: [this.#scope.now(), id],
      },
    ]);
    if (changed!.length === 0) throw notFound("message");
  }

  /** Sends a test message. */
  async sendTest(): Promise<void> {
    this.#scope.require("owner");
    if ((await this.get()).version === 0)
      throw new Problem("invalid", "Save an address first, then send it a message.");
    const at = this.#scope.now();
    await this.#scope.batch([tellWebhook({ id: `test-${this.#scope.newId()}`, event: "test", at, about: {} })]);
  }
}
