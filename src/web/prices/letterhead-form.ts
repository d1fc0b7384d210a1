import { LANGUAGES } from "../../../data/customer-words.ts";
import { NUMBER_FORMAT_IDS } from "../../../data/number-formats.ts";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import type { LetterheadFields } from "../../../views/prices/letterhead-page.tsx";
import { BLANK_LETTERHEAD, type Letterhead } from "../../core/quotes/quote-document.ts";
import { oneOf } from "../forms/typed-values.ts";

/** Characters (code points) of each field. */
const MOST: Readonly<Record<Exclude<keyof Letterhead, "number_format" | "language" | "logo" | "tell_newer">, number>> =
  {
    shop: 120,
    address: 400,
    phone: 60,
    email: 120,
    certificate: 120,
    tax_number: 60,
    terms: 1200,
    quote_prefix: 12,
    invoice_prefix: 12,
    invoice_first: 9,
    pay_days: 3,
  };

/** A letterhead as it stands in its form; the logo has one of its own. */
export function fieldsOfLetterhead({ logo, ...fields }: Letterhead): LetterheadFields {
  return fields;
}

/** The posted fields as typed. */
export function letterheadFields(form: URLSearchParams): LetterheadFields {
  const names = Object.keys(fieldsOfLetterhead(BLANK_LETTERHEAD)) as (keyof LetterheadFields)[];
  return Object.fromEntries(names.map((name) => [name, form.get(name) ?? ""])) as LetterheadFields;
}

export function readLetterhead(
  fields: LetterheadFields,
): { ok: true; letterhead: Omit<Letterhead, "logo"> } | { ok: false; errors: FieldError[] } {
  const errors: FieldError[] = [];
  const text = (name: keyof typeof MOST) => {
    const plain = fields[name].replaceAll("\r\n", "\n").trim();
    if ([...plain].length > MOST[name]) errors.push({ field: name, message: `Keep it to ${MOST[name]} characters` });
    return plain;
  };
  const shop = text("shop");
  if (shop === "") errors.push({ field: "shop", message: "Enter the name of the shop, as customers know it" });
  const number_format = oneOf(NUMBER_FORMAT_IDS, fields.number_format);
  if (number_format === undefined) errors.push({ field: "number_format", message: "Choose how amounts are written" });
  const rest = {
    address: text("address"),
    phone: text("phone"),
    email: text("email"),
    certificate: text("certificate"),
    tax_number: text("tax_number"),
    terms: text("terms"),
    quote_prefix: text("quote_prefix"),
    invoice_prefix: text("invoice_prefix"),
    invoice_first: text("invoice_first"),
    pay_days: text("pay_days"),
  };
  if (!/^(?:[1-9]\d*)?$/.test(rest.invoice_first))
    errors.push({ field: "invoice_first", message: "Enter a whole number, like 1001, or leave it empty" });
  if (!/^\d*$/.test(rest.pay_days))
    errors.push({ field: "pay_days", message: "Enter the days to pay, like 14, or leave it empty" });
  if (errors.length > 0 || number_format === undefined) return { ok: false, errors };
  return {
    ok: true,
    letterhead: {
      shop,
      ...rest,
      number_format,
      language: oneOf(LANGUAGES, fields.language) ?? "en",
      tell_newer: fields.tell_newer === "no" ? "no" : "yes",
    },
  };
}
