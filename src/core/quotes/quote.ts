import { apportioned, partOf, priceOf, sumOf } from "../quantities/money.ts";
import type { LocationId } from "../question/contract.ts";

/**
 * A quote: options to choose one from, each with lines that add up to a price. What is quoted is exact (`money.ts`);
 * what the years ahead may cost is the model's estimate and stands beside it (`quote-outlook.ts`).
 */

/** A credit is taken off: what was paid before, like a diagnosis. */
export const LINE_KINDS = ["labor", "parts", "refrigerant", "service", "test", "supplies", "credit"] as const;
export type LineKind = (typeof LINE_KINDS)[number];

/** Which of the two taxes a line bears; `none` for what is exempt. */
export const TAX_CLASSES = ["parts", "labor", "none"] as const;
export type TaxClass = (typeof TAX_CLASSES)[number];

/** A part of what it is taken from, or a fixed amount, at most all of it. */
export type Discount = { kind: "percent"; rate_ppm: number } | { kind: "amount"; amount_minor: number };

/** What forms and files accept; characters are code points. */
export const quoteBounds = {
  options: 8,
  lines: 30,
  customer_chars: 120,
  vehicle_chars: 120,
  plate_chars: 20,
  odometer_chars: 40,
  title_chars: 120,
  words_chars: 600,
  note_chars: 1200,
  line_chars: 120,
  unit_chars: 12,
  /** A hundred thousand pieces, or hours. */
  quantity_milli: 100_000_000,
  /** In the main unit. Sums of such lines stay exact. */
  line_most: 100_000_000,
} as const;

export interface QuoteLine {
  kind: LineKind;
  text: string;
  quantity_milli: number;
  /** Behind the quantity: `h`, `g`, `oz`; "" where it counts pieces. */
  unit: string;
  unit_price_micro: number;
  discount: Discount | null;
  tax_class: TaxClass;
}

/** What of the trade's work an option does today; any mix. `found`: the repair of whatever place the test finds. */
export interface OptionWork {
  recharge: boolean;
  test: "dye" | "electronic" | null;
  repair: LocationId | "found" | null;
}

export interface QuoteOption {
  /** Unique in its quote: `a`, `b`, … It opens nothing. */
  id: string;
  title: string;
  /** What it means, in the customer's words. */
  words: string;
  work: OptionWork;
  lines: QuoteLine[];
  /** Off the sum of its lines. */
  discount: Discount | null;
  /** Options whose work this one contains, so that they become unnecessary. */
  replaces: string[];
  /** Options that do not go with this one. Both sides count, whichever names the other. */
  excludes: string[];
  /** What the price does not cover; "" where nothing was said. */
  not_covered: string;
  /**
   * Of a repair of what is found: the place that the lines are for, and by place what it would have come to when
   * quoted.
   */
  found: { priced_for: LocationId; totals_minor: Record<LocationId, number> } | null;
}

export interface Tax {
  /** As it stands on the invoice: `Sales tax`, `VAT`. */
  name: string;
  rate_ppm: number;
}

export interface Taxes {
  parts: Tax;
  labor: Tax;
}

export interface LineTotal {
  /** Quantity × unit price; under 0 for a credit. */
  gross_minor: number;
  discount_minor: number;
  net_minor: number;
}

export interface TaxTotal extends Tax {
  taxable_minor: number;
  tax_minor: number;
}

export interface OptionTotal {
  /** In the order of the lines. */
  lines: LineTotal[];
  /** Sum of the lines after their own discounts. */
  subtotal_minor: number;
  discount_minor: number;
  net_minor: number;
  /** Each tax once; none of a rate of 0, nor one that no line bears. */
  taxes: TaxTotal[];
  total_minor: number;
}

/**
 * The price of an option, in the smallest unit of `currency`. Each line is rounded once; a discount on the whole is
 * shared out in proportion over what credits leave of the lines, so that each tax bears its part; each tax is taken of
 * the sum that it bears, not line by line, and rounded once. Two taxes of one name and rate are one tax. Throws
 * RangeError for a discount above what it is taken from, for a credit above what bears the same tax, and as `money.ts`
 * does.
 */
export function optionTotal(
  { lines, discount }: Pick<QuoteOption, "lines" | "discount">,
  taxes: Taxes,
  currency: string,
): OptionTotal {
  return orderTotal({ lines, discount, extra: [] }, taxes, currency);
}

/**
 * The same of an option with lines that came to it later: the discount was on what was quoted, so they bear none of it;
 * each tax is taken once of all that bears it. In `lines` the later ones follow the others.
 */
export function orderTotal(
  { lines, discount, extra }: Pick<QuoteOption, "lines" | "discount"> & { extra: readonly QuoteLine[] },
  taxes: Taxes,
  currency: string,
): OptionTotal {
  const all = [...lines, ...extra];
  const line_totals = all.map((line) => lineTotal(line, currency));
  const nets = line_totals.map(({ net_minor }) => net_minor);
  const quoted = nets.slice(0, lines.length);
  const discount_minor = discountOf(sumOf(quoted), discount);
  const shares = apportioned(discount_minor, withCreditsTaken(lines, quoted));
  const after_discount = nets.map((net_minor, i) => net_minor - (shares[i] ?? 0));
  const tax_totals = taxTotals(all, after_discount, taxes);
  const subtotal_minor = sumOf(nets);
  const net_minor = subtotal_minor - discount_minor;
  return {
    lines: line_totals,
    subtotal_minor,
    discount_minor,
    net_minor,
    taxes: tax_totals,
    total_minor: sumOf([net_minor, ...tax_totals.map(({ tax_minor }) => tax_minor)]),
  };
}

/** The lines with each credit taken off those that bear the same tax, in proportion; 0 for the credits themselves. */
function withCreditsTaken(lines: readonly QuoteLine[], nets: readonly number[]): number[] {
  const left = nets.map((net_minor) => Math.max(0, net_minor));
  for (const tax_class of TAX_CLASSES) {
    const bears = lines.map((line) => line.tax_class === tax_class);
    const credit_minor = 0 - sumOf(nets.filter((net_minor, i) => bears[i] && net_minor < 0));
    if (credit_minor === 0) continue;
    const weights = left.map((net_minor, i) => (bears[i] ? net_minor : 0));
    if (credit_minor > sumOf(weights)) throw new RangeError("A credit above what it is taken from");
    for (const [i, part_minor] of apportioned(credit_minor, weights).entries()) left[i]! -= part_minor;
  }
  return left;
}

/** The price of one line before tax. Throws RangeError as `optionTotal` does. */
export function lineTotal(
  { kind, quantity_milli, unit_price_micro, discount }: QuoteLine,
  currency: string,
): LineTotal {
  const price_minor = priceOf(quantity_milli, unit_price_micro, currency);
  const gross_minor = kind === "credit" ? 0 - price_minor : price_minor;
  const discount_minor = discountOf(gross_minor, discount);
  return { gross_minor, discount_minor, net_minor: gross_minor - discount_minor };
}

function discountOf(amount_minor: number, discount: Discount | null): number {
  if (discount === null) return 0;
  const off = discount.kind === "percent" ? partOf(amount_minor, discount.rate_ppm) : discount.amount_minor;
  if (off < 0 || off > amount_minor) throw new RangeError(`A discount of ${off} on ${amount_minor}`);
  return off;
}

function taxTotals(lines: readonly QuoteLine[], nets: readonly number[], taxes: Taxes): TaxTotal[] {
  const bearing = [taxes.parts, taxes.labor];
  const one_tax = taxes.parts.name === taxes.labor.name && taxes.parts.rate_ppm === taxes.labor.rate_ppm;
  const groups: [Tax, readonly TaxClass[]][] = one_tax
    ? [[taxes.parts, ["parts", "labor"]]]
    : bearing.map((tax, i) => [tax, [i === 0 ? "parts" : "labor"]]);
  return groups
    .filter(([tax]) => tax.rate_ppm > 0)
    .map(([tax, classes]) => {
      const taxable_minor = sumOf(nets.filter((_, i) => classes.includes(lines[i]!.tax_class)));
      return { ...tax, taxable_minor, tax_minor: partOf(taxable_minor, tax.rate_ppm) };
    })
    .filter(({ taxable_minor }) => taxable_minor > 0);
}

/** A relation between options that cannot be. */
export interface RelationFault {
  option: string;
  other: string;
  fault: "unknown" | "itself" | "circle" | "replaces-and-excludes";
}

/** What is wrong with how the options of a quote refer to each other; nothing, where all is well. */
export function relationFaults(options: readonly Pick<QuoteOption, "id" | "replaces" | "excludes">[]): RelationFault[] {
  const by_id = new Map(options.map((option) => [option.id, option]));
  return options.flatMap(({ id, replaces, excludes }) => [
    ...[...new Set([...replaces, ...excludes])].flatMap((other): RelationFault[] => {
      if (other === id) return [{ option: id, other, fault: "itself" }];
      return by_id.has(other) ? [] : [{ option: id, other, fault: "unknown" }];
    }),
    ...replaces.flatMap((other): RelationFault[] => {
      if (other === id) return [];
      if (allReplacedBy(other, by_id).has(id)) return [{ option: id, other, fault: "circle" }];
      return excludes.includes(other) ? [{ option: id, other, fault: "replaces-and-excludes" }] : [];
    }),
  ]);
}

/**
 * Everything that an option makes unnecessary, directly or through what it replaces.
 *
 * @internal Called from outside by tests alone.
 */
export function allReplacedBy(
  id: string,
  by_id: ReadonlyMap<string, Pick<QuoteOption, "replaces">>,
  seen: Set<string> = new Set(),
): Set<string> {
  for (const other of by_id.get(id)?.replaces ?? []) {
    if (seen.has(other)) continue;
    seen.add(other);
    allReplacedBy(other, by_id, seen);
  }
  return seen;
}

/** Options that do not go with `id`, whichever of the two says so, in the order of the quote. */
export function excludedBy(id: string, options: readonly Pick<QuoteOption, "id" | "excludes">[]): string[] {
  const own = options.find((option) => option.id === id)?.excludes ?? [];
  return options
    .filter((other) => other.id !== id && (own.includes(other.id) || other.excludes.includes(id)))
    .map((other) => other.id);
}

/** How a quote stands. `expired` is a sent one after its last day. */
export const QUOTE_STATES = ["draft", "sent", "accepted", "declined", "withdrawn", "expired"] as const;
export type QuoteState = (typeof QUOTE_STATES)[number];

/**
 * What a repair of what is found may come to today, by the place where the leak is: the quoted totals moved by whatever
 * the shop changed since. Null for an option whose price is known.
 */
export function placePriceRange(
  { found }: Pick<QuoteOption, "found">,
  total_minor: number,
): { least_minor: number; most_minor: number } | null {
  if (found === null) return null;
  const changed = total_minor - found.totals_minor[found.priced_for];
  const totals = Object.values(found.totals_minor).map((minor) => Math.max(0, minor + changed));
  return { least_minor: Math.min(...totals), most_minor: Math.max(...totals) };
}
