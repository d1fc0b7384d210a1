import type { Child } from "hono/jsx";
import { CLIMATES } from "../../data/climates.ts";
import { CURRENCIES } from "../../data/currencies.ts";
import { GWP_DATA } from "../../data/gwp.ts";
import { currencyName } from "../../src/core/quantities/number-text.ts";
import { GWP_SETS } from "../../src/core/question/contract.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Entry } from "../parts/entry.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import {
  type Choice,
  type ChoiceGroup,
  choicesOf,
  fieldOf,
  messagesOf,
  RadioField,
  SelectField,
  TextField,
} from "../parts/field.tsx";
import { Folded } from "../parts/folded.tsx";
import { FormFoot } from "../parts/form-foot.tsx";
import { WHERE_CHOICES } from "../rules/where-choices.ts";
import { inSentence } from "../words/in-sentence.ts";
import { SettingsHead } from "./head.tsx";
import { OWN_CLIMATE, type SettingsFields } from "./settings-fields.ts";

export interface SettingsPageProps {
  fields: SettingsFields;
  version: number;
  errors: readonly FieldError[];
  /** What someone else has set in the meantime, where it differs from what was typed. */
  theirs: readonly { field: string; value: string }[] | null;
  saved: boolean;
  may_change: boolean;
  owner: boolean;
  /** Whether this browser was let in by a link, and can leave. */
  can_leave: boolean;
  time_zones: readonly string[];
  submit_key: string;
  asset: AssetUrl;
}

const MASS_CHOICES: readonly Choice[] = choicesOf({
  oz: "Ounces (23 oz)",
  "lb-oz": "Pounds and ounces (1 lb 7 oz)",
  g: "Grams (650 g)",
});
const TEMPERATURE_CHOICES: readonly Choice[] = choicesOf({ F: "°F", C: "°C" });
const PRESSURE_CHOICES: readonly Choice[] = choicesOf({
  "psi-gauge": "psi",
  "bar-gauge": "bar",
  "kPa-gauge": "kPa",
  "kPa-absolute": "kPa absolute",
});

const SERVICE_CHOICES: readonly Choice[] = choicesOf({
  "": "Owner; a shop with a price book",
  diy: "The owner, from cans",
  shop: "A shop",
});

const GWP_CHOICES: readonly Choice[] = [
  { value: "", label: `As usual: ${GWP_DATA.AR6.name}` },
  ...GWP_SETS.map((set) => ({ value: set, label: GWP_DATA[set].name })),
];

/** `/settings`: how things are shown, and what holds for every vehicle that does not say otherwise. */
export function SettingsPage(props: SettingsPageProps) {
  const { fields, version, errors, theirs, saved, may_change, owner, can_leave, submit_key, asset } = props;
  const messages = messagesOf(errors);
  const of = fieldOf(fields, messages);
  return (
    <Layout title="Settings" path="/settings" asset={asset} errors={errors}>
      <SettingsHead path="/settings" owner={owner} />
      {saved && (
        <p class="saved" id="saved" role="status" tabindex={-1} autofocus>
          Saved.
        </p>
      )}
      {theirs !== null && <Theirs theirs={theirs} />}
      {!may_change && <p class="note">Your access lets you look. An owner or editor can change these.</p>}
      <form method="post" action="/settings" novalidate>
        <input type="hidden" name="version" value={version} />
        <input type="hidden" name="submit_key" value={submit_key} />
        <fieldset disabled={!may_change} class="plain-fieldset">
          <Entry name="Name">
            <TextField {...of("name")} label="What these records are called" words />
          </Entry>
          <Entry name="Units">
            <RadioField {...of("mass_unit")} label="Refrigerant" choices={MASS_CHOICES} />
            <RadioField {...of("temperature_unit")} label="Temperature" choices={TEMPERATURE_CHOICES} />
            <RadioField {...of("pressure_unit")} label="Gauges show" choices={PRESSURE_CHOICES} />
            <SelectField {...of("currency")} label="Currency" choices={currencyChoices(fields.currency)} />
          </Entry>
          <Entry name="Unless a vehicle says otherwise">
            <SelectField {...of("service")} label="Who tops off" choices={SERVICE_CHOICES} />
            <TextField {...of("keep_years")} label="Years kept" short inputmode="decimal" />
            <SelectField {...of("gwp")} label="CO₂e" choices={GWP_CHOICES} />
          </Entry>
          <Entry name="Place">
            <SelectField
              {...of("place")}
              label="Where the vehicles are"
              hint="Sets which rules apply"
              choices={WHERE_CHOICES}
            />
            <SelectField
              {...of("climate")}
              label="Climate"
              hint="A leak is faster in hot months"
              choices={CLIMATE_CHOICES}
            />
            <Folded title="Your own monthly averages" open={fields.climate === OWN_CLIMATE || messages.has("means")}>
              <TextField
                {...of("means")}
                label="Average temperature of each month, January first"
                hint={`Twelve temperatures in ${fields.temperature_unit === "C" ? "°C" : "°F"}, with spaces between them; used where the climate above is “Your own monthly averages”`}
              />
            </Folded>
            <SelectField {...of("time_zone")} label="Time zone" choices={zoneChoices(props.time_zones)} />
          </Entry>
        </fieldset>
        {may_change && (
          <Entry name="Save">
            <FormFoot submit="Save" />
          </Entry>
        )}
      </form>
      {can_leave && <Leave />}
    </Layout>
  );
}

function Theirs({ theirs }: { theirs: NonNullable<SettingsPageProps["theirs"]> }) {
  return (
    <div class="note" role="alert" id="changed">
      <p>
        Someone else saved these settings in the meantime, so yours are not saved yet. What you typed is below; save
        again to put it in place of theirs.
      </p>
      {theirs.length > 0 && (
        <dl class="theirs">
          {theirs.map(({ field, value }) => (
            <div>
              <dt>{FIELD_NAMES[field as keyof SettingsFields]} is now</dt>
              <dd dir="auto">{saidValue(field as keyof SettingsFields, value)}</dd>
            </div>
          ))}
        </dl>
      )}
    </div>
  );
}

const FIELD_NAMES: Readonly<Record<keyof SettingsFields, string>> = {
  name: "The name",
  mass_unit: "Refrigerant",
  temperature_unit: "Temperature",
  pressure_unit: "Pressure",
  currency: "The currency",
  service: "Who tops off",
  keep_years: "Years kept",
  gwp: "CO₂e",
  place: "The place",
  climate: "The climate",
  means: "Your own monthly averages",
  time_zone: "The time zone",
};

/** What stands in a field, as the form says it. */
function saidValue(field: keyof SettingsFields, value: string): Child {
  const choices: Partial<Record<keyof SettingsFields, readonly Choice[]>> = {
    mass_unit: MASS_CHOICES,
    temperature_unit: TEMPERATURE_CHOICES,
    pressure_unit: PRESSURE_CHOICES,
    currency: currencyChoices(value),
    service: SERVICE_CHOICES,
    gwp: GWP_CHOICES,
    place: WHERE_CHOICES,
    climate: CLIMATE_CHOICES,
  };
  return choices[field]?.find((choice) => choice.value === value)?.label ?? (value === "" ? "not said" : value);
}

/** The way out of a browser that was let in by a link. */
function Leave() {
  return (
    <Entry name="This device" id="leave">
      <p>Whoever uses this browser can get into these records. Leaving needs a new link to come back.</p>
      <form method="post" action="/leave">
        <button type="submit" class="button-quiet">
          Leave on this device
        </button>
      </form>
    </Entry>
  );
}

const CLIMATE_CHOICES: readonly Choice[] = [
  { value: "", label: "Not said (no season)" },
  ...CLIMATES.map(({ id, name, description }) => ({ value: id, label: `${name}: ${inSentence(description)}` })),
  { value: OWN_CLIMATE, label: "Your own monthly averages" },
];

/** All known currencies, and the current one if it is not among them. */
function currencyChoices(current: string): Choice[] {
  const codes = CURRENCIES.includes(current) || current === "" ? CURRENCIES : [current, ...CURRENCIES];
  return codes.map((code) => ({ value: code, label: `${code} (${currencyName(code)})` }));
}

/** By the part of the world that stands before the stroke. */
function zoneChoices(zones: readonly string[]): (Choice | ChoiceGroup)[] {
  const choice = (zone: string): Choice => ({ value: zone, label: zone.replaceAll("_", " ") });
  const groups = Map.groupBy(
    zones.filter((zone) => zone.includes("/")),
    (zone) => zone.split("/")[0]!,
  );
  return [
    ...zones.filter((zone) => !zone.includes("/")).map(choice),
    ...[...groups].map(([group, members]) => ({ group, choices: members.map(choice) })),
  ];
}
