import * as z from "zod";
import { LANGUAGES } from "../../../data/customer-words.ts";
import { NUMBER_FORMAT_IDS } from "../../../data/number-formats.ts";
import { locationColumns, priceParameters } from "../../../data/parameters.ts";
import { UNIT_SYSTEMS } from "../../core/quantities/units.ts";
import { CAN_SEALS, LOCATION_IDS, REFRIGERANTS } from "../../core/question/contract.ts";
import { PAYMENT_METHODS } from "../../core/quotes/invoice.ts";
import { isLogo } from "../../core/quotes/logo.ts";
import { bookBounds, OWN_LINES, PRICED_PER } from "../../core/quotes/price-book.ts";
import { LINE_KINDS, QUOTE_STATES, quoteBounds, TAX_CLASSES } from "../../core/quotes/quote.ts";
import { ANSWER_NAME_CHARS, ANSWERED_HOW, LETTERHEAD_CHARS } from "../../core/quotes/quote-document.ts";
import { assessSchema } from "./assess-schema.ts";
import {
  actor,
  currencyCode,
  figure,
  instant,
  keepYears,
  listed,
  minorAmount,
  recordId,
  required,
  text,
  textOrNone,
  vehicleStored,
  version,
} from "./record-schema.ts";

/** The shapes of price books, the letterhead and quotes as they are stored and exported. */

const within = ({ min, max }: { min: number; max: number }) => z.int().min(min).max(max);
const price = within(bookBounds.price_micro);
const place = z.enum(LOCATION_IDS);
const { refrigerant, nameplate_g } = vehicleStored.shape;
const { date } = listed(assessSchema.shape.log).shape;

export const tax = z.strictObject({ name: z.string(), rate_ppm: within(bookBounds.rate_ppm) });
export const taxes = z.strictObject({ parts: tax, labor: tax });
const warranty = z.strictObject({ months: within(bookBounds.months), words: z.string() });

export const priceBook = z.strictObject({
  name: text(bookBounds.name_chars),
  currency: currencyCode,
  labor_rate_micro: price,
  places: z.record(
    place,
    z.strictObject({ hours_milli: within(bookBounds.hours_milli), parts_micro: price, opened: z.boolean() }),
  ),
  electric_compressor: z
    .strictObject({ hours_milli: within(bookBounds.hours_milli).optional(), parts_micro: price.optional() })
    .optional(),
  recover_micro: price,
  evacuate_micro: price,
  charge_micro: price,
  refrigerants: z.record(
    z.enum(REFRIGERANTS),
    z.strictObject({ price_micro: price, per: z.enum(PRICED_PER), service_extra_micro: price.optional() }),
  ),
  dye_micro: price,
  dye_inspection_micro: price,
  electronic_micro: price,
  supplies: z.strictObject({ rate_ppm: within(bookBounds.rate_ppm), most_minor: minorAmount.nullable() }),
  parts_markup_ppm: within(bookBounds.rate_ppm).optional(),
  minimum_micro: price.optional(),
  own_lines: z
    .partialRecord(
      z.enum(OWN_LINES),
      z.strictObject({
        text: text(bookBounds.name_chars),
        price_micro: price,
        kind: z.enum(LINE_KINDS),
        always: z.boolean(),
      }),
    )
    .optional(),
  taxes,
  warranty,
  valid_days: within(bookBounds.valid_days),
});

const changed = { version, updated_at: instant, updated_by: actor };
const made = { ...changed, created_at: instant, created_by: actor };

export const ownBook = z.strictObject({ id: recordId, book: priceBook, archived_at: instant.nullable(), ...made });

export const number_format = z.enum(NUMBER_FORMAT_IDS);
export const letterhead_text = {
  shop: textOrNone(LETTERHEAD_CHARS.shop),
  address: textOrNone(LETTERHEAD_CHARS.address),
  phone: textOrNone(LETTERHEAD_CHARS.phone),
  email: textOrNone(LETTERHEAD_CHARS.email),
  certificate: textOrNone(LETTERHEAD_CHARS.certificate),
  tax_number: textOrNone(LETTERHEAD_CHARS.tax_number),
  terms: textOrNone(LETTERHEAD_CHARS.terms),
};

export const savedLetterhead = z.strictObject({
  letterhead: z.strictObject({
    ...letterhead_text,
    number_format,
    language: z.enum(LANGUAGES).default("en"),
    quote_prefix: textOrNone(LETTERHEAD_CHARS.quote_prefix).default(""),
    invoice_prefix: textOrNone(LETTERHEAD_CHARS.invoice_prefix).default(""),
    invoice_first: textOrNone(LETTERHEAD_CHARS.invoice_first).default(""),
    pay_days: textOrNone(LETTERHEAD_CHARS.pay_days).default(""),
    logo: z.string().refine(isLogo, { error: "Give a logo as PNG or SVG in base64, or none." }).default(""),
    tell_newer: z.enum(["yes", "no"]).default("yes"),
  }),
  ...changed,
});

const discount = z
  .discriminatedUnion("kind", [
    z.strictObject({ kind: z.literal("percent"), rate_ppm: within(bookBounds.rate_ppm) }),
    z.strictObject({ kind: z.literal("amount"), amount_minor: minorAmount }),
  ])
  .nullable();

export const quoteOption = z.strictObject({
  id: z.string(),
  title: text(quoteBounds.title_chars),
  words: textOrNone(quoteBounds.words_chars),
  work: z.strictObject({
    recharge: z.boolean(),
    test: z.enum(["dye", "electronic"]).nullable(),
    repair: z.enum([...LOCATION_IDS, "found"]).nullable(),
  }),
  lines: z
    .array(
      z.strictObject({
        kind: z.enum(LINE_KINDS),
        text: text(quoteBounds.line_chars),
        quantity_milli: z.int().min(0).max(quoteBounds.quantity_milli),
        unit: textOrNone(quoteBounds.unit_chars),
        unit_price_micro: price,
        discount,
        tax_class: z.enum(TAX_CLASSES),
      }),
    )
    .max(quoteBounds.lines),
  discount,
  replaces: z.array(z.string()),
  excludes: z.array(z.string()),
  not_covered: textOrNone(quoteBounds.words_chars),
  found: z.strictObject({ priced_for: place, totals_minor: z.record(place, minorAmount) }).nullable(),
});

const offered = {
  customer: textOrNone(quoteBounds.customer_chars),
  currency: currencyCode,
  options: z.array(quoteOption).max(quoteBounds.options),
  recommended: z.string().nullable(),
  recommended_why: textOrNone(quoteBounds.words_chars),
  note: textOrNone(quoteBounds.note_chars),
  keep_years: keepYears,
};

export const vehicleOnPaper = z.strictObject({
  words: textOrNone(quoteBounds.vehicle_chars),
  plate: textOrNone(quoteBounds.plate_chars),
  vin: z.string(),
  odometer: textOrNone(quoteBounds.odometer_chars),
});

const content = z.strictObject({
  ...offered,
  customer_id: recordId.optional(),
  language: z.enum(LANGUAGES).optional(),
  vehicle_shown: vehicleOnPaper.optional(),
  book_id: recordId,
  book: priceBook,
  valid_days: within(bookBounds.valid_days),
});

/**
 * A shop's prices go into its questions as they are, so the ranges of the forms for one's own prices do not hold here.
 */
function amounts<const T extends object>(table: T) {
  type Shape = { [K in keyof T]: z.ZodOptional<z.ZodNullable<z.ZodNumber>> };
  return Object.fromEntries(Object.keys(table).map((name) => [name, z.number().min(0).nullish()])) as Shape;
}

const { vehicle, log, findings, plan, assumptions } = assessSchema.shape;
const request = z.strictObject({
  as_of: required(assessSchema.shape.as_of),
  vehicle,
  log: z.array(listed(log)).nullish(),
  findings: z.array(listed(findings)).nullish(),
  plan,
  prices: z
    .strictObject({
      ...amounts(priceParameters),
      can_seal: z.enum(CAN_SEALS).nullish(),
      locations: z.partialRecord(place, z.strictObject(amounts(locationColumns)).nullish()).nullish(),
    })
    .nullish(),
  assumptions,
});

const spread = { p05: figure, p95: figure };

const optionOutlook = z.strictObject({
  id: z.string(),
  price: z.strictObject({
    lines: z.array(z.strictObject({ gross_minor: minorAmount, discount_minor: minorAmount, net_minor: minorAmount })),
    subtotal_minor: minorAmount,
    discount_minor: minorAmount,
    net_minor: minorAmount,
    taxes: z.array(z.strictObject({ ...tax.shape, taxable_minor: minorAmount, tax_minor: minorAmount })),
    total_minor: minorAmount,
  }),
  years: z
    .strictObject({
      later: figure,
      total: figure,
      yearly: figure,
      likely: z.strictObject({ from: figure, to: figure }),
      release_g: figure,
      co2e_kg: figure,
      sure: z.discriminatedUnion("code", [
        z.strictObject({ code: z.literal("place"), place, probability: figure, holds: figure }),
        z.strictObject({ code: z.literal("lasts"), months: z.strictObject({ median: figure, ...spread }) }),
        z.strictObject({ code: z.literal("leads"), probability: figure }),
        z.strictObject({ code: z.literal("found"), holds: figure }),
      ]),
    })
    .nullable(),
  open: z.boolean(),
  not_open_because: z.enum(["rule", "empty", "floor", "done"]).nullable(),
});

const advisedWhy = z.discriminatedUnion("code", [
  z.strictObject({ code: z.literal("only") }),
  z.strictObject({ code: z.literal("cheapest"), than: z.string(), cheaper_by: figure }),
  z.strictObject({ code: z.literal("cleaner"), than: z.string(), dearer_by: figure, release_share: figure }),
]);

const snapshot = z.strictObject({
  ...offered,
  number: version,
  prefix: z.string().optional(),
  sent_on: date,
  valid_until: date,
  letterhead: z.strictObject(letterhead_text),
  vehicle: z.strictObject({
    label: z.string(),
    refrigerant,
    nameplate_g,
    shown: vehicleOnPaper.optional(),
    electric: z.boolean().optional(),
  }),
  language: z.enum(LANGUAGES).optional(),
  number_format,
  units: z.enum(UNIT_SYSTEMS),
  taxes,
  warranty,
  rules: z.array(z.strictObject({ title: z.string(), says: z.string(), citation: z.string() })),
  request,
  model_version: z.string(),
  outlook: z.strictObject({
    keep_years: keepYears,
    why: advisedWhy.nullable().optional(),
    not_needed: z.boolean().optional(),
    first_step: z
      .strictObject({
        id: z.literal("cores-and-caps"),
        location: z.literal("service-port"),
        probability: figure,
        ends_leak: figure,
        price: figure,
        saves: figure,
      })
      .nullable()
      .optional(),
    leak: z.strictObject({
      g_per_year: z.strictObject({ mean: figure, median: figure.optional(), ...spread }),
      charge_now_g: figure,
      from_nothing: z.boolean(),
    }),
    options: z.array(optionOutlook),
    nothing: z.strictObject({
      low_now: z.boolean(),
      low_on: date.nullable(),
      release_g: figure,
      co2e_kg: figure,
    }),
    advised: z.string().nullable(),
    check_first: z.boolean(),
  }),
});

const agreement = z.strictObject({
  ready_by: date.nullable(),
  extra_minor: minorAmount,
  deposit: z
    .strictObject({ amount_minor: minorAmount.min(1), paid_on: date, method: z.enum(PAYMENT_METHODS) })
    .nullable(),
  at: instant,
  by: actor,
});

export const quoteStored = z
  .strictObject({
    id: recordId,
    vehicle_id: recordId,
    number: version,
    status: z.enum(QUOTE_STATES).exclude(["expired"]),
    content,
    replaces: recordId.nullable(),
    snapshot: snapshot.nullable(),
    valid_until: date.nullable(),
    sent_at: instant.nullable(),
    sent_by: actor.nullable(),
    decided_at: instant.nullable(),
    decided_name: text(ANSWER_NAME_CHARS).nullable(),
    decided_option: z.string().nullable(),
    decided_keep_years: keepYears.nullable(),
    decided_how: z.enum(ANSWERED_HOW).nullable().default(null),
    decided_by: actor.nullable().default(null),
    earlier_answers: z
      .array(
        z.strictObject({
          status: z.enum(["accepted", "declined"]),
          at: instant,
          name: text(ANSWER_NAME_CHARS),
          option: z.string().nullable(),
          how: z.enum(ANSWERED_HOW).nullable(),
          by: actor.nullable(),
          taken_back_at: instant,
          taken_back_by: actor,
        }),
      )
      .nullable()
      .default(null),
    agreed: z.array(agreement).nullable().default(null),
    withdrawn_at: instant.nullable(),
    withdrawn_by: actor.nullable(),
    work: z.strictObject({ date, option: z.string(), follow_up_on: date.nullable() }).nullable(),
    work_at: instant.nullable(),
    work_by: actor.nullable(),
    ...made,
  })
  .refine(
    ({ status, snapshot, valid_until, sent_at }) =>
      [snapshot, valid_until, sent_at].every((part) => (part === null) === (status === "draft")),
    { path: ["snapshot"], error: "A quote that was sent has what was sent, when, and its last day; a draft has none." },
  )
  .refine(
    ({ status, decided_at, withdrawn_at }) =>
      (decided_at !== null) === (status === "accepted" || status === "declined") &&
      (withdrawn_at !== null) === (status === "withdrawn"),
    { path: ["status"], error: "A quote is decided or withdrawn once, and says when." },
  )
  .refine(
    ({ status, decided_option, snapshot }) =>
      status === "accepted"
        ? snapshot?.options.some(({ id }) => id === decided_option) === true
        : decided_option === null,
    { path: ["decided_option"], error: "An accepted quote names one of its options; no other quote does." },
  )
  .refine(
    ({ status, work, work_at }) => (work === null) === (work_at === null) && (work === null || status === "accepted"),
    { path: ["work"], error: "Only an accepted quote has work, and it says when." },
  );
