import { LOOKED_EVERYWHERE } from "../../../data/tests.ts";
import { fieldOf, type Messages, RadioField, SelectField, TextAreaField, TextField } from "../../parts/field.tsx";
import { type FindingFields, FOUND_CHOICES, RESULT_CHOICES, TEST_CHOICES } from "./finding-fields.ts";

/** What a leak test showed at a place. */
export function FindingForm({ fields, messages }: { fields: FindingFields; messages: Messages }) {
  const of = fieldOf(fields, messages);
  return (
    <>
      <p>
        <a href="/leak-tests">How to look for the leak</a>, and what to be careful of.
      </p>
      <TextField {...of("when")} label="When" hint="Like today, 14 Aug 2025 or August 2025" />
      <RadioField {...of("test")} label="Which test?" choices={TEST_CHOICES} />
      <SelectField {...of("location")} label="Where" hint={LOOKED_EVERYWHERE} choices={FOUND_CHOICES} />
      <RadioField {...of("result")} label="What was seen there?" choices={RESULT_CHOICES} />
      <TextAreaField {...of("note")} label="Note" hint="Anything worth knowing later" rows={3} />
    </>
  );
}
