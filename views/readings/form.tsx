import type { Child } from "hono/jsx";
import { Entry } from "../parts/entry.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { fieldOf, messagesOf, RadioField, SelectField, TextField } from "../parts/field.tsx";
import {
  CLUTCH_CHOICES,
  COMPRESSOR_CHOICES,
  CONDENSER_CHOICES,
  FAN_CHOICES,
  GAUGE_CHOICES,
  GAUGE_NAMES,
  METERING_CHOICES,
  MORE_AIR_CHOICES,
  READING_UNIT_CHOICES,
  REFRIGERANT_CHOICES,
  type ReadingsFields,
  SIGHT_GLASS_CHOICES,
} from "./readings-fields.ts";

interface ReadingsFormProps {
  fields: ReadingsFields;
  errors: readonly FieldError[];
  sent_along: readonly (readonly [name: string, value: string])[];
  empty: string;
}

/** The form: a plain GET, so that the address keeps everything and the page works without scripts. */
export function ReadingsForm({ fields, errors, sent_along, empty }: ReadingsFormProps) {
  const messages = messagesOf(errors);
  return (
    <form class="readings-form" method="get" action="/readings" novalidate>
      <input type="hidden" name="typed_in" value={fields.units} />
      <input type="hidden" name="typed_gauge" value={fields.gauge} />
      {sent_along.map(([name, value]) => (
        <input type="hidden" name={name} value={value} />
      ))}
      <ReadingEntries fields={fields} messages={messages} vehicle={null}>
        <div class="actions">
          <button class="button" type="submit">
            Show what they mean
          </button>
          <a href={empty}>Start with an empty form</a>
        </div>
      </ReadingEntries>
    </form>
  );
}

interface ReadingEntriesProps {
  fields: ReadingsFields;
  messages: ReadonlyMap<string, string>;
  /** The vehicle on record that they are taken at; null where the form asks what they are judged by. */
  vehicle: { electric_compressor: boolean } | null;
  /** Goes before the first field. */
  first?: Child;
  /** The end of the form. */
  children: Child;
}

/** What is read, in the order of doing it, each caution at its step. */
export function ReadingEntries({ fields, messages, vehicle, first, children }: ReadingEntriesProps) {
  const electric = vehicle?.electric_compressor === true;
  const typed = fieldOf(fields, messages);
  return (
    <>
      <TheDay fields={fields} typed={typed} first={first}>
        {vehicle === null && <JudgedBy fields={fields} messages={messages} />}
      </TheDay>
      <EngineOff fields={fields} typed={typed} electric={electric} />
      <Running fields={fields} typed={typed} electric={electric} />
      <AtTheCondenser typed={typed} />
      <WithMoreTools fields={fields} typed={typed} electric={electric}>
        {children}
      </WithMoreTools>
    </>
  );
}

interface PartProps {
  fields: ReadingsFields;
  typed: ReturnType<typeof fieldOf<ReadingsFields>>;
  /** Its compressor is a high-voltage one: no clutch, no engine speed. */
  electric: boolean;
}

function TheDay({ fields, typed, first, children }: Omit<PartProps, "electric"> & { first: Child; children: Child }) {
  return (
    <Entry name="The day" note={<p>Thermometer in the shade, in front of the car</p>}>
      <div class="field-grid">
        {first}
        <TextField
          {...typed("ambient")}
          label={`Air temperature, ${degreesOf(fields)}`}
          inputmode="text"
          short={isShort(fields.ambient)}
          hint="Needed. Like 85 °F or 29 °C"
        />
        <TextField {...typed("humidity")} label="Humidity, %" inputmode="decimal" short hint="If you know it" />
        <TextField
          {...typed("altitude")}
          label={`Altitude, ${fields.units === "us" ? "ft" : "m"}`}
          inputmode="text"
          short={isShort(fields.altitude)}
          hint="Gauges read higher at altitude. Enter it above 2000 ft (600 m)"
        />
        {children}
      </div>
    </Entry>
  );
}

function EngineOff({ fields, typed, electric }: PartProps) {
  return (
    <Entry name="Engine off" note={<p>For an hour or more</p>}>
      {electric && <p class="step-caution">{HIGH_VOLTAGE}</p>}
      <p class="step-caution">
        Gloves and goggles before a fitting is touched: refrigerant freezes skin and eyes. Connect with the engine off.
      </p>
      <div class="field-grid">
        <TextField
          {...typed("static")}
          label={`Static pressure, ${GAUGE_NAMES[fields.gauge]}`}
          inputmode="text"
          short={isShort(fields.static)}
          hint="Either gauge; both read the same"
        />
      </div>
    </Entry>
  );
}

function Running({ fields, typed, electric }: PartProps) {
  const gauge = GAUGE_NAMES[fields.gauge];
  return (
    <Entry name="Running" note={<p>Run it 10 minutes: coldest setting, highest fan, doors open</p>}>
      <p class="step-caution">
        Outdoors, brake on, out of gear. Keep hoses, hair and sleeves away from belt and fan; the fan starts by itself.
      </p>
      <div class="field-grid">
        <TextField
          {...typed("low")}
          label={`Low side, ${gauge}`}
          inputmode="text"
          short={isShort(fields.low)}
          hint="With any can closed"
        />
        <TextField
          {...typed("high")}
          label={`High side, ${gauge}`}
          inputmode="text"
          short={isShort(fields.high)}
          hint="Never a can on this side"
        />
        <TextField
          {...typed("vent")}
          label={`Vent air, ${degreesOf(fields)}`}
          inputmode="text"
          short={isShort(fields.vent)}
          hint="At a middle vent"
        />
        {!electric && (
          <>
            <TextField
              {...typed("rpm")}
              label="Engine speed, rpm"
              inputmode="decimal"
              short
              hint="Idle is about 800. Readings at 1500 tell more"
            />
            <SelectField {...typed("clutch")} label="Compressor clutch" choices={CLUTCH_CHOICES} />
          </>
        )}
      </div>
    </Entry>
  );
}

function AtTheCondenser({ typed }: Pick<PartProps, "typed">) {
  return (
    <Entry name="At the condenser" note={<p>The finned panel at the front</p>}>
      <div class="field-grid">
        <SelectField {...typed("fan")} label="Fan" choices={FAN_CHOICES} />
        <SelectField {...typed("condenser")} label="Condenser fins" choices={CONDENSER_CHOICES} />
        <SelectField
          {...typed("more_air")}
          label="High side with extra airflow"
          choices={MORE_AIR_CHOICES}
          hint="While driving, or with a second fan in front"
        />
      </div>
    </Entry>
  );
}

function WithMoreTools({ fields, typed, electric, children }: PartProps & { children: Child }) {
  const degrees = degreesOf(fields);
  return (
    <Entry name="With more tools" note={<p>Optional: pipe thermometer, watch, sight glass</p>}>
      <div class="field-grid">
        <TextField
          {...typed("suction_line")}
          label={`Suction line, ${degrees}`}
          inputmode="text"
          short={isShort(fields.suction_line)}
          hint="Thick pipe, near the low-side port; gives superheat"
        />
        <TextField
          {...typed("liquid_line")}
          label={`Liquid line, ${degrees}`}
          inputmode="text"
          short={isShort(fields.liquid_line)}
          hint="Thin pipe out of the condenser; gives subcooling. It can burn"
        />
        <TextField
          {...typed("equalizing")}
          label="Time to equal pressures, s"
          inputmode="decimal"
          short
          hint="From switching off until both gauges read the same"
        />
        <SelectField {...typed("sight_glass")} label="Sight glass" choices={SIGHT_GLASS_CHOICES} />
        <SelectField {...typed("metering")} label="Metering device" choices={METERING_CHOICES} />
        {!electric && <SelectField {...typed("compressor")} label="Compressor" choices={COMPRESSOR_CHOICES} />}
      </div>
      {children}
    </Entry>
  );
}

function degreesOf({ units }: ReadingsFields): string {
  return units === "us" ? "°F" : "°C";
}

/** A reading in other units than the usual ones is longer. */
function isShort(typed: string): boolean {
  return typed.length <= 9;
}

const HIGH_VOLTAGE =
  "High-voltage compressor: only a technician trained for high voltage may connect gauges, with hoses that have never held any other oil. Don't touch orange cables.";

/** What the readings are judged by, where no vehicle is on record, and the units that they are typed in. */
function JudgedBy({ fields, messages }: Pick<ReadingEntriesProps, "fields" | "messages">) {
  return (
    <>
      <SelectField
        id="refrigerant"
        name="refrigerant"
        label="Refrigerant"
        value={fields.refrigerant}
        choices={REFRIGERANT_CHOICES}
        hint="On a label under the hood"
        error={messages.get("refrigerant")}
      />
      <TextField
        id="nameplate"
        name="nameplate"
        label={`Nameplate charge, ${fields.units === "us" ? "oz or lb" : "g or kg"}`}
        value={fields.nameplate}
        short
        hint="Only needed to estimate how much is left. Like 23 oz or 650 g"
        error={messages.get("nameplate")}
      />
      <RadioField
        id="units"
        name="units"
        label="Temperatures and masses in"
        value={fields.units}
        choices={READING_UNIT_CHOICES}
      />
      <SelectField id="gauge" name="gauge" label="Gauges in" value={fields.gauge} choices={GAUGE_CHOICES} />
    </>
  );
}
