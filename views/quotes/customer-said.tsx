import type { Child } from "hono/jsx";
import {
  CUSTOMER_WORDS,
  type CustomerWord,
  type CustomerWords,
  LANGUAGE_NAMES,
  type Language,
} from "../../data/customer-words.ts";
import {
  formatAmount,
  formatPercent,
  formatQuantity,
  formatUnitPrice,
  formatWhole,
} from "../../src/core/quantities/money.ts";
import { numberText } from "../../src/core/quantities/number-text.ts";
import type { UnitSystem } from "../../src/core/quantities/units.ts";
import type { QuoteSnapshot } from "../../src/core/quotes/quote-document.ts";
import { estimated, joined, saidChance, saidCo2e, saidMass, saidMassSpan } from "../words/numbers.ts";
import type { MoneyStyle } from "./money-style.ts";

/** Keys of words for counts. */
type Counted<Key = CustomerWord> = Key extends `${infer Name}.one` ? Name : never;

interface Manner extends MoneyStyle {
  language: Language;
  units: UnitSystem;
}

/** The mean month of the calendar in weeks: 146 097 days in 400 years. */
const WEEKS_PER_MONTH = 146_097 / 400 / 12 / 7;

/**
 * What a customer reads, in their language: words from the table, numbers, amounts and dates as the language has them.
 * Nothing that stands on their page comes from anywhere else.
 */
export class CustomerSaid {
  readonly language: Language;
  readonly #table: CustomerWords;
  readonly #locale: string;
  readonly #manner: Manner;
  readonly #plurals: Intl.PluralRules;

  constructor(manner: Manner, table = CUSTOMER_WORDS, locale = LANGUAGE_NAMES[manner.language].locale) {
    this.language = manner.language;
    this.#manner = manner;
    this.#table = table;
    this.#locale = locale;
    this.#plurals = new Intl.PluralRules(locale);
  }

  /** The words under a key, with `values` in the places that they name. */
  word(key: CustomerWord, values: Readonly<Record<string, string | number>> = {}): string {
    return this.#text(key).replace(/\{([\w-]+)\}/g, (place, name: string) => String(values[name] ?? place));
  }

  /** The same with elements in it. */
  mixed(key: CustomerWord, values: Readonly<Record<string, Child>>): Child[] {
    return this.#text(key)
      .split(/\{([\w-]+)\}/)
      .map((part, i) => (i % 2 === 0 ? part : values[part]));
  }

  /** Words for a count: one month, two months. */
  counted(name: Counted, count: number, values: Readonly<Record<string, string | number>> = {}): string {
    const form = this.#plurals.select(count) === "one" ? "one" : "other";
    return this.word(`${name}.${form}` as CustomerWord, { count: this.number(count), ...values });
  }

  number(value: number): string {
    return numberText(value, this.#manner.number_format, { least: 0, most: 3 });
  }

  amount(minor: number): string {
    return formatAmount(minor, this.#manner.currency, this.#manner.number_format);
  }

  /** An amount in whole main units, as it is. */
  whole(amount: number): string {
    return formatWhole(amount, this.#manner.currency, this.#manner.number_format);
  }

  /** An estimate, rounded as one. */
  sum(amount: number): string {
    return this.whole(estimated(amount));
  }

  unitPrice(micro: number): string {
    return formatUnitPrice(micro, this.#manner.currency, this.#manner.number_format);
  }

  quantity(milli: number): string {
    return formatQuantity(milli, this.#manner.number_format);
  }

  percent(ppm: number): string {
    return formatPercent(ppm, this.#manner.number_format);
  }

  mass(grams: number): string {
    return this.#numerals(saidMass(grams, this.#manner.units));
  }

  massSpan(from_g: number, to_g: number): string {
    const [from, to] = saidMassSpan(from_g, to_g, this.#manner.units).split(" to ");
    if (to === undefined) return this.mass(to_g);
    return this.word("mass.from-to", { from: this.#numerals(from ?? ""), to: this.#numerals(to) });
  }

  /** What reaches the air: always in grams, too. */
  release(grams: number): string {
    const in_grams = this.#numerals(saidMass(grams, "metric"));
    if (this.#manner.units === "metric") return in_grams;
    return this.word("mass.also", { mass: this.mass(grams), grams: in_grams });
  }

  co2e(kg: number): string {
    return this.#numerals(saidCo2e(kg));
  }

  chance(share: number): string {
    const [n = ""] = saidChance(share).split(/\sof\s/);
    if (n.startsWith("under")) return this.word("chance.under");
    return n.startsWith("over") ? this.word("chance.over") : this.word("chance", { n });
  }

  /** A span of years as it was typed or asked for. */
  years(years: number): string {
    if (years < 1) return this.counted("span.months", Number((years * 12).toFixed(1)));
    return this.counted("span.years", Number(years.toFixed(2)));
  }

  /** From one span of months to another, the unit once where it is the same. */
  span(from_months: number, to_months: number): string {
    const [from, to] = [spanOf(from_months), spanOf(to_months)];
    if (from.unit === to.unit && from.count === to.count) return this.word("span.same", { span: this.#span(to) });
    return this.word("span.from-to", {
      from: from.unit === to.unit && from.unit !== null ? this.#count(from.count) : joined(this.#span(from)),
      to: joined(this.#span(to)),
    });
  }

  /** An ISO date in words. */
  day(iso: string): string {
    return this.#date(iso, { day: "numeric", month: "long", year: "numeric" });
  }

  /** The month of an ISO date. */
  month(iso: string): string {
    return this.#date(iso, { month: "long", year: "numeric" });
  }

  /** An instant as a clock and a calendar in `time_zone` show it, with the zone. */
  instant(instant: string, time_zone: string): string {
    const date = { day: "numeric", month: "long", year: "numeric" } as const;
    const clock = { hour: "2-digit", minute: "2-digit", hourCycle: "h23", timeZoneName: "short" } as const;
    return new Intl.DateTimeFormat(this.#locale, { ...date, ...clock, timeZone: time_zone }).format(new Date(instant));
  }

  /** Things in a row: “a”, “b” and “c”. */
  list(parts: readonly string[]): string {
    return new Intl.ListFormat(this.#locale, { type: "conjunction" }).format(parts);
  }

  #text(key: CustomerWord): string {
    return this.#table[key][this.language];
  }

  #date(iso: string, options: Intl.DateTimeFormatOptions): string {
    return new Intl.DateTimeFormat(this.#locale, { ...options, timeZone: "UTC" }).format(new Date(`${iso}T00:00:00Z`));
  }

  /** Rewrites numbers in the format of our pages into that of this language. */
  #numerals(text: string): string {
    return text.replace(/\d[\d,]*(?:\.\d+)?/g, (figures) => this.number(Number(figures.replaceAll(",", ""))));
  }

  #count(count: number): string {
    const whole = Math.floor(count);
    return count === whole ? this.number(count) : `${whole}½`;
  }

  #span({ unit, count }: Span): string {
    if (unit === null) return this.word(count === 0 ? "span.days" : "span.many-years");
    if (count !== Math.floor(count)) return this.word(`${unit}.other`, { count: this.#count(count) });
    return this.counted(unit, count);
  }
}

/** A span as a person counts it; without a unit, a few days (0) or more than anyone counts. */
interface Span {
  unit: "span.weeks" | "span.months" | "span.years" | null;
  count: number;
}

/** As `formatMonths` says it. */
function spanOf(months: number): Span {
  const weeks = Math.round(months * WEEKS_PER_MONTH);
  if (weeks < 1) return { unit: null, count: 0 };
  if (months < 1.5) return { unit: "span.weeks", count: weeks };
  if (months < 23.5) return { unit: "span.months", count: Math.round(months) };
  const years = months / 12;
  if (years > 50) return { unit: null, count: 50 };
  return { unit: "span.years", count: years < 4.75 ? Math.round(years * 2) / 2 : Math.round(years) };
}

/** The wording of a sent quote; English for those sent before a language could be chosen. */
export function saidOf({ language = "en", currency, number_format, units }: QuoteSnapshot): CustomerSaid {
  return new CustomerSaid({ language, currency, number_format, units });
}

/** The same for the shop's own pages and papers. */
export function saidInEnglish({ currency, number_format }: MoneyStyle, units: UnitSystem = "us"): CustomerSaid {
  return new CustomerSaid({ language: "en", currency, number_format, units });
}
