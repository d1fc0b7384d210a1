import { LINE_WORDS, PLACE_WORDS } from "../../../data/quote-words.ts";
import { minorDigits, partOf, sumOf, UNIT_PRICE_DIGITS } from "../quantities/money.ts";
import type { LocationId, RefrigerantId } from "../question/contract.ts";
import { type OwnLine, type PriceBook, soldQuantity } from "./price-book.ts";
import { lineTotal, type OptionWork, type QuoteLine } from "./quote.ts";

/** The vehicle that a price is asked for. */
export interface QuoteCase {
  refrigerant: RefrigerantId;
  nameplate_g: number;
  /** High voltage drives the compressor. */
  electric?: boolean;
  /** What a full charge lacks, as the model has it today. */
  missing_g: number;
  /** Whose repair stands for a repair of what is found. */
  likeliest: LocationId;
}

/** Amounts that rest on an estimate are not quoted finer than this. */
const ESTIMATE_STEP_G = 10;

/**
 * The lines of an option at the prices of a book: today's work, in the order in which it is done. A repair that opens
 * the system takes a full charge, as the model counts it; one under pressure, and a recharge, take what is missing.
 */
export function quoteLines(book: PriceBook, work: OptionWork, given: QuoteCase, currency: string): QuoteLine[] {
  const place = work.repair === "found" ? given.likeliest : work.repair;
  const opened = place !== null && book.places[place].opened;
  const emptied = opened || work.recharge;
  const charged = emptied || place !== null;
  const lines: QuoteLine[] = [];
  if (work.test === "electronic") lines.push(lineOfOne("test", LINE_WORDS.electronic, book.electronic_micro));
  if (place !== null) lines.push(...repairLines(book, place, given));
  if (emptied) {
    lines.push(lineOfOne("service", LINE_WORDS.recover, book.recover_micro));
    lines.push(lineOfOne("service", LINE_WORDS.evacuate, book.evacuate_micro));
    const { service_extra_micro = 0 } = book.refrigerants[given.refrigerant];
    lines.push(lineOfOne("service", `${LINE_WORDS.service_extra} ${given.refrigerant}`, service_extra_micro));
  }
  if (charged) {
    lines.push(lineOfOne("service", LINE_WORDS.charge, book.charge_micro));
    lines.push(refrigerantLine(book, given, { full: opened, emptied }));
  }
  if (work.test === "dye") {
    lines.push(lineOfOne("test", LINE_WORDS.dye, book.dye_micro, "parts"));
    lines.push(lineOfOne("test", LINE_WORDS.dye_inspection, book.dye_inspection_micro));
  }
  if (charged) lines.push(...ownLines(book));
  const all = [...lines.filter(costsSomething), ...suppliesLine(book, lines, currency)];
  return [...all, ...minimumLine(book, all, currency)];
}

/** What the shop adds wherever refrigerant is handled, like a fee for the environment. A credit is added by hand. */
function ownLines({ own_lines = {} }: PriceBook): QuoteLine[] {
  return Object.values(own_lines).flatMap((own) => (own.always && own.kind !== "credit" ? [lineOfOwn(own)] : []));
}

/** A line that a shop has written into its book. */
export function lineOfOwn({ kind, text, price_micro }: OwnLine): QuoteLine {
  return lineOfOne(kind, text, price_micro);
}

/** What is lacking to the least that a shop works for, before tax; none for nothing at all. */
function minimumLine({ minimum_micro }: PriceBook, lines: readonly QuoteLine[], currency: string): QuoteLine[] {
  if (minimum_micro === undefined || lines.length === 0) return [];
  const step = 10 ** (UNIT_PRICE_DIGITS - minorDigits(currency));
  const lacking_minor =
    Math.round(minimum_micro / step) - sumOf(lines.map((line) => lineTotal(line, currency).net_minor));
  return lacking_minor <= 0 ? [] : [lineOfOne("service", LINE_WORDS.minimum, lacking_minor * step)];
}

function repairLines(book: PriceBook, place: LocationId, { electric = false }: QuoteCase): QuoteLine[] {
  const own = electric && place === "compressor" ? book.electric_compressor : undefined;
  const { hours_milli = book.places[place].hours_milli, parts_micro = book.places[place].parts_micro } = own ?? {};
  return [
    {
      ...lineOfOne("labor", PLACE_WORDS[place].labor, book.labor_rate_micro),
      quantity_milli: hours_milli,
      unit: "h",
    },
    lineOfOne("parts", PLACE_WORDS[place].parts, withMarkup(parts_micro, book.parts_markup_ppm)),
  ];
}

/** What a part costs the customer, from what it costs the shop; rounded as one amount. */
function withMarkup(cost_micro: number, markup_ppm = 0): number {
  return cost_micro + partOf(cost_micro, markup_ppm);
}

/** New refrigerant. What a recharge recovers goes back in, so that it takes no more than a system under pressure. */
function refrigerantLine(
  book: PriceBook,
  given: QuoteCase,
  { full, emptied }: { full: boolean; emptied: boolean },
): QuoteLine {
  const { price_micro, per } = book.refrigerants[given.refrigerant];
  const missing_g = Math.round(given.missing_g / ESTIMATE_STEP_G) * ESTIMATE_STEP_G;
  const missing = emptied ? LINE_WORDS.refrigerant_returned : LINE_WORDS.refrigerant_missing;
  const what = full ? LINE_WORDS.refrigerant_full : missing;
  return {
    ...lineOfOne("refrigerant", `${given.refrigerant}, ${what}`, price_micro),
    quantity_milli: soldQuantity(full ? given.nameplate_g : missing_g, per),
    unit: per,
  };
}

/** One line for supplies, worked out from labor and service; none where it comes to nothing. */
function suppliesLine(book: PriceBook, lines: readonly QuoteLine[], currency: string): QuoteLine[] {
  const price_micro = suppliesPrice(book, lines, currency);
  return price_micro === 0 ? [] : [lineOfOne("supplies", LINE_WORDS.supplies, price_micro)];
}

/** What supplies are charged beside such lines, in millionths: a part of labor and service, but not of a minimum. */
export function suppliesPrice({ supplies }: PriceBook, lines: readonly QuoteLine[], currency: string): number {
  const base_minor = sumOf(
    lines
      .filter(({ kind, text }) => (kind === "labor" || kind === "service") && text !== LINE_WORDS.minimum)
      .map((line) => lineTotal(line, currency).net_minor),
  );
  const part_minor = partOf(base_minor, supplies.rate_ppm);
  const price_minor = supplies.most_minor === null ? part_minor : Math.min(part_minor, supplies.most_minor);
  return price_minor * 10 ** (UNIT_PRICE_DIGITS - minorDigits(currency));
}

/** One piece of something, at a price. */
export function lineOfOne(
  kind: QuoteLine["kind"],
  text: string,
  unit_price_micro: number,
  tax_class: QuoteLine["tax_class"] = TAX_CLASS_OF[kind],
): QuoteLine {
  return { kind, text, quantity_milli: 1000, unit: "", unit_price_micro, discount: null, tax_class };
}

/** Which tax a kind of line usually bears; a shop changes it line by line. */
const TAX_CLASS_OF: Readonly<Record<QuoteLine["kind"], QuoteLine["tax_class"]>> = {
  labor: "labor",
  parts: "parts",
  refrigerant: "parts",
  service: "labor",
  test: "labor",
  supplies: "parts",
  credit: "labor",
};

function costsSomething({ quantity_milli, unit_price_micro }: QuoteLine): boolean {
  return quantity_milli > 0 && unit_price_micro > 0;
}
