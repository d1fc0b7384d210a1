import { LEGAL_NOTE, PLACES, type PlaceId } from "../../data/rules.ts";
import { formatDate } from "../../src/core/quantities/dates.ts";
import type { Vehicle } from "../../src/core/question/record.ts";
import type { ReadingsJudgement } from "../../src/core/readings/readings-contract.ts";
import type { TopOffPlan } from "../../src/core/top-off-plan.ts";
import type { Outcome } from "../answer/outcome.ts";
import { Sentence } from "../answer/sentence.tsx";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Entry } from "../parts/entry.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { PricesUsedLine } from "../parts/prices-used.tsx";
import { WayBack } from "../parts/way-back.tsx";
import { verdictSentence } from "../readings/judgement.tsx";
import type { GaugeStyle } from "../readings/said-readings.ts";
import { TopOffForm } from "../top-off/form.tsx";
import { PlanBody, PlanVerdict, WhyNot } from "../top-off/plan.tsx";
import type { TopOffFields } from "../top-off/top-off-fields.ts";
import type { EntryFields } from "./record/entry-fields.ts";
import { vehiclePath } from "./record/record.ts";
import { TopOffEntryForm } from "./record/top-off-entry-form.tsx";

export interface VehicleTopOffPageProps {
  vehicle: Vehicle;
  plan: TopOffPlan;
  /** What the record says. */
  outcome: Outcome;
  /** How the workspace says temperatures and pressures. */
  gaugeStyle: GaugeStyle;
  fields: TopOffFields;
  errors: readonly FieldError[];
  /** The readings that count, if there are any. */
  read: { id: string; date: string; judgement: ReadingsJudgement } | null;
  place: PlaceId;
  /** "Log what I did", filled in as planned; null for someone who may only look, and when nothing goes in. */
  entry: EntryFields | null;
  submit_key: string;
  asset: AssetUrl;
}

/** The top-off plan of a vehicle, from its record. */
export function VehicleTopOffPage(props: VehicleTopOffPageProps) {
  const { vehicle, plan, outcome, gaugeStyle, fields, errors, read, place, entry, submit_key, asset } = props;
  const { units } = outcome;
  const home = vehiclePath(vehicle.id);
  const readings = vehiclePath(vehicle.id, "readings");
  return (
    <Layout title={`Top-off plan: ${vehicle.label}`} path="/vehicles" asset={asset} errors={errors}>
      <div class="page-head">
        <WayBack href={home}>{vehicle.label}</WayBack>
        <h1>Top-off plan</h1>
      </div>
      <PlanVerdict plan={plan} units={units} option={outcome.answer.verdict.option}>
        {plan.stops.length === 0 ? (
          <>
            The answer for <a href={home}>this vehicle</a>: <Sentence outcome={outcome} />
          </>
        ) : (
          <a href={home}>Back to the vehicle and its answer</a>
        )}
      </PlanVerdict>
      <WhyNot plan={plan} readings={readings} />
      <Entry name="Today" note={<p>What the plan depends on</p>}>
        <dl class="dates">
          <div>
            <dt>Readings</dt>
            <dd>
              {read === null ? (
                <>
                  None of the last two weeks. <a href={readings}>Take them first</a>: is it low at all?
                </>
              ) : (
                <>
                  <a href={vehiclePath(vehicle.id, "readings", read.id)}>{formatDate(read.date)}</a>:{" "}
                  {verdictSentence(read.judgement)}
                </>
              )}
            </dd>
          </div>
          <div>
            <dt>Where it is</dt>
            <dd>
              {PLACES[place].name}. <a href={`/rules?place=${place}`}>What the rules say</a>
            </dd>
          </div>
        </dl>
        <TopOffForm
          action={vehiclePath(vehicle.id, "top-off")}
          asks={[
            "ambient",
            ...(place === "elsewhere" ? (["where"] as const) : []),
            ...(vehicle.electric_compressor ? [] : (["compressor"] as const)),
            "contents",
            "seal",
          ]}
          fields={fields}
          sent_along={[]}
          errors={errors}
          units={gaugeStyle.units}
          readings={readings}
        />
      </Entry>
      <PlanBody plan={plan} units={units} gaugeStyle={gaugeStyle} />
      {entry !== null && (
        <Entry name="Log what I did" note={<p>Filled in as planned</p>} id="log">
          <TopOffEntryForm vehicle_id={vehicle.id} fields={entry} submit_key={submit_key} />
        </Entry>
      )}
      <PricesUsedLine prices={outcome.prices} />
      <p class="legal-note">{LEGAL_NOTE}</p>
    </Layout>
  );
}
