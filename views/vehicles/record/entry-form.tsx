import type { Child } from "hono/jsx";
import { fieldOf, type Messages, RadioField, SelectField, TextAreaField, TextField } from "../../parts/field.tsx";
import { Folded } from "../../parts/folded.tsx";
import {
  ADDED_BY_CHOICES,
  COOLING_CHOICES,
  type EntryFields,
  FINISH_CHOICES,
  REPAIR_CHOICES,
  type ReadBack,
  WHAT_CHOICES,
} from "./entry-fields.ts";

/**
 * One visit: what was done, and then only what that asks for. The style sheet shows the fields of what is chosen, so
 * that it needs no script; what is folded away under "More" opens where something is in it.
 */
interface EntryFormProps {
  fields: EntryFields;
  messages: Messages;
  /** How date and amounts were read, after a submit; with scripts also as each is left, from `read_back_path`. */
  read_back: ReadBack;
  read_back_path: string;
}

/** The form for a charge entry. */
export function EntryForm({ fields, messages, read_back, read_back_path }: EntryFormProps) {
  const of = fieldOf(fields, messages);
  const echo = (name: keyof ReadBack) => ({
    name,
    said: messages.has(name) ? null : read_back[name],
    path: read_back_path,
  });
  const filled = (names: readonly (keyof EntryFields)[]) =>
    names.some((name) => messages.has(name) || fields[name] !== "");
  return (
    <>
      <RadioField {...of("what")} label="What was done?" choices={WHAT_CHOICES} />
      <Echoed {...echo("when")}>
        <TextField {...of("when")} label="When" hint="Like today, or August 2025" describedby={readBackId("when")} />
      </Echoed>
      <RadioField {...of("cooling")} label="How did it cool before?" choices={COOLING_CHOICES} />
      <For what="repaired">
        <SelectField {...of("repair")} label="Repaired location" choices={REPAIR_CHOICES} />
      </For>
      <For what="recharged repaired">
        <Echoed {...echo("recovered")}>
          <TextField
            {...of("recovered")}
            label="Refrigerant recovered first"
            hint="Like 9 oz, from the machine"
            describedby={readBackId("recovered")}
          />
        </Echoed>
      </For>
      <For what="topped-off recharged repaired">
        <Echoed {...echo("added")}>
          <TextField
            {...of("added")}
            label="Refrigerant added"
            hint="Like 12 oz or 1 can. Blank: don't know"
            describedby={readBackId("added")}
          />
        </Echoed>
      </For>
      <For what="topped-off">
        <RadioField {...of("added_by")} label="Measured by" choices={ADDED_BY_CHOICES} />
        <Folded title="Weighed the cans?" open={filled(["can_before", "can_after"])}>
          <div class="field-grid">
            <CanWeights fields={fields} messages={messages} />
          </div>
        </Folded>
      </For>
      <For what="topped-off recharged repaired">
        <Folded
          title="More: fill level, dye, cans, cooling after"
          open={filled(["finish", "dye", "after", "cans", "deposit", "return_by"])}
        >
          <div class="field-grid">
            <SelectField
              {...of("finish")}
              label="How the fill level was checked"
              choices={FINISH_CHOICES}
              class="wide"
            />
            <DyeAdded dye={fields.dye} wide />
            <CansFields fields={fields} messages={messages} />
          </div>
          <RadioField {...of("after")} label="How did it cool afterwards?" choices={COOLING_CHOICES} />
        </Folded>
      </For>
      <Folded title="Add a note" open={filled(["note"])}>
        <TextAreaField {...of("note")} label="Note" rows={3} />
      </Folded>
    </>
  );
}

interface EchoedProps {
  name: keyof ReadBack;
  said: string | null;
  path: string;
  children: Child;
}

const readBackId = (name: keyof ReadBack) => `${name}-read`;

/** A field, and below it how it was read; asked of the server as the field is left. */
function Echoed({ name, said, path, children }: EchoedProps) {
  const id = readBackId(name);
  return (
    <div hx-get={path} hx-trigger="change" hx-include={`#${name}`} hx-target={`#${id}`} hx-swap="innerHTML">
      {children}
      <p class="read-back" id={id} role="status">
        {said}
      </p>
    </div>
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

/** Weighing beats counting cans: both weights together say what went in. */
export function CanWeights({ fields, messages }: { fields: EntryFields; messages: Messages }) {
  const of = fieldOf(fields, messages);
  return (
    <>
      <TextField
        {...of("can_before")}
        label="Cans before"
        hint="Kitchen scale, all cans together, like 16.4 oz"
        short
      />
      <TextField {...of("can_after")} label="Cans after" hint="We log the difference, in place of an amount" short />
    </>
  );
}

/** Whether dye went in. */
export function DyeAdded({ dye, wide = false }: Pick<EntryFields, "dye"> & { wide?: boolean }) {
  return (
    <label class={wide ? "choice wide" : "choice"}>
      <input type="checkbox" name="dye" value="added" checked={dye !== ""} />
      Dye was added (you get a reminder to look for it)
    </label>
  );
}

/** What cans leave to be brought back. */
export function CansFields({ fields, messages }: { fields: EntryFields; messages: Messages }) {
  const of = fieldOf(fields, messages);
  return (
    <>
      <TextField {...of("cans")} label="Cans opened" hint="Like 2" inputmode="numeric" short />
      <TextField {...of("deposit")} label="Deposit paid" hint="In total, like 20" inputmode="decimal" short />
      <TextField {...of("return_by")} label="Return the cans by" hint="Like 14 Aug 2026" />
    </>
  );
}
