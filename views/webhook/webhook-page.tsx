import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Confirm } from "../parts/confirm.tsx";
import { Entry } from "../parts/entry.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { messagesOf, TextField } from "../parts/field.tsx";
import { FormFoot } from "../parts/form-foot.tsx";
import { SecretField } from "../parts/secret-field.tsx";
import { SettingsHead } from "../settings/head.tsx";

/** A message as its list shows it; times are those of the workspace. */
export interface ShownMessage {
  id: string;
  event: "quote.accepted" | "quote.declined" | "quote.answer-taken-back" | "fleet.answers-changed" | "test";
  state: "waiting" | "delivered" | "failed";
  attempts: number;
  /** What the last attempt came to; null for none. */
  outcome: string | null;
  at: string;
  /** Of the next attempt. */
  due: string | null;
}

export interface WebhookPageProps {
  /** Version 0: there is none. */
  webhook: { url: string; version: number };
  /** As typed. */
  url: string;
  errors: readonly FieldError[];
  /** A new secret, shown this once. */
  secret: string | null;
  saved: boolean;
  messages: readonly ShownMessage[];
  submit_key: string;
  asset: AssetUrl;
}

const EVENT_WORDS: Readonly<Record<ShownMessage["event"], string>> = {
  "quote.accepted": "Quote accepted",
  "quote.declined": "Quote declined",
  "quote.answer-taken-back": "Answer taken back",
  "fleet.answers-changed": "Fleet answers changed",
  test: "Test",
};

/** `/settings/webhook`: the address that is told of answers, and the last messages to it. */
export function WebhookPage(props: WebhookPageProps) {
  const { webhook, url, errors, secret, saved, submit_key, asset } = props;
  const there = webhook.version > 0;
  return (
    <Layout title="Webhook · Settings" path="/settings" asset={asset} errors={errors}>
      <SettingsHead path="/settings/webhook" owner />
      {saved && (
        <p class="note" role="status">
          Saved.
        </p>
      )}
      <Entry name="Address">
        <p>
          When a quote is accepted or declined, an answer is taken back, or answers of the fleet change, we send a
          signed message to a program of yours. <a href="/api/openapi.json">openapi.json</a> describes it.
        </p>
        {secret !== null && (
          <SecretField name="Secret" value={secret} hint="Your program checks the signature with it." />
        )}
        <form class="stack" method="post" action="/settings/webhook" novalidate>
          <input type="hidden" name="version" value={webhook.version} />
          <input type="hidden" name="submit_key" value={submit_key} />
          <TextField
            id="url"
            name="url"
            label="Where to send it"
            hint="An address on the public internet that begins with https://"
            value={url}
            error={messagesOf(errors).get("url")}
          />
          <FormFoot submit="Save" />
        </form>
      </Entry>
      {there && <Messages {...props} />}
      {there && (
        <Entry name="Change">
          <p class="actions">
            <Confirm
              name="Make a new secret"
              question="Messages are signed with it at once. Your program refuses them until it has the new secret."
              action="/settings/webhook/secret"
              fields={{ version: webhook.version, submit_key: `${submit_key}-s` }}
            />
            <Confirm
              name="Remove the webhook"
              question="Nothing is sent any more, and the list of messages is deleted."
              action="/settings/webhook/removal"
              fields={{ submit_key: `${submit_key}-r` }}
            />
          </p>
        </Entry>
      )}
    </Layout>
  );
}

function Messages({ messages }: WebhookPageProps) {
  return (
    <Entry name="Messages" id="messages">
      {messages.length === 0 ? (
        <p class="soft">Nothing was sent yet. Send a test message to see whether it arrives.</p>
      ) : (
        <ul class="keys">
          {messages.map((message) => (
            <li>
              <div>
                <strong>{EVENT_WORDS[message.event]}</strong>
                <small>
                  {message.at}. {saidState(message)}
                </small>
              </div>
              <form method="post" action={`/settings/webhook/messages/${message.id}/sending`}>
                <button
                  type="submit"
                  class="button-quiet"
                  aria-label={`Send again: ${EVENT_WORDS[message.event]}, ${message.at}`}
                >
                  Send again
                </button>
              </form>
            </li>
          ))}
        </ul>
      )}
      <form method="post" action="/settings/webhook/test">
        <FormFoot submit="Send a test message" quiet />
      </form>
    </Entry>
  );
}

function saidState({ state, attempts, outcome, due }: ShownMessage): string {
  const answered = outcome !== null && /^\d+$/.test(outcome) ? `The answer was ${outcome}` : outcome;
  const tries = attempts === 1 ? "" : ` after ${attempts} attempts`;
  switch (state) {
    case "delivered":
      return `Delivered${tries}.`;
    case "failed":
      return `Not delivered${tries}: ${answered ?? "no answer"}.`;
    case "waiting":
      return answered === null ? "Waiting to be sent." : `${answered}. Next attempt ${due}.`;
  }
}
