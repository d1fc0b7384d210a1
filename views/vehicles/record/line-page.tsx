import type { Child } from "hono/jsx";
import type { LineHead, Vehicle } from "../../../src/core/question/record.ts";
import type { AssetUrl } from "../../assets.ts";
import { Layout } from "../../layout.tsx";
import { Entry } from "../../parts/entry.tsx";
import type { FieldError } from "../../parts/error-summary.tsx";
import { FormFoot } from "../../parts/form-foot.tsx";
import { WayBack } from "../../parts/way-back.tsx";
import { type LedgerName, vehiclePath } from "./record.ts";
import { Lines } from "./said-line.tsx";

/** A line of a ledger as the page about it shows it. */
export interface ShownLine {
  line: LineHead;
  said: Child;
}

export interface LinePageProps {
  vehicle: Vehicle;
  ledger: LedgerName;
  /** Null for someone who may only look. */
  form: Child | null;
  /** In place of the ledger's own words. */
  heading?: string;
  lead?: string;
  /** What stands before the form, and after it. */
  above?: Child;
  below?: Child;
  errors: readonly FieldError[];
  /** Drawn for this form; the same press of the button, arriving twice, is stored once. */
  submit_key: string;
  /** All lines of the entry, newest first; none for a new one. */
  lines: readonly ShownLine[];
  /** Why nothing was stored, with what is stored instead: what was typed is in the form. */
  conflict: { message: string; current: ShownLine } | null;
  time_zone: string;
  asset: AssetUrl;
}

interface LedgerWords {
  fresh: string;
  correct: string;
  what: string;
  lead: string;
  /** On the button that saves a new one. */
  save?: string;
}

const WORDS: Readonly<Record<LedgerName, LedgerWords>> = {
  log: {
    fresh: "Add an entry",
    correct: "Fix an entry",
    what: "entry",
    lead: "One entry per visit.",
  },
  findings: {
    fresh: "Add a test result",
    correct: "Fix a test result",
    what: "test result",
    lead: "One location, or everywhere. A clean result counts too.",
  },
  readings: {
    fresh: "Take readings",
    correct: "Add to these readings, or fix them",
    what: "set of readings",
    lead: "Gauge, thermometer and visual readings from one day.",
    save: "Save and show what they mean",
  },
  notes: {
    fresh: "Add a note",
    correct: "Fix a note",
    what: "note",
    lead: "For the next person who looks at this vehicle.",
  },
};

/** A form for a line of a ledger: a new one, or a correction of what was written. */
export function LinePage(props: LinePageProps) {
  const { vehicle, ledger, errors, lines, conflict, asset } = props;
  const newest = lines[0]?.line;
  const words = WORDS[ledger];
  const heading = props.heading ?? (newest === undefined ? words.fresh : words.correct);
  return (
    <Layout
      title={`${heading}: ${vehicle.label}`}
      path="/vehicles"
      live={ledger === "log"}
      asset={asset}
      errors={errors}
    >
      <div class="page-head">
        <WayBack href={vehiclePath(vehicle.id)}>{vehicle.label}</WayBack>
        <h1>{heading}</h1>
        {newest === undefined && <p>{props.lead ?? words.lead}</p>}
      </div>
      {conflict !== null && <Conflict {...props} conflict={conflict} />}
      {newest?.change === "removed" && conflict === null ? (
        <p>This {words.what} was removed and no longer counts.</p>
      ) : (
        <>
          {props.above}
          {props.form !== null && props.heading !== undefined && newest !== undefined && (
            <h2 class="form-heading" id="correct">
              {words.correct}
            </h2>
          )}
          {props.form !== null && <LineForm {...props} />}
        </>
      )}
      {props.below}
      {newest !== undefined && <Versions {...props} newest={newest} />}
    </Layout>
  );
}

function LineForm(props: LinePageProps) {
  const { vehicle, ledger, form, submit_key, lines } = props;
  const newest = lines[0]?.line;
  const home = vehiclePath(vehicle.id, ledger);
  return (
    <form
      class="record-form"
      id="record-form"
      method="post"
      action={newest === undefined || newest.change === "removed" ? home : `${home}/${newest.id}/corrections`}
      novalidate
    >
      <input type="hidden" name="submit_key" value={submit_key} />
      {newest !== undefined && <input type="hidden" name="version" value={newest.version} />}
      {form}
      <FormFoot submit={saveWords(props)}>
        <a href={vehiclePath(vehicle.id)}>Cancel</a>
      </FormFoot>
    </form>
  );
}

function saveWords({ ledger, lines, conflict }: LinePageProps): string {
  const { what, save = "Save" } = WORDS[ledger];
  const newest = lines[0]?.line;
  if (newest === undefined) return conflict === null ? save : `Save as another ${what}`;
  if (newest.change === "removed") return `Save as a new ${what}`;
  return conflict === null ? "Save the correction" : "Replace it with mine";
}

function Conflict({
  vehicle,
  ledger,
  lines,
  conflict,
  time_zone,
}: LinePageProps & { conflict: NonNullable<LinePageProps["conflict"]> }) {
  const { what } = WORDS[ledger];
  const { current, message } = conflict;
  return (
    <section class="conflict" id="conflict" role="alert" tabindex={-1} autofocus aria-labelledby="conflict-title">
      <h2 id="conflict-title">Not saved yet</h2>
      <p>{message}</p>
      <h3>What is saved now</h3>
      <Lines lines={[current]} time_zone={time_zone} />
      <p>
        Your version is in the form below. Save again to use it, or{" "}
        {lines.length === 0 ? (
          <a href={vehiclePath(vehicle.id, ledger, current.line.id)}>fix the saved {what}</a>
        ) : (
          <a href={vehiclePath(vehicle.id)}>keep the saved one</a>
        )}
        .
      </p>
    </section>
  );
}

/** What was written before, and the ways back. */
function Versions({ newest, ...props }: LinePageProps & { newest: LineHead }) {
  const { vehicle, ledger, form, lines, submit_key, time_zone } = props;
  const { what } = WORDS[ledger];
  const removed = newest.change === "removed";
  const path = (change: string) => vehiclePath(vehicle.id, ledger, newest.id, change);
  return (
    <Entry name="History" note={<p>Newest first. Nothing is deleted.</p>} id="versions">
      <Lines lines={lines} time_zone={time_zone} />
      {form !== null && (
        <div class="actions">
          {(lines.length > 1 || removed) && (
            <ChangeButton action={path("undos")} submit_key={`${submit_key}-undo`} version={newest.version}>
              {removed ? "Restore it" : "Undo the last change"}
            </ChangeButton>
          )}
          {!removed && (
            <ChangeButton action={path("removals")} submit_key={`${submit_key}-remove`} version={newest.version}>
              Remove this {what}
            </ChangeButton>
          )}
        </div>
      )}
    </Entry>
  );
}

interface ChangeButtonProps {
  action: string;
  submit_key: string;
  version: number;
  children: Child;
}

/** A button that makes one change to the version that was seen. */
export function ChangeButton({ action, submit_key, version, children }: ChangeButtonProps) {
  return (
    <form method="post" action={action}>
      <input type="hidden" name="submit_key" value={submit_key} />
      <input type="hidden" name="version" value={version} />
      <button type="submit" class="button-quiet">
        {children}
      </button>
    </form>
  );
}
