import { GLOSSARY, type GlossaryId } from "../../data/glossary.ts";
import type { AssessAnswer } from "../../src/core/contract.ts";
import type { UnitSystem } from "../../src/core/units.ts";
import { AnswerDetail, AnswerGrounds } from "../answer/answer.tsx";
import type { Outcome } from "../answer/outcome.ts";
import { VerdictBlock } from "../answer/verdict.tsx";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Entry } from "../parts/entry.tsx";
import { ErrorLinks, ErrorSummary, type FieldError } from "../parts/error-summary.tsx";
import { Definitions } from "../parts/term.tsx";
import type { WhatIfFields } from "../start/quick-fields.ts";
import { WhatIf } from "../start/what-if.tsx";
import { ChargeLog } from "./charge-log.tsx";
import { Findings, type ShownFinding } from "./findings.tsx";
import { VehicleHead } from "./head.tsx";
import { ChangeButton } from "./line-page.tsx";
import { LookToday } from "./look.tsx";
import { Notes } from "./notes.tsx";
import { type EntryLine, type NoteLine, type ShownVehicle, vehiclePath } from "./record.ts";
import { Repairs } from "./repairs.tsx";
import { type Saved, SavedNote } from "./saved.tsx";
import { SensitivityLater } from "./sensitivity.tsx";

export interface VehicleAnswerProps {
  vehicle: ShownVehicle;
  units: UnitSystem;
  /** Null while a what-if is to be put right. */
  outcome: Outcome | null;
  /** What is supposed: as it was typed, or else as it is recorded. */
  what_if: WhatIfFields;
  /** What is supposed otherwise than it is recorded. */
  supposed: Partial<WhatIfFields>;
  errors: readonly FieldError[];
  /** The address of the vehicle under other suppositions. */
  addressWith: (changes: Partial<WhatIfFields>) => string;
  may_edit: boolean;
  submit_key: string;
  today: string;
}

export interface VehiclePageProps extends VehicleAnswerProps {
  leak: AssessAnswer["leak"];
  entries: readonly EntryLine[];
  findings: readonly ShownFinding[];
  notes: readonly NoteLine[];
  saved: Saved | null;
  time_zone: string;
  asset: AssetUrl;
}

const ANSWER_ID = "vehicle-answer";

/** One vehicle: what to do about it, and its whole record. */
export function VehiclePage({ asset, ...props }: VehiclePageProps) {
  const { vehicle, units, saved, may_edit, submit_key, time_zone } = props;
  const repairs = props.entries.filter(({ repair }) => repair != null);
  return (
    <Layout title={titleOf(props)} path="/vehicles" asset={asset} charts>
      {saved !== null && <SavedNote vehicle={vehicle} saved={saved} submit_key={`${submit_key}-saved`} />}
      <VehicleHead vehicle={vehicle} units={units} may_edit={may_edit} />
      <Standing vehicle={vehicle} may_edit={may_edit} submit_key={submit_key} />
      <div id={ANSWER_ID}>
        <VehicleAnswer {...props} />
      </div>
      <ChargeLog vehicle_id={vehicle.id} entries={props.entries} units={units} may_edit={may_edit} />
      <Repairs repairs={repairs} leak={props.leak} as_of={props.today} />
      <Findings vehicle_id={vehicle.id} findings={props.findings} may_edit={may_edit} />
      <Notes vehicle_id={vehicle.id} notes={props.notes} time_zone={time_zone} may_edit={may_edit} />
      {may_edit && vehicle.archived_at === null && (
        <Entry name="Gone?" id="archive">
          <p>Sold or scrapped? Archive it: it leaves the list, and its record stays.</p>
          <ChangeButton
            action={vehiclePath(vehicle.id, "archive")}
            submit_key={`${submit_key}-archive`}
            version={vehicle.version}
          >
            Archive this vehicle
          </ChangeButton>
        </Entry>
      )}
      <Definitions of={Object.keys(GLOSSARY) as GlossaryId[]} />
    </Layout>
  );
}

/** The answer alone, for the page that is there already. */
export function VehicleAnswerFragment(props: VehicleAnswerProps) {
  return (
    <>
      <title>{titleOf(props)}</title>
      <VehicleAnswer {...props} />
    </>
  );
}

function titleOf({ vehicle, errors }: VehicleAnswerProps): string {
  return `${errors.length > 0 ? "Error: " : ""}${vehicle.label} · Seepwise`;
}

function VehicleAnswer(props: VehicleAnswerProps) {
  const { vehicle, outcome, errors, supposed, addressWith, may_edit, submit_key, today } = props;
  return (
    <>
      {errors.length > 0 && <ErrorSummary errors={errors} />}
      {Object.keys(supposed).length > 0 && errors.length === 0 && (
        <p class="note" id="supposed">
          This answer supposes something that is not in the record.{" "}
          <a href={vehiclePath(vehicle.id)}>Back to the record</a>
        </p>
      )}
      {outcome === null ? (
        <div class="verdict" id="answer" role="status">
          <h2>No answer yet: {errors.length === 1 ? "one thing" : `${errors.length} things`} to put right.</h2>
          <ErrorLinks errors={errors} />
        </div>
      ) : (
        <VerdictBlock outcome={outcome} />
      )}
      {may_edit && vehicle.archived_at === null && (
        <LookToday vehicle_id={vehicle.id} today={today} submit_key={`${submit_key}-look`} />
      )}
      {outcome !== null && <AnswerGrounds outcome={outcome} />}
      <WhatIfForm {...props} />
      {outcome !== null && (
        <AnswerDetail
          outcome={outcome}
          sensitivity={<SensitivityLater vehicle_id={vehicle.id} address={addressWith({})} />}
        />
      )}
    </>
  );
}

/** What-ifs as a form of their own. What the links beside the fields have set goes along. */
function WhatIfForm({ vehicle, outcome, what_if, supposed, errors, addressWith }: VehicleAnswerProps) {
  const messages = new Map(errors.map(({ field, message }) => [field, message]));
  return (
    <form
      id="what-if-form"
      action={vehiclePath(vehicle.id)}
      method="get"
      novalidate
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
        addressWith={addressWith}
        target={`#${ANSWER_ID}`}
        note={<p>Try a change; nothing of it is saved.</p>}
      />
    </form>
  );
}

interface StandingProps {
  vehicle: ShownVehicle;
  may_edit: boolean;
  submit_key: string;
}

/** Whether it is an invented example, or archived. */
function Standing({ vehicle, may_edit, submit_key }: StandingProps) {
  return (
    <>
      {vehicle.example && (
        <p class="note" id="example">
          An invented example, to look around in. {may_edit && <a href="/vehicles">Take the examples away</a>}
        </p>
      )}
      {vehicle.archived_at !== null && (
        <div class="note" id="archived">
          <p>Archived: it is not in the list, and its record is kept.</p>
          {may_edit && (
            <ChangeButton
              action={vehiclePath(vehicle.id, "unarchive")}
              submit_key={`${submit_key}-unarchive`}
              version={vehicle.version}
            >
              Put it back in the list
            </ChangeButton>
          )}
        </div>
      )}
    </>
  );
}
