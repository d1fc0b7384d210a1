import { LOCATION_IDS, REFRIGERANTS } from "../../core/question/contract.ts";
import { OWN_LINES } from "../../core/quotes/price-book.ts";

/** How a field of a price book is typed. `flag` is a box to tick; what may be none may be empty, or not in a file. */
export type BookFieldKind =
  | "name"
  | "words"
  | "price"
  | "price-or-none"
  | "hours"
  | "hours-or-none"
  | "percent"
  | "amount"
  | "months"
  | "days"
  | "per"
  | "flag"
  | "words-or-none"
  | "percent-or-none"
  | "line-kind"
  | "flag-or-none";

const MAY_BE_NONE: ReadonlySet<BookFieldKind> = new Set([
  "price-or-none",
  "hours-or-none",
  "words-or-none",
  "percent-or-none",
  "line-kind",
  "flag-or-none",
]);

/** Whether the field may be empty. */
export function mayBeNone({ kind }: BookField): boolean {
  return MAY_BE_NONE.has(kind);
}

export interface BookField {
  /** Name in the form, and of its row in a file. */
  id: string;
  kind: BookFieldKind;
  /** Its path in a `PriceBook`. */
  path: readonly string[];
}

const field = (id: string, kind: BookFieldKind, ...path: string[]): BookField => ({ id, kind, path });

/** Every field of a price book, once: its form, the reader of the form and the CSV file are made from this list. */
export const BOOK_FIELDS: readonly BookField[] = [
  field("name", "name", "name"),
  field("labor_rate", "price", "labor_rate_micro"),
  ...LOCATION_IDS.flatMap((id) => [
    field(`hours.${id}`, "hours", "places", id, "hours_milli"),
    field(`parts.${id}`, "price", "places", id, "parts_micro"),
    field(`opened.${id}`, "flag", "places", id, "opened"),
  ]),
  field("hours.electric-compressor", "hours-or-none", "electric_compressor", "hours_milli"),
  field("parts.electric-compressor", "price-or-none", "electric_compressor", "parts_micro"),
  field("recover", "price", "recover_micro"),
  field("evacuate", "price", "evacuate_micro"),
  field("charge", "price", "charge_micro"),
  ...REFRIGERANTS.flatMap((id) => [
    field(`refrigerant.${id}`, "price", "refrigerants", id, "price_micro"),
    field(`per.${id}`, "per", "refrigerants", id, "per"),
    field(`service_extra.${id}`, "price-or-none", "refrigerants", id, "service_extra_micro"),
  ]),
  field("electronic", "price", "electronic_micro"),
  field("dye", "price", "dye_micro"),
  field("dye_inspection", "price", "dye_inspection_micro"),
  field("parts_markup", "percent-or-none", "parts_markup_ppm"),
  field("minimum", "price-or-none", "minimum_micro"),
  ...OWN_LINES.flatMap((n) => [
    field(`own_text.${n}`, "words-or-none", "own_lines", n, "text"),
    field(`own_price.${n}`, "price-or-none", "own_lines", n, "price_micro"),
    field(`own_kind.${n}`, "line-kind", "own_lines", n, "kind"),
    field(`own_always.${n}`, "flag-or-none", "own_lines", n, "always"),
  ]),
  field("supplies", "percent", "supplies", "rate_ppm"),
  field("supplies_most", "amount", "supplies", "most_minor"),
  field("tax_parts_name", "name", "taxes", "parts", "name"),
  field("tax_parts", "percent", "taxes", "parts", "rate_ppm"),
  field("tax_labor_name", "name", "taxes", "labor", "name"),
  field("tax_labor", "percent", "taxes", "labor", "rate_ppm"),
  field("warranty_months", "months", "warranty", "months"),
  field("warranty_words", "words", "warranty", "words"),
  field("valid_days", "days", "valid_days"),
];
