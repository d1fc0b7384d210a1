import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Confirm } from "../parts/confirm.tsx";
import { Entry } from "../parts/entry.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { type Choice, choicesOf, RadioField, TextField } from "../parts/field.tsx";
import { Folded } from "../parts/folded.tsx";
import { FormFoot } from "../parts/form-foot.tsx";
import { SecretField } from "../parts/secret-field.tsx";
import { SettingsHead } from "./head.tsx";

export type KeyPurpose = "link" | "api" | "feed";
export type KeyRole = "owner" | "editor" | "viewer";

/** A key as its list shows it; days and times are those of the workspace. */
export interface ShownKey {
  id: string;
  purpose: KeyPurpose;
  role: KeyRole;
  label: string;
  made: string;
  /** Null: never. */
  last_used: string | null;
  revoked: string | null;
  /** The link with which this browser was let in. */
  mine: boolean;
}

export interface AccessPageProps {
  keys: readonly ShownKey[];
  /** What was typed into one of the three forms, to be put right. */
  typed: { purpose: KeyPurpose; label: string; role: string; errors: readonly FieldError[] } | null;
  /** Whether the server asks nobody for a link, because only this machine reaches it. */
  local: boolean;
  origin: string;
  submit_key: string;
  asset: AssetUrl;
}

const ROLE_CHOICES: readonly Choice[] = choicesOf({
  viewer: "Look (viewer)",
  editor: "Look and change (editor)",
  owner: "Everything, and give access (owner)",
});
const ROLE_WORDS: Readonly<Record<KeyRole, string>> = { viewer: "Viewer", editor: "Editor", owner: "Owner" };

/** `/settings/access`: who and what gets in, and the calendar. */
export function AccessPage(props: AccessPageProps) {
  const { typed, local, origin, asset } = props;
  const errors = typed?.errors ?? [];
  return (
    <Layout title="Access · Settings" path="/settings" asset={asset} errors={errors}>
      <SettingsHead path="/settings/access" owner />
      {local && (
        <p class="note">
          This server answers this machine only, without a link. Links and keys count once it is started for others.
        </p>
      )}
      <Entry name="Access links" id="links">
        <p>Each link works once, for one browser. Send it privately: the first person to open it gets in.</p>
        <KeyTable {...props} purpose="link" none="No link was made yet." />
        <NewKey {...props} purpose="link" label="Who is it for?" hint="Like Sam’s phone" button="Make a link" />
      </Entry>
      <Entry name="Keys for programs" id="keys">
        <KeyTable {...props} purpose="api" none="No key was made yet." />
        <Folded title="New key" open={typed?.purpose === "api"}>
          <p>
            A key lets a program read and change the records as JSON; <a href="/api/openapi.json">openapi.json</a>{" "}
            describes how. It goes along with every request:
          </p>
          <pre class="command">
            <code>{`curl -H "Authorization: Bearer KEY" ${origin}/api/vehicles`}</code>
          </pre>
          <NewKey
            {...props}
            purpose="api"
            label="What is it for?"
            hint="Like the shop’s own software"
            button="Make a key"
          />
        </Folded>
      </Entry>
      <Entry name="Calendar" id="calendar">
        <p>
          One calendar with the reminders of all vehicles. Its address is secret: it shows their names and what is due.
        </p>
        <KeyTable {...props} purpose="feed" none="No calendar was shared yet." />
        <NewKey
          {...props}
          purpose="feed"
          label="Whose calendar?"
          hint="Like the workshop"
          button="Make a calendar link"
        />
      </Entry>
    </Layout>
  );
}

function KeyTable({ keys, purpose, none, submit_key }: AccessPageProps & { purpose: KeyPurpose; none: string }) {
  const all = keys.filter((key) => key.purpose === purpose);
  const [open, revoked] = [all.filter((key) => key.revoked === null), all.filter((key) => key.revoked !== null)];
  return (
    <>
      {open.length === 0 ? (
        <p class="soft">{none}</p>
      ) : (
        <ul class="keys">
          {open.map((key) => (
            <li>
              <div>
                <strong dir="auto">{key.label}</strong> {key.mine && <span class="soft">(this browser)</span>}
                <small>
                  {purpose !== "feed" && `${ROLE_WORDS[key.role]}. `}Made {key.made}.{" "}
                  {key.last_used === null ? "Never used." : `Last used ${key.last_used}.`}
                </small>
              </div>
              <Confirm
                name="Revoke"
                about={key.label}
                question={
                  key.mine
                    ? "This browser loses its access at once. You need another owner link to come back."
                    : "Whoever uses it loses access at once. It cannot be given back; you can make a new one."
                }
                action={`/settings/access/${key.id}/revocation`}
                fields={{ submit_key: `${submit_key}-${key.id}` }}
              />
            </li>
          ))}
        </ul>
      )}
      {revoked.length > 0 && (
        <details>
          <summary>Revoked ({revoked.length})</summary>
          <ul class="keys">
            {revoked.map((key) => (
              <li>
                <div>
                  <span dir="auto">{key.label}</span>
                  <small>
                    {purpose !== "feed" && `${ROLE_WORDS[key.role]}. `}Made {key.made}, revoked {key.revoked}.
                  </small>
                </div>
              </li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
}

interface NewKeyProps extends AccessPageProps {
  purpose: KeyPurpose;
  label: string;
  hint: string;
  button: string;
}

function NewKey({ purpose, label, hint, button, typed, submit_key }: NewKeyProps) {
  const mine = typed?.purpose === purpose ? typed : null;
  const message = (field: string) => mine?.errors.find((error) => error.field === `${purpose}-${field}`)?.message;
  return (
    <form class="new-key" method="post" action="/settings/access" novalidate>
      <input type="hidden" name="purpose" value={purpose} />
      <input type="hidden" name="submit_key" value={`${submit_key}-${purpose}`} />
      <TextField
        id={`${purpose}-label`}
        name="label"
        label={label}
        hint={hint}
        value={mine?.label ?? ""}
        error={message("label")}
        words
      />
      {purpose !== "feed" && (
        <RadioField
          id={`${purpose}-role`}
          name="role"
          label="What may it do?"
          value={mine?.role ?? "viewer"}
          choices={ROLE_CHOICES}
          error={message("role")}
        />
      )}
      <FormFoot submit={button} quiet />
    </form>
  );
}

interface NewKeyPageProps {
  purpose: KeyPurpose;
  label: string;
  /** What to pass on: an address, or the key itself. */
  secret: string;
  asset: AssetUrl;
}

const NEW_KEY: Readonly<Record<KeyPurpose, { title: string; name: string; next: string }>> = {
  link: {
    title: "The link",
    name: "Access link",
    next: "It lets in the first browser that opens it. Send it privately.",
  },
  api: {
    title: "The key",
    name: "Key",
    next: "Whoever has it gets in, until you revoke it. Keep it where the program keeps its secrets.",
  },
  feed: {
    title: "The calendar",
    name: "Address of the calendar",
    next: "Give this address to your calendar program as a calendar to subscribe to. Whoever has it sees the reminders, until you revoke it.",
  },
};

/** A key that was just made, the only time that anyone sees it. */
export function NewKeyPage({ purpose, label, secret, asset }: NewKeyPageProps) {
  const { title, name, next } = NEW_KEY[purpose];
  return (
    <Layout title={`${title} · Settings`} path="/settings" asset={asset}>
      <p class="page-name">
        <a href="/settings/access">Access and calendar</a>
      </p>
      <h1 class="page-title">
        {title} for <bdi>{label}</bdi>
      </h1>
      <SecretField name={name} value={secret} />
      <p>{next}</p>
      <p>
        <a href="/settings/access">Done</a>
      </p>
    </Layout>
  );
}
