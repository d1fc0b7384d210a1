import type { FieldError } from "../../../views/parts/error-summary.tsx";
import { optionInput } from "../../../views/quotes/quote-fields.ts";
import type { Letterhead, QuoteContent } from "../../core/quotes/quote-document.ts";
import type { QuoteOutlook } from "../../core/quotes/quote-outlook.ts";

/** What still stands in the way of sending a draft. */
export function sendFaults(
  content: QuoteContent,
  outlook: QuoteOutlook,
  { shop }: Letterhead,
  invented: boolean,
): FieldError[] {
  const faults: FieldError[] = [];
  if (invented) faults.push({ field: "prices", message: "Enter your own prices first: this quote uses sample prices" });
  if (shop === "")
    faults.push({ field: "letterhead", message: "Enter your shop's name: the letterhead is still empty" });
  if (content.options.length === 0)
    faults.push({ field: "new_work", message: "Add an option: there is nothing to choose yet" });
  for (const { id, title, lines } of content.options) {
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
