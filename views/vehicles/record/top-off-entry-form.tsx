import { fieldOf, RadioField, SelectField, TextAreaField, TextField } from "../../parts/field.tsx";
import { FormFoot } from "../../parts/form-foot.tsx";
import { ADDED_BY_CHOICES, COOLING_CHOICES, type EntryFields, FINISH_CHOICES } from "./entry-fields.ts";
import { CansFields, CanWeights, DyeAdded } from "./entry-form.tsx";
import { vehiclePath } from "./record.ts";

interface TopOffEntryFormProps {
  vehicle_id: string;
  fields: EntryFields;
  submit_key: string;
}

/**
 * The charge-log fields that a top-off from cans does not already determine. Errors in them are shown in the log's own
 * form.
 */
export function TopOffEntryForm({ vehicle_id, fields, submit_key }: TopOffEntryFormProps) {
  const of = fieldOf(fields);
  return (
    <form class="record-form" id="top-off-log" method="post" action={vehiclePath(vehicle_id, "log")} novalidate>
      <input type="hidden" name="submit_key" value={submit_key} />
      <RadioField {...of("cooling")} label="How did it cool before?" choices={COOLING_CHOICES} />
      <div class="field-grid">
        <TextField {...of("when")} label="When" hint="Like today or 14 Aug 2025" />
        <CanWeights fields={fields} messages={NOTHING_WRONG} />
        <TextField {...of("added")} label="Refrigerant added" hint="Only if you didn't weigh: like 12 oz, or 2 cans" />
        <RadioField {...of("added_by")} label="Measured by" choices={ADDED_BY_CHOICES} />
        <SelectField {...of("finish")} label="How the fill level was checked" choices={FINISH_CHOICES} />
        <DyeAdded dye={fields.dye} />
        <CansFields fields={fields} messages={NOTHING_WRONG} />
      </div>
      <RadioField {...of("after")} label="How does it cool now?" choices={COOLING_CHOICES} />
      <TextAreaField {...of("note")} label="Note" rows={2} />
      <FormFoot submit="Add to the log" />
    </form>
  );
}

const NOTHING_WRONG: ReadonlyMap<string, string> = new Map();
