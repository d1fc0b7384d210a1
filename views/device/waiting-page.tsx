import type { WaitingEntry } from "../../src/core/question/waiting-entry.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Folded } from "../parts/folded.tsx";
import { WHAT_CHOICES } from "../vehicles/record/entry-fields.ts";
import type { LedgerName } from "../vehicles/record/record.ts";
import { Recorded } from "../vehicles/record/recorded.tsx";
import { FOR_ENTRY_PATH, WAITED, WAITING_PATH, WRITE_DOWN, WRITE_DOWN_PATH } from "../words/on-device.ts";

interface WaitingPageProps {
  entries: readonly WaitingEntry[];
  time_zone: string;
  asset: AssetUrl;
}

/** `/waiting`, made on the device: the entries that wait there for a connection. */
export function WaitingPage({ entries, time_zone, asset }: WaitingPageProps) {
  return (
    <Layout title="Waiting entries" path={WAITING_PATH} asset={asset}>
      <div class="page-head">
        <h1>Waiting entries</h1>
        {entries.length === 0 ? (
          <p>Nothing waits on this device.</p>
        ) : (
          <p>
            They are on this device only, and whoever uses it can read them. With a connection, those with a vehicle are
            added by themselves as you open any page. Signing out deletes them.
          </p>
        )}
      </div>
      {entries.length > 0 && (
        <ul class="waiting-entries">
          {entries.map((entry) => (
            <li>
              <Waiting entry={entry} time_zone={time_zone} />
            </li>
          ))}
        </ul>
      )}
      <p class="actions">
        <a class="button-quiet" href={WRITE_DOWN_PATH}>
          {WRITE_DOWN}
        </a>
      </p>
    </Layout>
  );
}

function Waiting({ entry, time_zone }: { entry: WaitingEntry; time_zone: string }) {
  const { key, vehicle, path, form, written_at, problem } = entry;
  const fields = new URLSearchParams(form);
  return (
    <>
      <h2 dir="auto">{path === null ? vehicle : nameOf(path)}</h2>
      <p dir="auto">{saidFields(fields)}</p>
      <p>
        Written <Recorded iso={written_at} time_zone={time_zone} />.{problem !== null && ` ${PROBLEMS[problem]}`}
      </p>
      {(path === null || problem === "to-put-right") && (
        <p class="actions">
          <a class="button" href={addressOf(path, key, fields)}>
            {path === null ? "Choose its vehicle" : "Open the form"}
          </a>
        </p>
      )}
      <Folded title="Remove it">
        <form method="post" action={`${WAITING_PATH}/${encodeURIComponent(key)}/removal`}>
          <p>It has not been saved anywhere else.</p>
          <button type="submit" class="button-quiet">
            Remove for good
          </button>
        </form>
      </Folded>
    </>
  );
}

const PROBLEMS = {
  "no-access": "You have no access to its vehicle from here: open your access link first.",
  "no-vehicle": "Its vehicle is not in the records that you are signed in to.",
  "to-put-right": "Something in it has to be fixed first.",
} as const;

const KINDS: Readonly<Record<LedgerName, string>> = {
  log: "Log entry",
  findings: "Test result",
  readings: "Readings",
  notes: "Note",
};

function nameOf(path: string): string {
  return `${KINDS[path.split("/").at(-1) as LedgerName]} for the vehicle that was open`;
}

/** The first words of what was typed. */
function saidFields(fields: URLSearchParams): string {
  const what = WHAT_CHOICES.find(({ value }) => value === fields.get("what"))?.label;
  const said = ["when", "recovered", "added", "test", "low", "high", "note", "body"].map((name) => fields.get(name));
  const words = [what, ...said].filter((word) => word != null && word !== "").join(" · ");
  return words.length <= MAX_SAID_CHARS ? words : `${words.slice(0, MAX_SAID_CHARS)}…`;
}

const MAX_SAID_CHARS = 160;

/** The form with what was typed in it, for a vehicle that is known or has to be chosen. */
function addressOf(path: string | null, key: string, fields: URLSearchParams): string {
  const query = new URLSearchParams([...fields].filter(([name, value]) => value !== "" && !NOT_TYPED.has(name)));
  query.set(WAITED, key);
  return `${path === null ? FOR_ENTRY_PATH : `${path}/new`}?${query}`;
}

const NOT_TYPED: ReadonlySet<string> = new Set(["submit_key", "version"]);
