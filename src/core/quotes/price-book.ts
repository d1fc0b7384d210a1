import { MOST_MINOR, UNIT_PRICE_DIGITS } from "../quantities/money.ts";
import { GRAMS_PER_UNIT } from "../quantities/units.ts";
import type { LocationId, RefrigerantId } from "../question/contract.ts";
import type { LineKind, Taxes } from "./quote.ts";

/** Weights that refrigerant is sold by. */
export const PRICED_PER = ["g", "kg", "oz", "lb"] as const;
export type PricedPer = (typeof PRICED_PER)[number];

export interface PlacePrice {
  hours_milli: number;
  parts_micro: number;
  /** Whether the system is opened for it, so that it takes recovery, evacuation and a full charge. */
  opened: boolean;
}

export interface RefrigerantPrice {
  price_micro: number;
  per: PricedPer;
  /** On top of each recovery and recharge with it, for a machine of its own; absent: nothing. */
  service_extra_micro?: number | undefined;
}

/** A line of the shop's own, to be added to a quote with one press, or to every option that handles refrigerant. */
export interface OwnLine {
  text: string;
  price_micro: number;
  kind: LineKind;
  always: boolean;
}

/** How many lines of its own a book may have. */
export const OWN_LINES = ["1", "2", "3", "4"] as const;

/** What a shop asks, before tax, in the book's own currency. Prices in millionths of the main unit. */
export interface PriceBook {
  name: string;
  /** ISO 4217; it stays what it is when the workspace goes over to another. */
  currency: string;
  /** Per hour. */
  labor_rate_micro: number;
  places: Record<LocationId, PlacePrice>;
  /** A compressor that high voltage drives; what is absent is as for one that a belt drives. */
  electric_compressor?: { hours_milli?: number | undefined; parts_micro?: number | undefined } | undefined;
  recover_micro: number;
  evacuate_micro: number;
  /** Charging by weight, without the refrigerant. */
  charge_micro: number;
  refrigerants: Record<RefrigerantId, RefrigerantPrice>;
  dye_micro: number;
  dye_inspection_micro: number;
  electronic_micro: number;
  /** Shop supplies: a part of labor and service; at most `most_minor`, null for no limit. */
  supplies: { rate_ppm: number; most_minor: number | null };
  /** Added to what parts cost the shop; absent where the prices of parts are what the customer pays. */
  parts_markup_ppm?: number | undefined;
  /** The least that any option comes to, before tax. */
  minimum_micro?: number | undefined;
  own_lines?: { [N in (typeof OWN_LINES)[number]]?: OwnLine } | undefined;
  taxes: Taxes;
  /** 0 months for none. */
  warranty: { months: number; words: string };
  /** How long a quote holds from the day it is sent. */
  valid_days: number;
}

/** What forms and files accept. */
export const bookBounds = {
  name_chars: 80,
  words_chars: 400,
  hours_milli: { min: 0, max: 100_000 },
  price_micro: { min: 0, max: 100_000_000_000_000 },
  rate_ppm: { min: 0, max: 1_000_000 },
  amount_minor: { min: 0, max: MOST_MINOR },
  months: { min: 0, max: 120 },
  valid_days: { min: 1, max: 365 },
} as const;

/** Thousandths of the unit to which a scale is read: 1 g, 10 g, a tenth of an ounce, a hundredth of a pound. */
const READ_TO_MILLI: Readonly<Record<PricedPer, number>> = { g: 1000, kg: 10, oz: 100, lb: 10 };

/** An amount of refrigerant as a quantity in the unit that it is sold by, as a scale is read. */
export function soldQuantity(grams: number, per: PricedPer): number {
  const step = READ_TO_MILLI[per];
  return Math.round((grams / GRAMS_PER_UNIT[per]) * (1000 / step)) * step;
}

/** Price of a gram before tax, as the model counts: a float in the main unit. */
export function pricePerGram({ price_micro, per }: RefrigerantPrice): number {
  return price_micro / 10 ** UNIT_PRICE_DIGITS / GRAMS_PER_UNIT[per];
}
