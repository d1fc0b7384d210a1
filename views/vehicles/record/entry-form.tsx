import type { Child } from "hono/jsx";
import { type Messages, RadioField, SelectField, TextAreaField, TextField } from "../../parts/field.tsx";
import {
  ADDED_BY_CHOICES,
  COOLING_CHOICES,
  type EntryFields,
  FINISH_CHOICES,
  REPAIR_CHOICES,
  WHAT_CHOICES,
} from "./entry-fields.ts";

/**
 * One visit: what was done, and then only what that asks for. The style sheet shows the fields of what is chosen, so that it
 * needs no script; what is folded away under "More" opens where something is in it.
 */
export function EntryForm({ fields, messages }: { fields: EntryFields; messages: Messages }) {
  const of = (name: keyof EntryFields) => ({ id: name, name, value: fields[name], error: messages.get(name) });
  const filled = (names: readonly (keyof EntryFields)[]) =>
    names.some((name) => messages.has(name) || fields[name] !== "");
  return (
    <>
      <RadioField {...of("what")} label="What was done?" choices={WHAT_CHOICES} />
      <TextField {...of("when")} label="When" hint="Like today, 14 Aug 2025 or August 2025" />
      <RadioField {...of("cooling")} label="How did it cool before?" choices={COOLING_CHOICES} />
      <For what="repaired">
        <SelectField {...of("repair")} label="Repaired location" choices={REPAIR_CHOICES} />
      </For>
      <For what="recharged repaired">
        <TextField
          {...of("recovered")}
          label="Refrigerant recovered first"
          hint="Weighed by the machine, like 9 oz or 255 g. Optional"
        />
      </For>
      <For what="topped-off recharged repaired">
        <TextField
          {...of("added")}
          label="Refrigerant added"
          hint="Like 12 oz, 340 g or 1 can. Blank if you don't know"
        />
      </For>
      <For what="topped-off">
        <RadioField {...of("added_by")} label="Measured by" choices={ADDED_BY_CHOICES} />
      </For>
      <For what="topped-off recharged repaired">
        <details class="folded" open={filled(["finish", "dye", "after", "cans", "deposit", "return_by"])}>
          <summary>More: fill level, dye, cans, how it cooled afterwards</summary>
          <div class="field-grid">
            <SelectField
              {...of("finish")}
              label="How the fill level was checked"
              choices={FINISH_CHOICES}
              class="wide"
            />
            <label class="choice wide">
              <input type="checkbox" name="dye" value="added" checked={fields.dye !== ""} />
              Dye was added (you get a reminder to look for it)
            </label>
            <CansFields fields={fields} messages={messages} />
          </div>
          <RadioField {...of("after")} label="How did it cool afterwards?" choices={COOLING_CHOICES} />
        </details>
      </For>
      <details class="folded" open={filled(["note"])}>
        <summary>Add a note</summary>
        <TextAreaField {...of("note")} label="Note" rows={3} />
      </details>
    </>
  );
}

/** Shown where one of these is what was done. */
function For({ what, children }: { what: string; children: Child }) {
  return (
    <div class="for-what" data-for={what}>
      {children}
    </div>
  );
}

/** What cans leave to be brought back. */
export function CansFields({ fields, messages }: { fields: EntryFields; messages: Messages }) {
  const of = (name: "cans" | "deposit" | "return_by") => ({
    id: name,
    name,
    value: fields[name],
    error: messages.get(name),
  });
  return (
    <>
      <TextField {...of("cans")} label="Cans opened" hint="Like 2" inputmode="numeric" short />
      <TextField {...of("deposit")} label="Deposit paid" hint="In total, like 20" inputmode="decimal" short />
      <TextField {...of("return_by")} label="Return the cans by" hint="Like 14 Aug 2026" />
    </>
  );
}
