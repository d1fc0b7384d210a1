import { LANGUAGES } from "../../../data/customer-words.ts";
import type { NumberFormatId } from "../../../data/number-formats.ts";
import { planParameters } from "../../../data/parameters.ts";
import {
  type LineFields,
  lineInput,
  type OptionFields,
  optionInput,
  type QuoteFields,
} from "../../../views/quotes/quote-fields.ts";
import {
  formatPercent,
  formatQuantity,
  type ParsedDecimal,
  parseAmount,
  parsePercent,
  parseQuantity,
  parseUnitPrice,
  plainAmount,
  plainUnitPrice,
} from "../../core/quantities/money.ts";
import { decimalSign } from "../../core/quantities/number-text.ts";
import { bookBounds } from "../../core/quotes/price-book.ts";
import {
  type Discount,
  LINE_KINDS,
  lineTotal,
  optionTotal,
  type QuoteLine,
  type QuoteOption,
  quoteBounds,
  relationFaults,
  TAX_CLASSES,
} from "../../core/quotes/quote.ts";
import { type QuoteContent, UNNAMED_VEHICLE } from "../../core/quotes/quote-document.ts";
import { suppliesPrice } from "../../core/quotes/quote-lines.ts";
import { type Read, Refusals, tooLong } from "../forms/form-reading.ts";
import { isEmpty, oneOf, readNumber } from "../forms/typed-values.ts";
import { readTypedVin } from "../forms/typed-vin.ts";

/** A quote as it stands in its form. */
export function fieldsOfContent(content: QuoteContent, format: NumberFormatId): QuoteFields {
  const { customer, note, keep_years, valid_days, recommended, recommended_why, currency } = content;
  const discount = (of: Discount | null) => typedDiscount(of, currency, format);
  const shown = content.vehicle_shown ?? UNNAMED_VEHICLE;
  return {
    customer,
    language: content.language ?? "en",
    vehicle_words: shown.words,
    plate: shown.plate,
    vin: shown.vin,
    odometer: shown.odometer,
    note,
    keep_years: String(keep_years).replace(".", decimalSign(format)),
    valid_days: String(valid_days),
    recommended: recommended ?? "",
    recommended_why,
    options: content.options.map((option) => ({
      id: option.id,
      title: option.title,
      words: option.words,
      not_covered: option.not_covered,
      discount: discount(option.discount),
      replaces: option.replaces,
      excludes: option.excludes,
      lines: option.lines.map((line, i) => ({
        n: String(i + 1),
        ...lineFields(line, currency, format),
        auto:
          line.kind === "supplies" && line.unit_price_micro === suppliesPrice(content.book, option.lines, currency)
            ? plainUnitPrice(line.unit_price_micro, currency, format)
            : "",
      })),
    })),
  };
}

/** A line as it stands in the form. */
export function lineFields(line: QuoteLine, currency: string, format: NumberFormatId): Omit<LineFields, "n"> {
  return {
    kind: line.kind,
    text: line.text,
    quantity: formatQuantity(line.quantity_milli, format),
    unit: line.unit,
    price: plainUnitPrice(line.unit_price_micro, currency, format),
    discount: typedDiscount(line.discount, currency, format),
    tax_class: line.tax_class,
    auto: "",
  };
}

function typedDiscount(discount: Discount | null, currency: string, format: NumberFormatId): string {
  if (discount === null) return "";
  return discount.kind === "percent"
    ? `${formatPercent(discount.rate_ppm, format)} %`
    : plainAmount(discount.amount_minor, currency, format);
}

/**
 * What came in the form, each field as it was typed. Options and lines are told by the lists `option` and
 * `line-<option>`.
 */
export function fieldsOfForm(form: URLSearchParams): QuoteFields {
  const text = (name: string) => form.get(name) ?? "";
  return {
    customer: text("customer"),
    language: text("language"),
    vehicle_words: text("vehicle_words"),
    plate: text("plate"),
    vin: text("vin"),
    odometer: text("odometer"),
    note: text("note"),
    keep_years: text("keep_years"),
    valid_days: text("valid_days"),
    recommended: text("recommended"),
    recommended_why: text("recommended_why"),
    options: firstFew(form.getAll("option"), quoteBounds.options).map(
      (id): OptionFields => ({
        id,
        title: text(optionInput(id, "title")),
        words: text(optionInput(id, "words")),
        not_covered: text(optionInput(id, "not_covered")),
        discount: text(optionInput(id, "discount")),
        replaces: firstFew(form.getAll(optionInput(id, "replaces")), quoteBounds.options),
        excludes: firstFew(form.getAll(optionInput(id, "excludes")), quoteBounds.options),
        lines: firstFew(form.getAll(`line-${id}`), quoteBounds.lines).map(
          (n): LineFields => ({
            n,
            kind: text(lineInput(id, n, "kind")),
            text: text(lineInput(id, n, "text")),
            quantity: text(lineInput(id, n, "quantity")),
            unit: text(lineInput(id, n, "unit")),
            price: text(lineInput(id, n, "price")),
            discount: text(lineInput(id, n, "discount")),
            tax_class: text(lineInput(id, n, "tax_class")),
            auto: text(lineInput(id, n, "auto")),
          }),
        ),
      }),
    ),
  };
}

/** The allowed number plus one, which is rejected by name: rendering thousands would make a page too long to send. */
function firstFew(values: readonly string[], most: number): string[] {
  return values.slice(0, most + 1);
}

/** Reads the fields of a draft. What a form does not hold (its prices, the work of each option) comes from `stored`. */
export function readQuote(fields: QuoteFields, stored: QuoteContent, format: NumberFormatId): Read<QuoteContent> {
  const reader = new OptionsReader(stored.currency, format);
  const { min, max } = planParameters.keep_years;
  const by_id = new Map(stored.options.map((option) => [option.id, option]));
  const options = fields.options.flatMap((option) => {
    const known = by_id.get(option.id);
    return known === undefined ? [] : [reader.option(option, known)];
  });
  if (options.length > quoteBounds.options) reader.refuse("new_work", `Keep a quote to ${quoteBounds.options} options`);
  const keep_years = readNumber(fields.keep_years) ?? Number.NaN;
  if (!(keep_years >= min && keep_years <= max))
    reader.refuse("keep_years", `Enter how many years the customer keeps the vehicle, like 5; from ${min} to ${max}`);
  const valid_days = /^\s*\d{1,3}\s*$/.test(fields.valid_days) ? Number(fields.valid_days) : Number.NaN;
  const { valid_days: days } = bookBounds;
  if (!(valid_days >= days.min && valid_days <= days.max))
    reader.refuse("valid_days", "Enter for how many days the quote holds, like 30");
  const recommended = fields.recommended === "" ? null : fields.recommended;
  if (recommended !== null && !options.some(({ id }) => id === recommended))
    reader.refuse("recommended", "Choose the option that you recommend, or none");
  const content: QuoteContent = {
    ...stored,
    customer: reader.words("customer", fields.customer, quoteBounds.customer_chars),
    language: oneOf(LANGUAGES, fields.language) ?? stored.language,
    vehicle_shown: {
      words: reader.words("vehicle_words", fields.vehicle_words, quoteBounds.vehicle_chars),
      plate: reader.words("plate", fields.plate, quoteBounds.plate_chars),
      vin: reader.vin("vin", fields.vin),
      odometer: reader.words("odometer", fields.odometer, quoteBounds.odometer_chars),
    },
    note: reader.words("note", fields.note, quoteBounds.note_chars),
    keep_years,
    valid_days,
    recommended,
    recommended_why: reader.words("recommended_why", fields.recommended_why, quoteBounds.words_chars),
    options,
  };
  for (const { option, other, fault } of relationFaults(options)) {
    const title = options.find(({ id }) => id === other)?.title ?? other;
    const name = optionInput(option, fault === "replaces-and-excludes" ? "excludes" : "replaces");
    reader.refuse(`${name}-${other}`, RELATION_MESSAGES[fault](title));
  }
  const errors = reader.refusals.all();
  return errors.length > 0 ? { ok: false, errors } : { ok: true, input: content };
}

const RELATION_MESSAGES: Readonly<
  Record<ReturnType<typeof relationFaults>[number]["fault"], (title: string) => string>
> = {
  itself: () => "An option cannot refer to itself",
  unknown: () => "Choose options that are in this quote",
  circle: (title) => `This option and “${title}” replace each other: untick one of them`,
  "replaces-and-excludes": (title) => `It cannot both contain “${title}” and not go with it: untick one of them`,
};

class OptionsReader {
  readonly refusals = new Refusals();
  readonly refuse = this.refusals.refuse;
  readonly #currency: string;
  readonly #format: NumberFormatId;

  constructor(currency: string, format: NumberFormatId) {
    this.#currency = currency;
    this.#format = format;
  }

  words(field: string, text: string, most: number): string {
    const plain = text.replaceAll("\r\n", "\n").trim();
    const too_long = tooLong(plain, most);
    if (too_long !== null) this.refuse(field, too_long);
    return plain;
  }

  /** Empty, or a VIN in capitals. */
  vin(field: string, typed: string): string {
    const read = readTypedVin(typed);
    if ("vin" in read) return read.vin;
    this.refuse(field, read.message);
    return "";
  }

  option(fields: OptionFields, known: QuoteOption): QuoteOption {
    const { id } = fields;
    const title = this.words(optionInput(id, "title"), fields.title, quoteBounds.title_chars);
    if (title === "") this.refuse(optionInput(id, "title"), "Enter a name for this option, like Recharge now");
    const lines = fields.lines.filter((line) => !isBlank(line)).map((line) => this.#line(id, line));
    if (lines.length > quoteBounds.lines) this.refuse(`add-line-${id}`, `Keep an option to ${quoteBounds.lines} lines`);
    const option: QuoteOption = {
      ...known,
      title,
      words: this.words(optionInput(id, "words"), fields.words, quoteBounds.words_chars),
      not_covered: this.words(optionInput(id, "not_covered"), fields.not_covered, quoteBounds.words_chars),
      lines,
      replaces: [...fields.replaces],
      excludes: [...fields.excludes],
      discount: null,
    };
    const subtotal_minor = this.#subtotal(option);
    return { ...option, discount: this.#discount(optionInput(id, "discount"), fields.discount, subtotal_minor) };
  }

  /** What its lines come to; a credit may not be more than the rest that bears the same tax. */
  #subtotal(option: QuoteOption): number {
    try {
      return optionTotal(option, NO_TAXES, this.#currency).subtotal_minor;
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      this.refuse(`add-line-${option.id}`, "A credit is more than the lines with the same tax come to");
      return 0;
    }
  }

  #line(option: string, fields: LineFields): QuoteLine {
    const { n } = fields;
    const at = (part: Exclude<keyof LineFields, "n">) => lineInput(option, n, part);
    const text = this.words(at("text"), fields.text, quoteBounds.line_chars);
    if (text === "") this.refuse(at("text"), "Enter what the line is for");
    const line: QuoteLine = {
      kind: oneOf(LINE_KINDS, fields.kind) ?? "service",
      text,
      quantity_milli: this.#number(
        at("quantity"),
        parseQuantity(isEmpty(fields.quantity) ? "1" : fields.quantity, this.#format),
        quoteBounds.quantity_milli,
        "Enter the quantity, like 1.5",
      ),
      unit: this.words(at("unit"), fields.unit, quoteBounds.unit_chars),
      unit_price_micro: this.#number(
        at("price"),
        parseUnitPrice(fields.price, this.#currency, this.#format),
        bookBounds.price_micro.max,
        "Enter the price of one, like 120.50; 0 when it costs nothing",
      ),
      discount: null,
      tax_class: oneOf(TAX_CLASSES, fields.tax_class) ?? "none",
    };
    if ((line.quantity_milli / 1e3) * (line.unit_price_micro / 1e6) > quoteBounds.line_most) {
      this.refuse(at("quantity"), "That is too much for one line. Check quantity and price");
      return { ...line, quantity_milli: 0 };
    }
    if (line.kind === "credit") {
      if (!isEmpty(fields.discount)) this.refuse(at("discount"), "A credit has no discount");
      return line;
    }
    const { gross_minor } = lineTotal(line, this.#currency);
    return { ...line, discount: this.#discount(at("discount"), fields.discount, gross_minor) };
  }

  /** `10 %` or an amount, at most all of `of_minor`. */
  #discount(field: string, text: string, of_minor: number): Discount | null {
    if (isEmpty(text)) return null;
    const message = this.#like("Enter a discount, like 10 % or 25.00, at most all of it");
    if (/%\s*$/.test(text)) {
      const rate = parsePercent(text, this.#format);
      if (rate.ok && rate.scaled <= bookBounds.rate_ppm.max) return { kind: "percent", rate_ppm: rate.scaled };
    } else {
      const amount = parseAmount(text, this.#currency, this.#format);
      if (amount.ok && amount.scaled <= of_minor) return { kind: "amount", amount_minor: amount.scaled };
    }
    this.refuse(field, message);
    return null;
  }

  #number(field: string, parsed: ParsedDecimal, most: number, message: string): number {
    if (parsed.ok && parsed.scaled <= most) return parsed.scaled;
    this.refuse(field, !parsed.ok && parsed.code === "decimals" ? parsed.message : this.#like(message));
    return 0;
  }

  /** A message whose examples use the workspace's number format. */
  #like(message: string): string {
    return message.replace(/(?<=\d)\.(?=\d)/g, decimalSign(this.#format));
  }
}

const NO_TAXES = { parts: { name: "", rate_ppm: 0 }, labor: { name: "", rate_ppm: 0 } };

/** Empty lines are dropped. */
function isBlank({ text, quantity, price }: LineFields): boolean {
  return isEmpty(text) && isEmpty(price) && (isEmpty(quantity) || quantity.trim() === "1");
}
