import { leakPriors } from "../../data/leak-priors.ts";
import { currencySign } from "../../src/core/quantities/number-text.ts";
import { REFRIGERANTS, VEHICLE_KINDS } from "../../src/core/question/contract.ts";
import type { Vehicle } from "../../src/core/question/record.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Entry } from "../parts/entry.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { fieldOf, type Messages, messagesOf, SelectField, TextField } from "../parts/field.tsx";
import { Folded } from "../parts/folded.tsx";
import { type PricesUsed, PricesUsedLine } from "../parts/prices-used.tsx";
import { TableHead } from "../parts/table-head.tsx";
import { WayBack } from "../parts/way-back.tsx";
import { CLIMATE_CHOICES } from "../start/quick-fields.ts";
import {
  ASSUMPTION_NUMBERS,
  type ChoiceDetail,
  type DetailsFields,
  type NumberDetail,
  PLAN_CHOICES,
  PLAN_NUMBERS,
  PRICE_CHOICES,
  PRICE_NUMBERS,
  REPAIR_PRICES,
} from "./details-fields.ts";
import { vehiclePath } from "./record/record.ts";

export interface DetailsPageProps {
  /** Null for a vehicle that is not there yet. */
  vehicle: Vehicle | null;
  fields: DetailsFields;
  /** What holds where a field is empty, by the name of the field. */
  usual: DetailsFields;
  /** Whose prices hold where it has none of its own, and what its money is in. */
  prices: PricesUsed;
  errors: readonly FieldError[];
  submit_key: string;
  /** What someone else saved in the meantime: the fields that differ from what was typed. */
  conflict: { message: string; differences: readonly Difference[] } | null;
  asset: AssetUrl;
}

/** A field that says one thing in the record and another in the form. */
export interface Difference {
  label: string;
  saved: string;
  typed: string;
}

interface PartProps {
  fields: DetailsFields;
  usual: DetailsFields;
  currency: string;
  messages: Messages;
}

/** Everything that is said about a vehicle, beside its record. */
export function DetailsPage({ vehicle, fields, usual, prices, errors, submit_key, conflict, asset }: DetailsPageProps) {
  const heading = vehicle === null ? "Enter a vehicle" : "Edit details";
  const messages = messagesOf(errors);
  const part = { fields, usual, currency: prices.currency, messages };
  const name = vehicle === null ? "" : `: ${vehicle.label}`;
  const back = vehicle === null ? "/vehicles" : vehiclePath(vehicle.id);
  return (
    <Layout title={`${heading}${name}`} path="/vehicles" asset={asset} errors={errors}>
      <div class="page-head">
        <WayBack href={back}>{vehicle === null ? "Vehicles" : vehicle.label}</WayBack>
        <h1>{heading}</h1>
        {vehicle === null && <p>Three things are needed; the rest can wait. The charge log comes next.</p>}
      </div>
      {conflict !== null && <Conflict {...conflict} />}
      <form
        class="details-form"
        id="details-form"
        method="post"
        action={vehicle === null ? "/vehicles/new" : vehiclePath(vehicle.id, "details")}
        novalidate
      >
        <input type="hidden" name="submit_key" value={submit_key} />
        {vehicle !== null && <input type="hidden" name="version" value={vehicle.version} />}
        <TheVehicle {...part} own_climate={vehicle?.monthly_mean_c != null} />
        <ThePlan {...part} />
        <Entry name="Its own values">
          <PricesUsedLine prices={prices} />
          <FoldedFields
            title="Prices"
            numbers={[...PRICE_NUMBERS, ...REPAIR_PRICES]}
            choices={PRICE_CHOICES}
            {...part}
          />
          <FoldedFields title="Assumptions" numbers={ASSUMPTION_NUMBERS} choices={[]} {...part} />
        </Entry>
        <p class="actions form-end">
          <button type="submit" class="button">
            {conflict !== null ? "Replace with mine" : vehicle === null ? "Save this vehicle" : "Save"}
          </button>
          <a href={back}>Cancel</a>
        </p>
      </form>
    </Layout>
  );
}

function Conflict({ message, differences }: NonNullable<DetailsPageProps["conflict"]>) {
  return (
    <section class="conflict" id="conflict" role="alert" tabindex={-1} autofocus aria-labelledby="conflict-title">
      <h2 id="conflict-title">Not saved yet</h2>
      <p>{message} Your version is in the form below.</p>
      {differences.length === 0 ? (
        <p>What is saved now says the same as yours.</p>
      ) : (
        <table>
          <TableHead words={["What differs", "Saved now", "Yours"]} />
          <tbody>
            {differences.map(({ label, saved, typed }) => (
              <tr>
                <th scope="row">{label}</th>
                <td dir="auto">{saved === "" ? <span class="soft">empty</span> : saved}</td>
                <td dir="auto">{typed === "" ? <span class="soft">empty</span> : typed}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}

function TheVehicle({ fields, messages, own_climate }: PartProps & { own_climate: boolean }) {
  const of = fieldOf(fields, messages);
  return (
    <Entry name="The vehicle">
      <div class="field-grid">
        <TextField {...of("label")} label="Name" hint="Like the blue van" words class="wide" />
        <SelectField
          {...of("refrigerant")}
          label="Refrigerant"
          hint="On the hood label"
          choices={REFRIGERANTS.map((id) => ({ value: id, label: id }))}
        />
        <TextField {...of("nameplate")} label="Nameplate charge" hint="On the same label, like 23 oz" />
        <SelectField
          {...of("climate")}
          label="Climate"
          hint={own_climate ? "It has monthly temperatures of its own, which go first" : "Heat speeds a leak"}
          choices={CLIMATE_CHOICES}
        />
        <TextField {...of("fleet_group")} label="Group" hint="Like box trucks" words />
        <TextField {...of("depot")} label="Depot" hint="Like north yard" words />
        <SelectField {...of("kind")} label="Kind of vehicle" choices={KIND_CHOICES} />
        <label class="choice wide">
          <input
            type="checkbox"
            name="electric_compressor"
            value="yes"
            checked={(fields.electric_compressor ?? "") !== ""}
          />
          Hybrid or electric: high-voltage compressor
        </label>
        <SelectField
          {...of("dye_in_own_oil")}
          label="Leak dye in the compressor's own oil"
          hint="For high voltage"
          choices={DYE_CHOICES}
        />
      </div>
      <Folded title="Odometer, volume" open={FOLDED.some((name) => isFilledOrWrong(name, fields, messages))}>
        <div class="field-grid">
          <TextField {...of("model_year")} label="Model year" hint="Like 2019" short inputmode="numeric" />
          <TextField {...of("odometer")} label="Odometer" hint="Latest reading, like 84,200 miles" />
          <TextField {...of("odometer_on")} label="Odometer read on" hint="Blank: today" />
          <TextField
            {...of("system_volume")}
            label="Volume of the refrigerant system, mL"
            hint="If you know it; only readings use it"
            short
            inputmode="decimal"
          />
        </div>
      </Folded>
    </Entry>
  );
}

const FOLDED = ["model_year", "odometer", "odometer_on", "system_volume"] as const;

const KIND_CHOICES = [
  { value: "", label: "Not said" },
  ...VEHICLE_KINDS.map((value) => ({ value, label: leakPriors[value].label })),
];

const DYE_CHOICES = [
  { value: "", label: "Not sure" },
  { value: "yes", label: "Yes, there is" },
  { value: "no", label: "No" },
];

function AsUsual() {
  return (
    <p>
      Blank: as usual. <a href="/method">What each means</a>
    </p>
  );
}

function ThePlan(part: PartProps) {
  return (
    <Entry name="The plan" note={<AsUsual />}>
      <div class="field-grid">
        <Numbers of={PLAN_NUMBERS.filter(({ name }) => ASKED_OF_PLAN.has(name))} {...part} />
        <Choices of={PLAN_CHOICES.filter(({ name }) => ASKED_OF_PLAN.has(name))} {...part} />
      </div>
      <FoldedFields
        title="More of the plan"
        numbers={PLAN_NUMBERS.filter(({ name }) => !ASKED_OF_PLAN.has(name))}
        choices={PLAN_CHOICES.filter(({ name }) => !ASKED_OF_PLAN.has(name))}
        {...part}
      />
    </Entry>
  );
}

/** What most people have an answer to of their own; the rest of the plan is folded away. */
const ASKED_OF_PLAN: ReadonlySet<string> = new Set(["plan.keep_years", "plan.service", "plan.tools_owned"]);

interface FoldedFieldsProps extends PartProps {
  title: string;
  numbers: readonly NumberDetail[];
  choices: readonly ChoiceDetail[];
}

/** What few people change: folded away unless one is set, or wrong. */
function FoldedFields({ title, numbers, choices, ...part }: FoldedFieldsProps) {
  const open = [...numbers, ...choices].some(({ name }) => isFilledOrWrong(name, part.fields, part.messages));
  return (
    <Folded title={title} open={open}>
      <div class="field-grid">
        <Numbers of={numbers} {...part} />
        <Choices of={choices} {...part} />
      </div>
    </Folded>
  );
}

function isFilledOrWrong(name: string, fields: DetailsFields, messages: Messages): boolean {
  return (fields[name] ?? "") !== "" || messages.has(name);
}

function Numbers({ of, fields, usual, currency, messages }: PartProps & { of: readonly NumberDetail[] }) {
  return (
    <>
      {of.map(({ name, label, unit }) => (
        <TextField
          id={name}
          name={name}
          value={fields[name] ?? ""}
          error={messages.get(name)}
          label={labelWithUnit(label, unit, currency)}
          hint={`Usually ${usual[name] ?? "none"}`}
          short
          inputmode="decimal"
        />
      ))}
    </>
  );
}

function Choices({ of, fields, usual, messages }: PartProps & { of: readonly ChoiceDetail[] }) {
  return (
    <>
      {of.map(({ name, label, choices }) => {
        const usual_label = choices.find(({ value }) => value === usual[name])?.label;
        return (
          <SelectField
            id={name}
            name={name}
            value={fields[name] ?? ""}
            error={messages.get(name)}
            label={label}
            choices={[{ value: "", label: <>As usual: {usual_label}</> }, ...choices]}
          />
        );
      })}
    </>
  );
}

/** The unit after the label, unless that begins with it; money is said by its sign. */
function labelWithUnit(label: string, unit: string, currency: string): string {
  if (label.toLowerCase().startsWith(unit)) return label;
  return `${label}, ${unit.replace("money", () => currencySign(currency))}`;
}
