import type { Language } from "../../../data/customer-words.ts";
import type { NumberFormatId } from "../../../data/number-formats.ts";
import type { Letterhead } from "./quote-document.ts";

/**
 * How numbers and amounts are written for a customer: as the shop has it in its own language, else as is usual where
 * the language is spoken and the currency is paid with (Unicode CLDR: es-US, es-MX, es-ES, de-DE, de-CH, en-US).
 */
export function customersFormat(
  language: Language,
  { language: own, number_format }: Pick<Letterhead, "language" | "number_format">,
  currency: string,
): NumberFormatId {
  if (language === own) return number_format;
  switch (language) {
    case "en":
      return "1,234.56";
    case "es":
      return currency === "USD" || currency === "MXN" ? "1,234.56" : "1.234,56";
    case "de":
      return currency === "CHF" ? "1’234.56" : "1.234,56";
  }
}
