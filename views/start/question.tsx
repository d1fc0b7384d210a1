import { formatDate } from "../../src/core/quantities/format.ts";
import { REFRIGERANTS } from "../../src/core/question/contract.ts";
import { Entry } from "../parts/entry.tsx";
import { type Messages, RadioField, SelectField, TextField } from "../parts/field.tsx";
import { WHERE_CHOICES } from "../rules/where-choices.ts";
import { LogLines } from "./log-lines.tsx";
import { CLIMATE_CHOICES, COOLED_CHOICES, type QuickFields, SERVICE_CHOICES, UNIT_CHOICES } from "./quick-fields.ts";
import { ReadingsTaken } from "./readings-taken.tsx";

interface QuestionProps {
  fields: QuickFields;
  messages: Messages;
  addressWith: (changes: Partial<QuickFields>) => string;
}

/** What is asked: the vehicle, the charge log, the plan. */
export function Question({ fields, messages, addressWith }: QuestionProps) {
  return (
    <>
      <Entry name="The vehicle">
        <div class="fields vehicle-fields">
          <SelectField
            id="refrigerant"
            name="refrigerant"
            label="Refrigerant"
            hint="On the hood label"
            value={fields.refrigerant}
            choices={REFRIGERANTS.map((id) => ({ value: id, label: id }))}
            error={messages.get("refrigerant")}
          />
          <TextField
            id="nameplate"
            name="nameplate"
            label="Nameplate charge"
            hint="Like 23 oz or 650 g"
            value={fields.nameplate}
            error={messages.get("nameplate")}
          />
          <SelectField
            id="climate"
            name="climate"
            label="Climate"
            hint="Heat speeds a leak"
            value={fields.climate}
            choices={CLIMATE_CHOICES}
            error={messages.get("climate")}
          />
          <SelectField
            id="where"
            name="where"
            label="Where it is"
            hint="Its local rules count"
            value={fields.where}
            choices={WHERE_CHOICES}
            error={messages.get("where")}
          />
          <RadioField
            id="units"
            name="units"
            label="Units"
            hint="For numbers without one"
            value={fields.units}
            choices={UNIT_CHOICES}
          />
        </div>
        <input type="hidden" name="typed_in" value={fields.units} />
        <input type="hidden" name="as_of" value={fields.as_of} />
      </Entry>
      <Entry name="The charge log">
        <p class="hint" id="log-hint">
          What you remember is enough. When: like June 2024. How much: like 12 oz, 340 g or 1 can, or nothing if nobody
          knows. How it cooled: before anything was done.
        </p>
        <LogLines lines={fields.lines} messages={messages} />
        <div class="log-today">
          <p class="today-date">
            <strong>Today</strong>, <time datetime={fields.as_of}>{formatDate(fields.as_of)}</time>
          </p>
          <SelectField
            id="today"
            name="today"
            label="How does it cool now?"
            value={fields.today}
            choices={COOLED_CHOICES}
            error={messages.get("today")}
          />
        </div>
        <ReadingsTaken fields={fields} addressWith={addressWith} />
      </Entry>
      <Entry name="The plan">
        <div class="fields plan-fields">
          <TextField
            id="keep"
            name="keep"
            label="Years you will keep it"
            value={fields.keep}
            short
            inputmode="decimal"
            unit="years"
            error={messages.get("keep")}
          />
          <div>
            <RadioField
              id="service"
              name="service"
              label="Who tops it off?"
              value={fields.service}
              choices={SERVICE_CHOICES}
              error={messages.get("service")}
            />
            <label class="choice">
              <input type="checkbox" name="tools" id="tools" value="yes" checked={fields.tools} />
              Hose, gauge and gloves are there already
            </label>
          </div>
        </div>
        <p class="actions">
          <button type="submit" class="button" name="go" value="1">
            Work it out
          </button>
          <a href="/?blank=1">Start with an empty sheet</a>
        </p>
      </Entry>
    </>
  );
}
