import { fieldOf, type Messages, RadioField, SelectField, TextAreaField, TextField } from "../../parts/field.tsx";
import { ADDED_BY_CHOICES, COOLING_CHOICES, type EntryFields, FINISH_CHOICES, REPAIR_CHOICES } from "./entry-fields.ts";

/** What was seen and done at the vehicle on one day, in the order of a visit. */
export function EntryForm({ fields, messages }: { fields: EntryFields; messages: Messages }) {
  const of = fieldOf(fields, messages);
  return (
    <>
      <TextField {...of("when")} label="When" hint="Like today, 14 Aug 2025 or August 2025" />
      <RadioField
        {...of("cooling")}
        label="How did it cool, before anything was done?"
        hint="A look alone is worth writing down"
        choices={COOLING_CHOICES}
      />
      <fieldset class="field-group">
        <legend>What was done</legend>
        <p class="hint">Leave empty what was not done, or what nobody knows.</p>
        <div class="field-grid">
          <TextField
            {...of("recovered")}
            label="Refrigerant recovered first"
            hint="By a machine with a scale, like 9 oz or 255 g"
          />
          <SelectField {...of("repair")} label="Repair" choices={REPAIR_CHOICES} hint="Where a leak was put right" />
          <TextField {...of("added")} label="Refrigerant added" hint="Like 12 oz, 340 g or 1 can" />
          <RadioField
            {...of("added_by")}
            label="Measured by"
            hint="A can leaves some in the hose"
            choices={ADDED_BY_CHOICES}
          />
          <SelectField {...of("finish")} label="How full, judged by" choices={FINISH_CHOICES} class="wide" />
          <label class="choice wide">
            <input type="checkbox" name="dye" value="added" checked={fields.dye !== ""} />
            Dye went in, to be looked for later
          </label>
        </div>
        <details class="folded" open={CANS.some((name) => fields[name] !== "" || messages.has(name))}>
          <summary>Cans opened, and their deposit</summary>
          <div class="field-grid">
            <CansFields fields={fields} messages={messages} />
          </div>
        </details>
      </fieldset>
      <RadioField {...of("after")} label="How did it cool when all was done?" choices={COOLING_CHOICES} />
      <TextAreaField {...of("note")} label="Note" hint="Anything worth knowing later" rows={3} />
    </>
  );
}

const CANS = ["cans", "deposit", "return_by"] as const;

/** What cans leave to be brought back. */
export function CansFields({ fields, messages }: { fields: EntryFields; messages: Messages }) {
  const of = fieldOf(fields, messages);
  return (
    <>
      <TextField {...of("cans")} label="Cans opened" hint="Like 2" inputmode="numeric" short />
      <TextField {...of("deposit")} label="Deposit on them" hint="In all, like 20" inputmode="decimal" short />
      <TextField {...of("return_by")} label="Deposit comes back until" hint="The last day, like 14 Aug 2026" />
    </>
  );
}
