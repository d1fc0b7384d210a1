import { GLOSSARY, type GlossaryId } from "../../data/glossary.ts";
import type { GroupSays } from "../../src/core/fleet/row.ts";
import type { Prediction } from "../../src/core/hindsight/replay.ts";
import { findingsSinceRepair } from "../../src/core/leak/locations.ts";
import { isLookOnly } from "../../src/core/leak/looks.ts";
import type { UnitSystem } from "../../src/core/quantities/units.ts";
import type { AssessAnswer, Cooling } from "../../src/core/question/contract.ts";
import type { ChargeLine, NoteLine, Vehicle } from "../../src/core/question/record.ts";
import { AnswerDetail, AnswerGrounds } from "../answer/answer.tsx";
import { WhereItLeaks } from "../answer/charts/where-it-leaks.tsx";
import { Fold } from "../answer/fold.tsx";
import type { Ways } from "../answer/next-step.tsx";
import { groundOf, isLowAsSeen, isPlaceKnown, type Outcome } from "../answer/outcome.ts";
import { VerdictBlock } from "../answer/verdict.tsx";
import type { AssetUrl } from "../assets.ts";
import { Layout, PageTitle } from "../layout.tsx";
import { Entry, FoldedEntry } from "../parts/entry.tsx";
import { ErrorSummary, type FieldError } from "../parts/error-summary.tsx";
import { messagesOf } from "../parts/field.tsx";
import { Definitions } from "../parts/term.tsx";
import type { ListedQuote } from "../quotes/quotes-page.tsx";
import { VehicleQuotes } from "../quotes/vehicle-quotes.tsx";
import type { GaugeStyle } from "../readings/said-readings.ts";
import type { WhatIfFields } from "../start/quick-fields.ts";
import { MORE_WHAT_IFS, WhatIf } from "../start/what-if.tsx";
import { VehicleGroup } from "./group.tsx";
import { VehicleHead } from "./head.tsx";
import { LookToday } from "./look.tsx";
import { ChargeLog } from "./record/charge-log.tsx";
import { Findings, type ShownFinding } from "./record/findings.tsx";
import { ChangeButton } from "./record/line-page.tsx";
import { Notes } from "./record/notes.tsx";
import { PastPredictions } from "./record/past-predictions.tsx";
import { type ShownReadings, VehicleReadings } from "./record/readings.tsx";
import { vehiclePath } from "./record/record.ts";
import { Repairs } from "./record/repairs.tsx";
import { type Saved, SavedNote } from "./saved.tsx";
import { SensitivityLater } from "./sensitivity.tsx";

export interface VehiclePageProps {
  vehicle: Vehicle;
  units: UnitSystem;
  /** What its money is in, ISO 4217. */
  currency: string;
  /** Null while a what-if is to be put right. */
  outcome: Outcome | null;
  /** What is supposed: as it was typed, or else as it is recorded. */
  what_if: WhatIfFields;
  /** What is supposed otherwise than it is recorded. */
  supposed: Partial<WhatIfFields>;
  errors: readonly FieldError[];
  /** The address of the vehicle under other suppositions. */
  addressWith: (changes: Partial<WhatIfFields>) => string;
  leak: AssessAnswer["leak"];
  entries: readonly ChargeLine[];
  findings: readonly ShownFinding[];
  readings: readonly ShownReadings[];
  /** How the workspace's gauges and thermometers read. */
  gauges: GaugeStyle;
  notes: readonly NoteLine[];
  quotes: readonly ListedQuote[];
  /** What the fleet's table says; null where no group had a say in it. */
  group: GroupSays | null;
  /** Its past charges, predicted again. */
  predictions: readonly Prediction[];
  saved: Saved | null;
  may_edit: boolean;
  submit_key: string;
  today: string;
  time_zone: string;
}

const ANSWER_ID = "vehicle-answer";

/** One vehicle: what to do about it, and its whole record. */
export function VehiclePage({ asset, ...props }: VehiclePageProps & { asset: AssetUrl }) {
  const { vehicle, units, saved, may_edit, submit_key } = props;
  return (
    <Layout
      title={props.vehicle.label}
      errors={props.errors}
      summary={false}
      path="/vehicles"
      asset={asset}
      charts
      wide
    >
      {saved !== null && <SavedNote vehicle={vehicle} saved={saved} submit_key={`${submit_key}-saved`} />}
      <VehicleHead vehicle={vehicle} units={units} may_edit={may_edit} />
      <Standing vehicle={vehicle} may_edit={may_edit} submit_key={submit_key} />
      <div id={ANSWER_ID}>
        <Answer {...props} Record={WholeRecord} />
      </div>
      {may_edit && vehicle.archived_at === null && <ArchiveEntry vehicle={vehicle} submit_key={submit_key} />}
      <Definitions of={Object.keys(GLOSSARY) as GlossaryId[]} />
    </Layout>
  );
}

/** The answer alone, for the page that is there already; the record, which no supposition changes, stays as it is. */
export function VehicleAnswerFragment(props: VehiclePageProps) {
  return (
    <>
      <PageTitle title={props.vehicle.label} errors={props.errors} />
      <Answer {...props} Record={RecordAsItIs} />
    </>
  );
}

type RecordPart = "log" | "findings" | "others";

/** The answer and the record, each part of the record beside what it says about the answer. */
function Answer({ Record, ...props }: VehiclePageProps & { Record: typeof WholeRecord }) {
  const { vehicle, outcome, supposed, errors, may_edit, submit_key, today, entries } = props;
  return (
    <>
      {errors.length > 0 && <ErrorSummary errors={errors} />}
      {Object.keys(supposed).length > 0 && errors.length === 0 && (
        <p class="note" id="supposed">
          This is a what-if with values that are not saved.{" "}
          <a href={vehiclePath(vehicle.id)}>Back to the saved vehicle</a>
        </p>
      )}
      <div class="vehicle-answer">
        {outcome === null ? (
          <NoAnswer count={errors.length} />
        ) : (
          <VerdictBlock outcome={outcome} ways={waysOf(vehicle, may_edit)} />
        )}
        {may_edit && vehicle.archived_at === null && (
          <LookToday vehicle_id={vehicle.id} state={lookOf(entries, today)} submit_key={`${submit_key}-look`} />
        )}
      </div>
      <div class="vehicle-record">
        <Record {...props} part="log" />
        <Record {...props} part="findings" />
        <Record {...props} part="others" />
      </div>
      <div class="vehicle-grounds">
        <Grounds {...props} />
      </div>
    </>
  );
}

/** What the answer rests on, and what would change it. */
function Grounds(props: VehiclePageProps) {
  const { vehicle, outcome, supposed, addressWith, may_edit } = props;
  return (
    <>
      {outcome !== null && (
        <AnswerGrounds outcome={outcome} ways={waysOf(vehicle, may_edit)} say_where="/settings#place" />
      )}
      {outcome !== null && locationSaysSomething(outcome) && (
        <Entry name="Where it leaks">
          <WhereItLeaks outcome={outcome} />
        </Entry>
      )}
      {props.group !== null && (
        <VehicleGroup
          group={props.group}
          recorded={Object.keys(supposed).length === 0 && outcome !== null ? groundOf(outcome) : null}
        />
      )}
      <WhatIfForm {...props} />
      {outcome !== null && (
        <Fold id="more-answer" title="More about this answer">
          <AnswerDetail
            outcome={outcome}
            say_where="/settings#place"
            past={<PastPredictions predictions={props.predictions} />}
            sensitivity={<SensitivityLater vehicle_id={vehicle.id} address={addressWith({})} />}
            location={!locationSaysSomething(outcome)}
          />
        </Fold>
      )}
    </>
  );
}

/** Whether a test found where this vehicle leaks; else the chart says that it is not clear yet, and stands folded. */
function locationSaysSomething({ answer, question }: Outcome): boolean {
  return findingsSinceRepair(question).some(({ result }) => result === "leak") || isPlaceKnown(answer);
}

/** Where the next steps are for a saved vehicle. */
function waysOf({ id }: Vehicle, may_edit: boolean): Ways {
  return {
    top_off: vehiclePath(id, "top-off"),
    readings: vehiclePath(id, "readings"),
    leak_tests: "/leak-tests",
    quote: vehiclePath(id, "quotes"),
    log_look: may_edit ? `${vehiclePath(id, "findings", "new")}?test=visual` : null,
    log_repair: may_edit ? `${vehiclePath(id, "log", "new")}?repair=service-port` : null,
    leave_out: null,
  };
}

/** What the log says of how it cools today: the last look of the day, after what was done where something was. */
function lookOf(entries: readonly ChargeLine[], today: string): Cooling | null {
  const last = entries.findLast(({ date }) => date === today);
  if (last === undefined) return null;
  return isLookOnly(last) ? (last.cooling ?? null) : last.cooling_after;
}

function recordId(part: RecordPart): string {
  return `record-${part}`;
}

function WholeRecord({ part, ...props }: VehiclePageProps & { part: RecordPart }) {
  return (
    <div id={recordId(part)} hx-morph-skip="">
      {part === "log" && <LogRecord {...props} />}
      {part === "findings" && <FindingsRecord {...props} />}
      {part === "others" && <OtherRecords {...props} />}
    </div>
  );
}

/** Placeholder for a part of the record that is already on the page; the swap leaves it unchanged. */
function RecordAsItIs({ part }: VehiclePageProps & { part: RecordPart }) {
  return <div id={recordId(part)} hx-morph-skip="" />;
}

function LogRecord({ vehicle, entries, units, may_edit, leak, today }: VehiclePageProps) {
  return (
    <>
      <ChargeLog vehicle_id={vehicle.id} entries={entries} units={units} may_edit={may_edit} />
      <Repairs
        repairs={entries.filter(({ repair }) => repair != null)}
        leak={leak}
        as_of={today}
        low_as_seen={isLowAsSeen(entries)}
      />
    </>
  );
}

function FindingsRecord({ vehicle, findings, may_edit }: VehiclePageProps) {
  return <Findings vehicle_id={vehicle.id} findings={findings} may_edit={may_edit} />;
}

function OtherRecords({ vehicle, readings, gauges, notes, quotes, time_zone, may_edit }: VehiclePageProps) {
  return (
    <>
      <VehicleReadings vehicle_id={vehicle.id} readings={readings} gaugeStyle={gauges} may_edit={may_edit} />
      <Notes vehicle_id={vehicle.id} notes={notes} time_zone={time_zone} may_edit={may_edit} />
      <FoldedEntry
        name="Quotes"
        count={quotes.length === 0 ? "None" : String(quotes.length)}
        history={null}
        id="quotes"
      >
        <VehicleQuotes vehicle_id={vehicle.id} quotes={quotes} />
      </FoldedEntry>
    </>
  );
}

function NoAnswer({ count }: { count: number }) {
  return (
    <div class="verdict" id="answer" role="status">
      <h2>No answer yet. Fix {count === 1 ? "one thing" : `${count} things`} first.</h2>
    </div>
  );
}

/** What-ifs as a form of their own. What the links beside the fields have set goes along. */
function WhatIfForm({ vehicle, outcome, currency, what_if, supposed, errors, addressWith }: VehiclePageProps) {
  const messages = messagesOf(errors);
  return (
    <form
      id="what-if-form"
      action={vehiclePath(vehicle.id)}
      method="get"
      novalidate
      autocomplete="off"
      hx-get={vehiclePath(vehicle.id)}
      hx-trigger="submit, change"
      hx-target={`#${ANSWER_ID}`}
      hx-swap="innerMorph"
      hx-sync="this:replace"
    >
      {(["keep", "service"] as const).map(
        (name) => supposed[name] !== undefined && <input type="hidden" name={name} value={supposed[name]} />,
      )}
      <WhatIf
        fields={what_if}
        messages={messages}
        outcome={outcome}
        currency={currency}
        addressWith={addressWith}
        target={`#${ANSWER_ID}`}
        folded={{ open: Object.keys(supposed).length > 0 || errors.length > 0 }}
        more={MORE_WHAT_IFS.filter((name) => supposed[name] !== undefined)}
      />
    </form>
  );
}

interface StandingProps {
  vehicle: Vehicle;
  may_edit: boolean;
  submit_key: string;
}

/** Whether it is a sample, or archived. */
function Standing({ vehicle, may_edit, submit_key }: StandingProps) {
  return (
    <>
      {vehicle.example && (
        <p class="note" id="example">
          Sample vehicle. {may_edit && <a href="/vehicles#examples">Remove the samples</a>}
        </p>
      )}
      {vehicle.archived_at !== null && (
        <div class="note" id="archived">
          <p>Archived: it is off the list, and its records are saved.</p>
          {may_edit && (
            <ChangeButton
              action={vehiclePath(vehicle.id, "unarchive")}
              submit_key={`${submit_key}-unarchive`}
              version={vehicle.version}
            >
              Put it back on the list
            </ChangeButton>
          )}
        </div>
      )}
    </>
  );
}

function ArchiveEntry({ vehicle, submit_key }: Pick<StandingProps, "vehicle" | "submit_key">) {
  return (
    <FoldedEntry name="Archive" count={null} history={null} id="archive">
      <p>Off the list, records kept.</p>
      <ChangeButton
        action={vehiclePath(vehicle.id, "archive")}
        submit_key={`${submit_key}-archive`}
        version={vehicle.version}
      >
        Archive this vehicle
      </ChangeButton>
    </FoldedEntry>
  );
}
