import type { Param, Sql, Statement } from "./sql.ts";

/** What a workspace tells another program: written down in the change that it tells of, sent afterwards. */

/** What can be told. `test` is what the owner sends by hand. */
export const WEBHOOK_EVENTS = [
  "quote.accepted",
  "quote.declined",
  "quote.answer-taken-back",
  "fleet.answers-changed",
  "test",
] as const;
export type WebhookEvent = (typeof WEBHOOK_EVENTS)[number];

/** What is told of an event. No name, address, plate or VIN: they could not be erased from where they went. */
export interface WebhookNews {
  /** The same for the same event, which is told once: `quote-1f…-4`. */
  id: string;
  event: WebhookEvent;
  at: string;
  /** What the body holds besides, under names of its own. */
  about: Readonly<Record<string, unknown>>;
}

/** Puts a message into the outbox: then what is to be selected for these columns. */
export const INSERT_MESSAGE =
  "INSERT INTO webhook_messages (workspace_id, id, event, body, state, attempts, due_at, created_at)";

/** Puts a message into the outbox of a workspace with a webhook; nothing where there is none. For `Scope.batch`. */
export function tellWebhook({ id, event, at, about }: WebhookNews): Statement {
  return {
    sql: `${INSERT_MESSAGE} SELECT :workspace, ?, ?, ?, 'waiting', 0, ?, ? FROM webhooks WHERE workspace_id = :workspace
      ON CONFLICT DO NOTHING`,
    params: [id, event, JSON.stringify({ id, event, at, ...about }), at, at],
  };
}

/**
 * The same of the answer that quotes `q` stand at, from their own columns, for those that `which` (SQL about `q`)
 * picks: after the change, in its batch.
 */
export function tellAnswer(at: string, which: string, params: readonly Param[]): Statement {
  const id = "'quote-' || q.id || '-' || q.version";
  const event = EVENT_OF_QUOTE;
  const option = `(SELECT json_object('id', value ->> 'id', 'title', value ->> 'title', 'total_minor',
      (SELECT value ->> '$.price.total_minor' FROM json_each(q.snapshot, '$.outlook.options') AS o
        WHERE o.value ->> 'id' = q.decided_option))
    FROM json_each(q.snapshot, '$.options') WHERE value ->> 'id' = q.decided_option)`;
  return {
    sql: `${INSERT_MESSAGE}
      SELECT q.workspace_id, ${id}, ${event},
        json_object('id', ${id}, 'event', ${event}, 'at', ?, 'quote', json_object('id', q.id, 'number', q.number,
          'called', coalesce(q.snapshot ->> 'prefix', '') || q.number, 'vehicle_id', q.vehicle_id, 'state', q.status,
          'option', json(${option}), 'currency', q.snapshot ->> 'currency')),
        'waiting', 0, ?, ?
      FROM quotes AS q JOIN webhooks USING (workspace_id) WHERE ${which}
      ON CONFLICT DO NOTHING`,
    params: [at, at, at, ...params],
  };
}

const EVENT_OF_QUOTE = `CASE q.status WHEN 'accepted' THEN 'quote.accepted' WHEN 'declined' THEN 'quote.declined'
  ELSE 'quote.answer-taken-back' END`;

/** A message whose time has come, and where it goes. */
export interface DueMessage {
  workspace_id: string;
  id: string;
  body: string;
  attempts: number;
  url: string;
  secret: string;
}

/**
 * Minutes from one attempt to the next; after the last there is none.
 *
 * @internal Called from outside by tests alone.
 */
export const RETRY_MINUTES: readonly number[] = [1, 5, 30, 120, 360, 720, 1440];
/** Minutes for which a message taken for sending is not taken by anyone else. */
const TAKEN_MINUTES = 2;
/** Days for which a message that arrived, or was given up, stays in the list. */
const KEPT_DAYS = 90;

const later = (now: Date, minutes: number) => new Date(now.getTime() + minutes * 60_000).toISOString();

/** A message of `m` whose time has come. None waits for longer than the last pause: then the clock was set back. */
const DUE = "(m.due_at <= ? OR m.due_at > ?)";
const dueAt = (now: Date) => [now.toISOString(), later(now, Math.max(...RETRY_MINUTES))];

/** Takes up to `limit` due messages of any workspace for sending; nobody else gets them for `TAKEN_MINUTES`. */
export async function takeDueMessages(sql: Sql, now: Date, limit: number): Promise<DueMessage[]> {
  const due = await sql.all<DueMessage>(
    `SELECT m.workspace_id, m.id, m.body, m.attempts, h.url, h.secret
     FROM webhook_messages AS m JOIN webhooks AS h USING (workspace_id)
     WHERE ${DUE} ORDER BY m.due_at LIMIT ?`,
    [...dueAt(now), limit],
  );
  if (due.length === 0) return [];
  const taken = await sql.batch(
    due.map(({ workspace_id, id, attempts }) => ({
      sql: `UPDATE webhook_messages AS m SET attempts = attempts + 1, due_at = ?, tried_at = ?
        WHERE workspace_id = ? AND id = ? AND attempts = ? AND ${DUE} RETURNING id`,
      params: [later(now, TAKEN_MINUTES), now.toISOString(), workspace_id, id, attempts, ...dueAt(now)],
    })),
  );
  return due.filter((_, i) => taken[i]!.length === 1).map((one) => ({ ...one, attempts: one.attempts + 1 }));
}

/** Writes down what an attempt came to, and when the next is. */
export async function settleMessage(
  sql: Sql,
  { workspace_id, id, attempts }: DueMessage,
  { delivered, outcome }: { delivered: boolean; outcome: string },
  now: Date,
): Promise<void> {
  const wait = delivered ? undefined : RETRY_MINUTES[attempts - 1];
  const state = delivered ? "delivered" : wait === undefined ? "failed" : "waiting";
  const due_at = wait === undefined ? null : later(now, wait);
  await sql.batch([
    {
      sql: `UPDATE webhook_messages SET state = ?, due_at = ?, outcome = ?
        WHERE workspace_id = ? AND id = ? AND attempts = ? AND state = 'waiting'`,
      params: [state, due_at, outcome, workspace_id, id, attempts],
    },
    {
      sql: "DELETE FROM webhook_messages WHERE workspace_id = ? AND due_at IS NULL AND created_at < ?",
      params: [workspace_id, later(now, -KEPT_DAYS * 24 * 60)],
    },
  ]);
}

/** When the next message of any workspace is due; null for none. */
export async function nextMessageDue(sql: Sql): Promise<Date | null> {
  const [row] = await sql.all<{ due_at: string | null }>("SELECT min(due_at) AS due_at FROM webhook_messages");
  return row?.due_at == null ? null : new Date(row.due_at);
}
