import type { FieldError } from "../../../views/parts/error-summary.tsx";
import { optionInput } from "../../../views/quotes/quote-fields.ts";
import type { VehicleInput } from "../../core/question/record.ts";
import type { Letterhead, QuoteContent } from "../../core/quotes/quote-document.ts";
import type { QuoteOutlook } from "../../core/quotes/quote-outlook.ts";

interface Sendable {
  content: QuoteContent;
  outlook: QuoteOutlook;
  letterhead: Letterhead;
  /** The draft has sample prices only. */
  sample: boolean;
  vehicle: Pick<VehicleInput, "electric_compressor" | "dye_in_own_oil">;
}

/** What still keeps a draft from being sent. */
export function sendFaults({ content, outlook, letterhead, sample, vehicle }: Sendable): FieldError[] {
  const faults: FieldError[] = [];
  if (sample) faults.push({ field: "prices", message: "Enter your own prices first: this quote uses sample prices" });
  if (letterhead.shop === "")
    faults.push({ field: "letterhead", message: "Enter your shop's name: the letterhead is still empty" });
  if (content.options.length === 0)
    faults.push({ field: "new_work", message: "Add an option: there is nothing to choose yet" });
  const no_dye = vehicle.electric_compressor && vehicle.dye_in_own_oil !== true;
  for (const { id, title, lines, work } of content.options) {
    if (no_dye && work.test === "dye")
      faults.push({
        field: optionInput(id, "title"),
        message: `Remove “${title}”: high voltage drives this compressor, and no dye may go in unless it is in the compressor's own oil. If you have that, say so in the vehicle's details`,
      });
    if (lines.length === 0)
      faults.push({ field: optionInput(id, "title"), message: `Add a line to “${title}”, or remove the option` });
  }
  const own_choice = content.recommended !== null && content.recommended !== outlook.advised;
  if (own_choice && content.recommended_why === "")
    faults.push({
      field: "recommended_why",
      message: "Say why you recommend something else than the model: the customer sees both",
    });
  return faults;
}
