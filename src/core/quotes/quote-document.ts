import type { Language } from "../../../data/customer-words.ts";
import type { NumberFormatId } from "../../../data/number-formats.ts";
import type { UnitSystem } from "../quantities/units.ts";
import type { AssessRequest, RefrigerantId } from "../question/contract.ts";
import type { PriceBook } from "./price-book.ts";
import type { QuoteOption, QuoteState, Taxes } from "./quote.ts";
import type { QuoteOutlook } from "./quote-outlook.ts";

/** Who gives a quote or an invoice, as it stands on paper. Empty text where nothing was said. */
export interface PrintedLetterhead {
  shop: string;
  /** May have several lines. */
  address: string;
  phone: string;
  email: string;
  /** Of the technician or the shop, for work on refrigerant. */
  certificate: string;
  tax_number: string;
  /** What goes for every quote, under it. */
  terms: string;
}

/** The same with how the shop writes amounts and counts its papers. */
export interface Letterhead extends PrintedLetterhead {
  number_format: NumberFormatId;
  /** Of a quote to a customer of whom no language is known. */
  language: Language;
  /** Before the number of each quote, of each invoice and credit note: `A-`; "" for none. */
  quote_prefix: string;
  invoice_prefix: string;
  /** Figures of the first invoice's number, for a shop that goes on counting; "" for 1. */
  invoice_first: string;
  /** Days to pay an invoice, in figures; "" for nothing said. */
  pay_days: string;
  /** The shop's sign, as of `readLogo`; "" for none. Papers show the one of today: it is no part of what is agreed. */
  logo: string;
  /** Whether a customer with an old link is told that there is a newer quote. */
  tell_newer: "yes" | "no";
}

export const BLANK_LETTERHEAD: Letterhead = {
  shop: "",
  address: "",
  phone: "",
  email: "",
  certificate: "",
  tax_number: "",
  terms: "",
  number_format: "1,234.56",
  language: "en",
  quote_prefix: "",
  invoice_prefix: "",
  invoice_first: "",
  pay_days: "",
  logo: "",
  tell_newer: "yes",
};

/** The most characters (code points) of each text that is typed. */
export const LETTERHEAD_CHARS = {
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
} as const satisfies Partial<Record<keyof Letterhead, number>>;

/** Of a letterhead, what stands on paper. */
export function printedLetterhead(letterhead: PrintedLetterhead): PrintedLetterhead {
  const { shop, address, phone, email, certificate, tax_number, terms } = letterhead;
  return { shop, address, phone, email, certificate, tax_number, terms };
}

/** The vehicle as a paper names it, each part "" where nothing was typed. The shop's own name for it stays inside. */
export interface VehicleOnPaper {
  /** Year, make and model, in free words. */
  words: string;
  plate: string;
  vin: string;
  odometer: string;
}

export const UNNAMED_VEHICLE: VehicleOnPaper = { words: "", plate: "", vin: "", odometer: "" };

/**
 * A quote while it is being written. It holds a copy of its price book, so that a change of prices does not reach it.
 */
export interface QuoteContent {
  /** Who it is for; "" where nobody said. */
  customer: string;
  /** Id of the customer in the records; absent where they are in none. */
  customer_id?: string | undefined;
  /** The customer's; absent from drafts of before it was asked for, which are in English. */
  language?: Language | undefined;
  /** Absent from drafts of before it was asked for. */
  vehicle_shown?: VehicleOnPaper | undefined;
  /** Where the copy is from. */
  book_id: string;
  book: PriceBook;
  currency: string;
  options: QuoteOption[];
  /** Id of the option that the shop recommends; null for none. */
  recommended: string | null;
  /** Why, when that is not the model's choice. */
  recommended_why: string;
  /** Message to the customer, above the options. */
  note: string;
  keep_years: number;
  valid_days: number;
}

/** A rule of the place, as it stood on the day of the quote. */
export interface QuotedRule {
  title: string;
  says: string;
  citation: string;
}

/**
 * A quote as it was sent, once and for all, with everything that its page needs: nothing else is opened by its link.
 */
export interface QuoteSnapshot {
  number: number;
  /** Before the number; absent from quotes of before there was one. */
  prefix?: string | undefined;
  sent_on: string;
  valid_until: string;
  letterhead: PrintedLetterhead;
  customer: string;
  /** `label` is what the customer reads; the last two are absent from quotes of before they were asked for. */
  vehicle: {
    label: string;
    refrigerant: RefrigerantId;
    nameplate_g: number;
    shown?: VehicleOnPaper | undefined;
    /** High voltage drives the compressor. */
    electric?: boolean | undefined;
  };
  currency: string;
  /** Absent from quotes of before it was asked for, which are in English. */
  language?: Language | undefined;
  number_format: NumberFormatId;
  units: UnitSystem;
  taxes: Taxes;
  warranty: PriceBook["warranty"];
  options: QuoteOption[];
  recommended: string | null;
  recommended_why: string;
  note: string;
  keep_years: number;
  rules: QuotedRule[];
  request: AssessRequest;
  model_version: string;
  /** For `keep_years`, as it stood when the quote was sent. */
  outlook: QuoteOutlook;
}

/** What a quote is called by on paper: `Q-12`. */
export function quoteNumber({ prefix = "", number }: Pick<QuoteSnapshot, "prefix" | "number">): string {
  return `${prefix}${number}`;
}

/** What the customer said; `option` is null for a no. */
export interface QuoteDecision {
  option: string | null;
  name: string;
  /** The years kept that stood on the page when it was said. */
  keep_years: number;
}

/** Of the name under an answer. */
export const ANSWER_NAME_CHARS = 120;

/** How an answer came that did not come by the link. */
export const ANSWERED_HOW = ["phone", "paper", "person"] as const;
export type AnsweredHow = (typeof ANSWERED_HOW)[number];

/** An answer that was taken back: what it was, and by whom and when it was taken back (instants, ISO). */
export interface EarlierAnswer {
  status: "accepted" | "declined";
  at: string;
  name: string;
  option: string | null;
  how: AnsweredHow | null;
  by: string | null;
  taken_back_at: string;
  taken_back_by: string;
}

/** What the shop did after a yes. */
export interface QuoteWork {
  date: string;
  option: string;
  /** The day on which to look whether the repair held; null where nothing was repaired. */
  follow_up_on: string | null;
}

/** How a stored quote stands on a day: one that was sent runs out after its last day. */
export function quoteState(
  stored: Exclude<QuoteState, "expired">,
  valid_until: string | null,
  today: string,
): QuoteState {
  return stored === "sent" && valid_until !== null && today > valid_until ? "expired" : stored;
}
