import type { UnitSystem } from "../../src/core/quantities/units.ts";
import type { FieldError } from "../parts/error-summary.tsx";
import { RadioField, SelectField, TextField } from "../parts/field.tsx";
import { WHERE_CHOICES } from "../rules/where-choices.ts";
import {
  COMPRESSOR_CHOICES,
  CONTENTS_CHOICES,
  SAYS_CHOICES,
  SEAL_CHOICES,
  type TopOffFields,
} from "./top-off-fields.ts";

interface TopOffFormProps {
  action: string;
  /** What is not known already. */
  asks: readonly (keyof TopOffFields)[];
  fields: TopOffFields;
  sent_along: readonly (readonly [name: string, value: string])[];
  errors: readonly FieldError[];
  units: UnitSystem;
  /** Where readings are taken for it. */
  readings: string;
}

/** What the plan needs to know beside the charge log; a plain GET. */
export function TopOffForm({ action, asks, fields, sent_along, errors, units, readings }: TopOffFormProps) {
  const typed = (name: keyof TopOffFields) => ({
    id: name,
    name,
    value: fields[name],
    error: errors.find(({ field }) => field === name)?.message,
  });
  const asked = new Set(asks);
  return (
    <form class="top-off-form" method="get" action={action} novalidate>
      {sent_along.map(([name, value]) => (
        <input type="hidden" name={name} value={value} />
      ))}
      <div class="field-grid">
        <TextField
          {...typed("ambient")}
          label={`Air temperature, ${units === "us" ? "°F" : "°C"}`}
          inputmode="text"
          short
          hint="For today's expected pressures"
        />
        {asked.has("where") && <SelectField {...typed("where")} label="Where the vehicle is" choices={WHERE_CHOICES} />}
        {asked.has("compressor") && (
          <SelectField
            {...typed("compressor")}
            label="What drives the compressor"
            choices={COMPRESSOR_CHOICES}
            hint="Orange cables mean high voltage"
          />
        )}
        {asked.has("contents") && (
          <SelectField
            {...typed("contents")}
            label="What is in the system"
            choices={CONTENTS_CHOICES}
            hint="Look for a second label or an adapter"
          />
        )}
        {asked.has("says") && (
          <SelectField
            {...typed("says")}
            label="What the readings say"
            choices={SAYS_CHOICES}
            hint={<a href={readings}>Take readings first</a>}
          />
        )}
        <RadioField {...typed("seal")} label="Cans" choices={SEAL_CHOICES} />
      </div>
      <div class="actions">
        <button class="button" type="submit">
          Make the plan
        </button>
      </div>
    </form>
  );
}
