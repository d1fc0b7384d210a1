import { LANGUAGES } from "../../../data/customer-words.ts";
import { NUMBER_FORMAT_IDS } from "../../../data/number-formats.ts";
import type { LetterheadFields } from "../../../views/prices/letterhead-page.tsx";
import { MOST_PAY_DAYS } from "../../core/quotes/invoice.ts";
import { BLANK_LETTERHEAD, LETTERHEAD_CHARS, type Letterhead } from "../../core/quotes/quote-document.ts";
import { type Read, Refusals, tooLong } from "../forms/form-reading.ts";
import { typedFields } from "../forms/posted-form.ts";
import { oneOf } from "../forms/typed-values.ts";

/** A letterhead as it stands in its form; the logo has one of its own. */
export function fieldsOfLetterhead({ logo, ...fields }: Letterhead): LetterheadFields {
  return fields;
}

/** The posted fields as typed. */
export function letterheadFields(form: URLSearchParams): LetterheadFields {
  const names = Object.keys(fieldsOfLetterhead(BLANK_LETTERHEAD)) as (keyof LetterheadFields)[];
  return typedFields(form, names);
}

/** A letterhead without its logo, or what has to be corrected. */
export function readLetterhead(fields: LetterheadFields): Read<Omit<Letterhead, "logo">> {
  const refusals = new Refusals();
  const { refuse } = refusals;
  const text = (name: keyof typeof LETTERHEAD_CHARS) => {
    const plain = fields[name].replaceAll("\r\n", "\n").trim();
    const too_long = tooLong(plain, LETTERHEAD_CHARS[name]);
    if (too_long !== null) refuse(name, too_long);
    return plain;
  };
  const shop = text("shop");
  if (shop === "") refuse("shop", "Enter the name of the shop, as customers know it");
  const number_format = oneOf(NUMBER_FORMAT_IDS, fields.number_format);
  if (number_format === undefined) refuse("number_format", "Choose how amounts are written");
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
    refuse("invoice_first", "Enter a whole number, like 1001, or leave it empty");
  if (!/^\d*$/.test(rest.pay_days) || Number(rest.pay_days) > MOST_PAY_DAYS)
    refuse("pay_days", `Enter the days to pay, from 0 to ${MOST_PAY_DAYS}, or leave it empty`);
  const errors = refusals.all();
  if (errors.length > 0 || number_format === undefined) return { ok: false, errors };
  return {
    ok: true,
    input: {
      shop,
      ...rest,
      number_format,
      language: oneOf(LANGUAGES, fields.language) ?? "en",
      tell_newer: fields.tell_newer === "no" ? "no" : "yes",
    },
  };
}
