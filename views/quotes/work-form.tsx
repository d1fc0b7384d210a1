import { LOCATION_IDS, type RefrigerantId } from "../../src/core/question/contract.ts";
import type { FieldError } from "../parts/error-summary.tsx";
import { choicesOf, fieldOf, messagesOf, RadioField, SelectField, TextAreaField, TextField } from "../parts/field.tsx";
import { FormFoot } from "../parts/form-foot.tsx";
import type { RefrigerantWorkFields } from "../refrigerant/refrigerant-fields.ts";
import { type ChosenCylinder, RefrigerantWorkInputs } from "../refrigerant/work-fields.tsx";
import { PLACE_NAMES } from "../words/places.ts";

/** The work of an accepted quote as it was typed. */
export interface WorkFields extends RefrigerantWorkFields {
  when: string;
  /** How it cooled before anything was done. */
  cooling: string;
  recovered: string;
  /** Id of a place; empty for none. */
  repair: string;
  added: string;
  /** `weighed`: evacuated and charged full; `topped`: added to what was in it; empty: nothing went in. */
  filled: string;
  /** Id of a place, `anywhere` for nothing found, empty for no test with a detector. */
  electronic: string;
  /** Dye went in with the charge. */
  dye: boolean;
  note: string;
}

interface WorkFormProps {
  action: string;
  refrigerant: RefrigerantId;
  version: number;
  submit_key: string;
  fields: WorkFields;
  /** The shop's cylinders in use. */
  cylinders: readonly ChosenCylinder[];
  errors: readonly FieldError[];
}

/** What was done, filled in as it was quoted; the scale's numbers are put in by hand. */
export function WorkForm({ action, refrigerant, version, submit_key, fields, cylinders, errors }: WorkFormProps) {
  const messages = messagesOf(errors);
  const of = fieldOf(fields, messages);
  return (
    <form method="post" action={action} class="stack" novalidate>
      <input type="hidden" name="version" value={version} />
      <input type="hidden" name="submit_key" value={submit_key} />
      <div class="step-caution">
        <p>
          Recover before the system is opened; vent nothing. Gloves and goggles: refrigerant freezes skin and eyes.
          {refrigerant === "R-1234yf" && " It burns: no flame or spark, and fresh air."} An electric compressor is high
          voltage: trained people only.
        </p>
      </div>
      <div class="field-grid">
        <TextField {...of("when")} label="When it was done" hint="Like today or 14 Aug 2026" />
        <SelectField
          {...of("cooling")}
          label="How it cooled before"
          choices={choicesOf({
            "": "Not known",
            ok: "Well",
            weak: "Weakly",
            "short-cycling": "Short-cycling",
            empty: "No pressure left",
          })}
        />
        <SelectField
          {...of("electronic")}
          label="Test with the detector"
          choices={[
            { value: "", label: "None" },
            { value: "anywhere", label: "Looked everywhere, found nothing" },
            ...LOCATION_IDS.map((id) => ({ value: id, label: `Found: ${PLACE_NAMES[id].name}` })),
          ]}
        />
        <TextField
          {...of("recovered")}
          label="Refrigerant recovered"
          hint="As the machine's scale showed it, like 9 oz or 255 g; empty for none"
        />
        <SelectField
          {...of("repair")}
          label="Repaired"
          choices={[
            { value: "", label: "Nothing" },
            ...LOCATION_IDS.map((id) => ({ value: id, label: PLACE_NAMES[id].name })),
          ]}
        />
        <TextField {...of("added")} label="Refrigerant charged" hint="As the scale showed it; empty for none" />
      </div>
      <RadioField
        {...of("filled")}
        label="How it was charged"
        choices={choicesOf({
          weighed: "Evacuated, and full by weight",
          topped: "Added to what was in it",
          "": "Not charged",
        })}
      />
      <label class="choice">
        <input type="checkbox" name="dye" value="yes" checked={fields.dye} />
        Dye went in
      </label>
      <RefrigerantWorkInputs fields={fields} messages={messages} cylinders={cylinders} refrigerant={refrigerant} />
      <TextAreaField {...of("note")} label="Note" rows={2} />
      <FormFoot submit="Log the work" />
    </form>
  );
}
