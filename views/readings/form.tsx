import type { Child } from "hono/jsx";
import { Entry } from "../parts/entry.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { fieldOf, messagesOf, RadioField, SelectField, TextField } from "../parts/field.tsx";
import { Folded } from "../parts/folded.tsx";
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
          {isAnythingTyped(fields) && <a href={empty}>Start with an empty form</a>}
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
      <TheDay fields={fields} typed={typed} first={first} vehicle_known={vehicle !== null} />
      <EngineOff fields={fields} typed={typed} electric={electric} />
      <Running fields={fields} typed={typed} electric={electric} />
      <Entry name="More readings">
        <AtTheFront fields={fields} typed={typed} electric={electric} />
        <WithMoreTools fields={fields} typed={typed} electric={electric} />
        {children}
      </Entry>
    </>
  );
}

interface PartProps {
  fields: ReadingsFields;
  typed: ReturnType<typeof fieldOf<ReadingsFields>>;
  /** Its compressor is a high-voltage one: no clutch, no engine speed. */
  electric: boolean;
}

/** Whether something was typed or chosen in one of these fields, or is wrong. */
function isFilledOrWrong(
  { fields, typed }: Pick<PartProps, "fields" | "typed">,
  names: readonly (keyof ReadingsFields)[],
): boolean {
  return names.some((name) => typed(name).error !== undefined || fields[name] !== "");
}

/** Only a temperature is needed; what makes it more exact, and the units, are folded away. */
function TheDay(props: Omit<PartProps, "electric"> & { first: Child; vehicle_known: boolean }) {
  const { fields, typed, first, vehicle_known } = props;
  return (
    <Entry name="The day">
      <div class="field-grid">
        {first}
        <TextField
          {...typed("ambient")}
          label={`Air temperature, ${degreesOf(fields)}`}
          inputmode="text"
          short={isShort(fields.ambient)}
          hint="Required. Shade, in front of the car"
        />
        {!vehicle_known && (
          <SelectField
            {...typed("refrigerant")}
            label="Refrigerant"
            choices={REFRIGERANT_CHOICES}
            hint="On the hood label"
          />
        )}
      </div>
      <Folded
        title={vehicle_known ? "Humidity, altitude" : "Humidity, altitude, nameplate, units"}
        open={isFilledOrWrong(props, vehicle_known ? ["humidity", "altitude"] : ["humidity", "altitude", "nameplate"])}
      >
        <div class="field-grid">
          <TextField {...typed("humidity")} label="Humidity, %" inputmode="decimal" short hint="If you know it" />
          <TextField
            {...typed("altitude")}
            label={`Altitude, ${fields.units === "us" ? "ft" : "m"}`}
            inputmode="text"
            short={isShort(fields.altitude)}
            hint="Gauges read higher at altitude. Enter it above 2000 ft (600 m)"
          />
          {!vehicle_known && <SizeAndUnits fields={fields} typed={typed} />}
        </div>
      </Folded>
    </Entry>
  );
}

function EngineOff({ fields, typed, electric }: PartProps) {
  return (
    <Entry name="Engine off" note={<p>For an hour</p>}>
      {electric && <p class="step-caution">{HIGH_VOLTAGE}</p>}
      <p class="step-caution">
        Refrigerant freezes skin and eyes: gloves and goggles before you touch a fitting. Connect with the engine off.
      </p>
      <div class="field-grid">
        <TextField
          {...typed("static")}
          label={`Static pressure, ${GAUGE_NAMES[fields.gauge]}`}
          inputmode="text"
          short={isShort(fields.static)}
          hint="Either gauge"
        />
      </div>
    </Entry>
  );
}

function Running({ fields, typed, electric }: PartProps) {
  const gauge = GAUGE_NAMES[fields.gauge];
  return (
    <Entry name="Running" note={<p>Run 10 minutes: coldest, highest fan, doors open</p>}>
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
          hint="Middle vent"
        />
        {!electric && <SelectField {...typed("clutch")} label="Compressor clutch" choices={CLUTCH_CHOICES} />}
      </div>
    </Entry>
  );
}

/** The condenser is the finned panel at the front. */
function AtTheFront(props: PartProps) {
  const { typed, electric } = props;
  return (
    <Folded title="Engine speed, fan, condenser" open={isFilledOrWrong(props, ["rpm", "fan", "condenser", "more_air"])}>
      <div class="field-grid">
        {!electric && (
          <TextField
            {...typed("rpm")}
            label="Engine speed, rpm"
            inputmode="decimal"
            short
            hint="Idle is about 800. Readings at 1500 tell more"
          />
        )}
        <SelectField {...typed("fan")} label="Fan" choices={FAN_CHOICES} />
        <SelectField
          {...typed("condenser")}
          label="Condenser fins"
          choices={CONDENSER_CHOICES}
          hint="The finned panel at the front"
        />
        <SelectField
          {...typed("more_air")}
          label="High side with extra airflow"
          choices={MORE_AIR_CHOICES}
          hint="While driving, or with a second fan in front"
        />
      </div>
    </Folded>
  );
}

const MORE_TOOLS = ["suction_line", "liquid_line", "equalizing", "sight_glass", "metering", "compressor"] as const;

function WithMoreTools(props: PartProps) {
  const { fields, typed, electric } = props;
  const degrees = degreesOf(fields);
  return (
    <Folded title="Pipe thermometer, watch, sight glass" open={isFilledOrWrong(props, MORE_TOOLS)}>
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
    </Folded>
  );
}

/** Whether there is more in it than units and the refrigerant that it begins with. */
function isAnythingTyped({ units, gauge, refrigerant, ...rest }: ReadingsFields): boolean {
  return Object.values(rest).some((value) => value !== "");
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

/** What a vehicle on record knows, and the units that readings are typed in. */
function SizeAndUnits({ fields, typed }: Pick<PartProps, "fields" | "typed">) {
  return (
    <>
      <TextField
        {...typed("nameplate")}
        label={`Nameplate charge, ${fields.units === "us" ? "oz or lb" : "g or kg"}`}
        short
        hint="Only to estimate how much is left. Like 23 oz or 650 g"
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
