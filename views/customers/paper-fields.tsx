import type { VehicleOnPaper } from "../../src/core/quotes/quote-document.ts";
import { fieldOf, type Messages, TextField } from "../parts/field.tsx";

/** What papers call a vehicle: the customer reads it, so the shop's own name for it stays out. */
export function PaperFields({ fields, messages }: { fields: VehicleOnPaper; messages: Messages }) {
  const of = fieldOf<VehicleOnPaper>(fields, messages);
  return (
    <div class="field-grid">
      <TextField {...of("words")} label="Year, make and model" hint="In your words; the customer reads it" words />
      <TextField {...of("plate")} label="Plate" hint="May stay empty" short />
      <TextField {...of("vin")} label="VIN" hint="17 letters and digits. Optional" />
      <TextField {...of("odometer")} label="Odometer" hint="Like 84,200 miles" short />
    </div>
  );
}
