import type { Child } from "hono/jsx";
import { TYPICAL_CHARGES, type TypicalCharge } from "../../data/typical-charges.ts";
import { formatDate } from "../../src/core/quantities/dates.ts";
import { isUnknown } from "../../src/core/quantities/typed-number.ts";
import { ouncesFromGrams, type UnitSystem } from "../../src/core/quantities/units.ts";
import { REFRIGERANTS } from "../../src/core/question/contract.ts";
import { fieldOf, type Messages, SelectField, TextField } from "../parts/field.tsx";
import { COOLED_CHOICES } from "../words/cooled.ts";
import { LogLines } from "./log-lines.tsx";
import { MoreExact } from "./more-exact.tsx";
import { ELECTRIC_CHOICES, NAMEPLATE_UNKNOWN, type QuickFields, REFRIGERANT_CHOICES } from "./quick-fields.ts";
import { ReadingsTaken } from "./readings-taken.tsx";

interface QuestionProps {
  fields: QuickFields;
  messages: Messages;
  addressWith: (changes: Partial<QuickFields>) => string;
  /** How each line was read, where that says more than what was typed. */
  read_back: readonly (string | null)[];
  /** Whether an answer stands beside it. */
  answered: boolean;
}

/** What is asked: the vehicle, what was added, how it cools today; and what makes it more exact. */
export function QuestionForm({ fields, messages, addressWith, read_back, answered }: QuestionProps) {
  const of = fieldOf(fields, messages);
  return (
    <>
      <Part name="The vehicle">
        <div class="fields vehicle-fields">
          <SelectField {...of("refrigerant")} label="Refrigerant" choices={REFRIGERANT_CHOICES} />
          <SelectField {...of("electric")} label="Hybrid or EV?" choices={ELECTRIC_CHOICES} />
          <div class="nameplate">
            <TextField {...of("nameplate")} label="Nameplate charge" hint="On the hood label, like 23 oz" />
            <TypicalSizes fields={fields} />
          </div>
        </div>
        <input type="hidden" name="typed_in" value={fields.units} />
        <input type="hidden" name="as_of" value={fields.as_of} />
        {fields.example && <input type="hidden" name="example" value="yes" />}
      </Part>
      <Part name="What was added">
        <p class="hint" id="log-hint">
          Your best guess is fine: June 2024, 12 oz or 1 can. Unknown amounts stay blank.
        </p>
        <LogLines lines={fields.lines} messages={messages} read_back={read_back} />
      </Part>
      <Part name="Today" note={<time datetime={fields.as_of}>{formatDate(fields.as_of)}</time>}>
        <SelectField {...of("today")} label="How does it cool now?" choices={COOLED_CHOICES} />
        <ReadingsTaken fields={fields} addressWith={addressWith} answered={answered} />
      </Part>
      <MoreExact fields={fields} messages={messages} />
      <p class="actions">
        <button type="submit" class="button" name="go" value="1">
          Show the answer
        </button>
        <a href="/">Start over</a>
      </p>
    </>
  );
}

interface PartProps {
  name: string;
  note?: Child;
  children: Child;
}

function Part({ name, note, children }: PartProps) {
  return (
    <section class="ask-part">
      <h2>
        {name}
        {note !== undefined && <span class="soft"> {note}</span>}
      </h2>
      {children}
    </section>
  );
}

/** Sizes to choose from where nobody can read the label; each button writes the nameplate charge. */
function TypicalSizes({ fields: { refrigerant, nameplate, units } }: { fields: QuickFields }) {
  const named = REFRIGERANTS.find((id) => id === refrigerant) ?? "R-134a";
  return (
    <fieldset class="sizes">
      <legend class="hint">No label? Typical sizes:</legend>
      {TYPICAL_CHARGES[named].map((size) => {
        const typed = typicalMass(size, units);
        return (
          <Size value={typed} chosen={typed === nameplate}>
            {size.name} <small>{typed}</small>
          </Size>
        );
      })}
      <Size value={NAMEPLATE_UNKNOWN} chosen={isUnknown(nameplate)}>
        Don't know
      </Size>
    </fieldset>
  );
}

function Size({ value, chosen, children }: { value: string; chosen: boolean; children: Child }) {
  return (
    <button type="submit" class="size" name="size" value={value} aria-pressed={chosen ? "true" : "false"}>
      {children}
    </button>
  );
}

/** As someone would type it: whole ounces, or grams. */
function typicalMass({ nameplate_g }: TypicalCharge, units: UnitSystem): string {
  return units === "us" ? `${Math.round(ouncesFromGrams(nameplate_g))} oz` : `${nameplate_g} g`;
}
