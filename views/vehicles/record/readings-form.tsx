import type { Vehicle } from "../../../src/core/question/record.ts";
import { fieldOf, type Messages, TextAreaField, TextField } from "../../parts/field.tsx";
import { ReadingEntries } from "../../readings/form.tsx";
import type { VehicleReadingsFields } from "./readings-fields.ts";

interface VehicleReadingsFormProps {
  vehicle: Pick<Vehicle, "electric_compressor">;
  fields: VehicleReadingsFields;
  messages: Messages;
}

/** What is read at a vehicle on record; it knows refrigerant and size. */
export function VehicleReadingsForm({ vehicle, fields, messages }: VehicleReadingsFormProps) {
  const of = fieldOf(fields, messages);
  return (
    <>
      <input type="hidden" name="units" value={fields.units} />
      <input type="hidden" name="gauge" value={fields.gauge} />
      <ReadingEntries
        fields={fields}
        messages={messages}
        vehicle={vehicle}
        first={<TextField {...of("when")} label="When" hint="Like today or 14 Aug 2025" />}
      >
        <TextAreaField {...of("note")} label="Note" hint="Anything worth knowing later" rows={2} />
      </ReadingEntries>
    </>
  );
}
