import { plainText, typedNumber, type Unreadable, unreadable } from "./typed-number.ts";
import { GRAMS_PER_UNIT, type UnitSystem } from "./units.ts";

/**
 * `cans` is there when the amount was given in cans; `least_g` and `most_g` when it was given as a range or with a
 * tolerance, and `grams` is then the middle.
 */
export type ParsedMass = { ok: true; grams: number; cans?: number; least_g?: number; most_g?: number } | Unreadable;

export interface MassContext {
  /** A bare number is ounces in `us`, grams in `metric`. */
  system: UnitSystem;
  /** What one full can holds; without it, cans are refused. */
  can_net_g?: number | null;
}

const EXAMPLE = "Enter the amount, like 12 oz or 340 g";
const ONE_AMOUNT = "Enter one amount, like 1 lb 4 oz or 340 g";
/** No vehicle comes near; a thousand times too much is a slip of the unit. */
const MOST_GRAMS = 100_000;

type Unit = "g" | "kg" | "oz" | "lb" | "can";

const UNIT_WORDS: Readonly<Record<Unit, readonly string[]>> = {
  g: ["g", "gr", "gm", "gms", "gram", "grams", "gramme", "grammes"],
  kg: ["kg", "kgs", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"],
  oz: ["oz", "ozs", "ounce", "ounces"],
  lb: ["lb", "lbs", "pound", "pounds"],
  can: ["can", "cans"],
};
const UNIT_OF_WORD = new Map(
  Object.entries(UNIT_WORDS).flatMap(([unit, words]) => words.map((word) => [word, unit as Unit] as const)),
);

const COUNTS = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
const NUMBER_OF_WORD = new Map(COUNTS.map((word, i) => [word, i + 1] as const));
const FRACTION_OF_WORD = new Map([
  ["half", 1 / 2],
  ["halves", 1 / 2],
  ["third", 1 / 3],
  ["thirds", 1 / 3],
  ["quarter", 1 / 4],
  ["quarters", 1 / 4],
]);

/**
 * Numbers, words and single signs; spaces fall away, since `340g` and `340 g` are the same. A number does not start
 * with a comma: in `1 lb,4 oz` it parts the two.
 */
function tokensOf(text: string): string[] {
  return text.match(/\.?\d[\d.,]*|[a-z]+|[^\s\da-z.]/g) ?? [];
}

class MassReader {
  private readonly tokens: readonly string[];
  private at = 0;

  constructor(tokens: readonly string[]) {
    this.tokens = tokens;
  }

  get done(): boolean {
    return this.at >= this.tokens.length;
  }

  peek(ahead = 0): string {
    return this.tokens[this.at + ahead] ?? "";
  }

  skip(count = 1): void {
    this.at += count;
  }

  accept(...words: string[]): boolean {
    if (this.done || !words.includes(this.peek())) return false;
    this.skip();
    return true;
  }
}

/**
 * An amount of refrigerant as a person types it or a label prints it: `12 oz`, `1 lb 4 oz`, `340 g`, `0,5 kg`, `2
 * cans`, `1½ cans`, `a full can`, `12 oz can`, `2 x 12 oz`, `16-18 oz`, `0.50 ± 0.025 kg`, `17.6 oz (0.5 kg)`, `about
 * 12 oz`, or a bare number in the unit of the system. Never throws on text.
 *
 * @example
 * parseMass("340 g", { system: "us" }) // { ok: true, grams: 340 }
 */
export function parseMass(text: string, context: MassContext): ParsedMass {
  const plain = plainText(text);
  if (plain === null) return unreadable(EXAMPLE);
  const amount = plain
    .replace(/^((about|approximately|approx|around|roughly|circa|ca)\b\.?|~) ?/, "")
    // 1-1/2 cans
    .replace(/^(\d+)-(?=\d+\/\d)/, "$1 ");
  if (/^- ?\d/.test(amount)) return unreadable("Enter 0 or more, like 12 oz or 340 g");
  return (
    readTolerance(amount, context) ??
    readTwice(amount, context) ??
    readRange(amount, context) ??
    readCansOf(amount, context) ??
    readOne(amount.replace(/^(an? |one )?(full|whole|entire) can$|^can$/, "a can"), context)
  );
}

/** How far two statements of one amount may be apart: labels round each for itself. */
const SAME_AMOUNT = 0.02;

/** `17.6 oz (0.5 kg)`, `0.5 kg / 17.6 oz`: one amount in two units; null for anything else. */
function readTwice(amount: string, context: MassContext): ParsedMass | null {
  const both = /^([^()]+)\(([^()]+)\)$/.exec(amount) ?? /^([^/]*[a-z][^/]*)\/([^/]*[a-z][^/]*)$/.exec(amount);
  if (both === null) return null;
  const [first, second] = [parseMass(both[1]!.trim(), context), parseMass(both[2]!.trim(), context)];
  if (!first.ok) return first;
  if (!second.ok) return second;
  if (Math.abs(first.grams - second.grams) <= SAME_AMOUNT * Math.max(first.grams, second.grams)) return first;
  return unreadable("The two amounts are not the same. Enter the one that is right, like 12 oz or 340 g");
}

const UNIT_PATTERN = "([a-z]+)\\.?";
const TOLERANCE = new RegExp(
  `^([\\d.,]+) ?(?:${UNIT_PATTERN})? ?(?:±|\\+ ?/ ?-|\\+-) ?([\\d.,]+) ?(?:${UNIT_PATTERN})?$`,
);

/** `0.50 ± 0.025 kg`: the amount with its tolerance; null for anything else. */
function readTolerance(amount: string, context: MassContext): ParsedMass | null {
  const parts = TOLERANCE.exec(amount);
  if (parts === null) return null;
  const [, value, value_unit, off, off_unit] = parts;
  const middle = readOne(`${value} ${value_unit ?? off_unit ?? ""}`, context);
  const spread = readOne(`${off} ${off_unit ?? value_unit ?? ""}`, context);
  if (!middle.ok) return middle;
  if (!spread.ok) return spread;
  if (spread.grams >= middle.grams) return unreadable(EXAMPLE);
  return { ...middle, least_g: middle.grams - spread.grams, most_g: middle.grams + spread.grams };
}

const RANGE = new RegExp(`^([\\d.,]+) ?(?:${UNIT_PATTERN})? ?(?:-|to) ?([\\d.,]+) ?(?:${UNIT_PATTERN})?$`);

/** `16-18 oz`, `12 oz to 14 oz`: the middle of a range; null for anything else. */
function readRange(amount: string, context: MassContext): ParsedMass | null {
  const parts = RANGE.exec(amount);
  if (parts === null) return null;
  const [, from, from_unit, to, to_unit] = parts;
  const least = readOne(`${from} ${from_unit ?? to_unit ?? ""}`, context);
  const most = readOne(`${to} ${to_unit ?? from_unit ?? ""}`, context);
  if (!least.ok) return least;
  if (!most.ok) return most;
  if (least.grams >= most.grams) return unreadable("Enter the smaller amount first, like 16-18 oz");
  const cans = least.cans === undefined || most.cans === undefined ? {} : { cans: (least.cans + most.cans) / 2 };
  return { ok: true, grams: (least.grams + most.grams) / 2, ...cans, least_g: least.grams, most_g: most.grams };
}

const MANY = new RegExp(`^(?:(\\d{1,2}|[a-z]+)(?: | ?(x|×|\\*) ?))?([\\d.,]+) ?-?${UNIT_PATTERN} ?(cans?)?$`);

/** `12 oz can`, `2 x 12 oz`, `two 12-oz cans`: cans of a size that is said; null for anything else. */
function readCansOf(amount: string, context: MassContext): ParsedMass | null {
  const parts = MANY.exec(amount);
  if (parts === null) return null;
  const [, many, times, size, unit, cans] = parts;
  if ((times === undefined && cans === undefined) || unit === "can" || unit === "cans") return null;
  const count =
    many === undefined ? 1 : /^\d+$/.test(many) ? Number(many) : many === "a" ? 1 : NUMBER_OF_WORD.get(many);
  const one = readOne(`${size} ${unit}`, context);
  if (count === undefined || !one.ok) return count === undefined ? null : one;
  return bounded({ ok: true, grams: count * one.grams, cans: count });
}

function readOne(amount: string, { system, can_net_g }: MassContext): ParsedMass {
  const reader = new MassReader(tokensOf(amount));
  const parts: { quantity: number; unit: Unit }[] = [];
  while (!reader.done) {
    if (parts.length > 0) reader.accept("and", "&", "+", ",");
    const part = readPart(reader, system, parts.length === 0);
    if (!("unit" in part)) return part;
    parts.push(part);
  }
  return total(parts, can_net_g ?? null);
}

function readPart(
  reader: MassReader,
  system: UnitSystem,
  first: boolean,
): { quantity: number; unit: Unit } | Unreadable {
  const in_figures = /^[\d.]/.test(reader.peek());
  const quantity = readQuantity(reader);
  if (typeof quantity !== "number") return quantity;
  if (first && in_figures && reader.done) return { quantity, unit: system === "us" ? "oz" : "g" };
  const unit = UNIT_OF_WORD.get(reader.peek());
  if (unit === undefined) return unreadable(EXAMPLE);
  reader.skip();
  // "a can and a half"
  const fraction = readAndFraction(reader);
  return { quantity: quantity + (fraction ?? 0), unit };
}

/** A number, in figures or words, with its fraction: `1.5`, `1 1/2`, `three quarters of a`, `one and a half`. */
function readQuantity(reader: MassReader): number | Unreadable {
  const fraction = readFraction(reader, 0);
  if (fraction !== null) return fraction;
  const word = reader.peek();
  if (word === "a" || word === "an" || NUMBER_OF_WORD.has(word)) {
    reader.skip();
    const count = NUMBER_OF_WORD.get(word) ?? 1;
    const part = FRACTION_OF_WORD.get(reader.peek());
    if (part === undefined) return count + (readAndFraction(reader) ?? 0);
    reader.skip();
    skipOfA(reader);
    return count * part;
  }
  const value = readFigures(reader);
  if (typeof value !== "number") return value;
  if (reader.peek() === "/") {
    reader.skip();
    return divided(value, readFigures(reader));
  }
  if (reader.peek(1) === "/") {
    const numerator = readFigures(reader);
    reader.skip();
    const part = typeof numerator === "number" ? divided(numerator, readFigures(reader)) : numerator;
    return typeof part === "number" && part < 1 && Number.isInteger(value) ? value + part : unreadable(EXAMPLE);
  }
  return value + (readAndFraction(reader) ?? 0);
}

function readFigures(reader: MassReader): number | Unreadable {
  const value = typedNumber(reader.peek().replace(/(?<=\d)[.,]$/, ""));
  if (value === null) return unreadable(EXAMPLE);
  if (value === "thousands") return unreadable("Enter the amount without a thousands sign, like 1250 g or 1.25 kg");
  reader.skip();
  return value;
}

function divided(numerator: number, denominator: number | Unreadable): number | Unreadable {
  if (typeof denominator !== "number") return denominator;
  return denominator > 0 ? numerator / denominator : unreadable(EXAMPLE);
}

/** `half`, `half a`, `quarter of a`, `ahead` tokens from here. */
function readFraction(reader: MassReader, ahead: number): number | null {
  const fraction = FRACTION_OF_WORD.get(reader.peek(ahead));
  if (fraction === undefined) return null;
  reader.skip(ahead + 1);
  skipOfA(reader);
  return fraction;
}

/** `and a half`, `and half`. */
function readAndFraction(reader: MassReader): number | null {
  if (reader.peek() !== "and") return null;
  return readFraction(reader, reader.peek(1) === "a" || reader.peek(1) === "one" ? 2 : 1);
}

function skipOfA(reader: MassReader): void {
  reader.accept("of");
  reader.accept("a", "an", "one", "the");
}

function total(parts: readonly { quantity: number; unit: Unit }[], can_net_g: number | null): ParsedMass {
  const [first, second] = parts;
  if (first === undefined) return unreadable(EXAMPLE);
  if (parts.length > 2) return unreadable(ONE_AMOUNT);
  if (first.unit === "can") {
    if (second !== undefined) return unreadable(ONE_AMOUNT);
    if (can_net_g === null) return unreadable(EXAMPLE);
    return bounded({ ok: true, grams: first.quantity * can_net_g, cans: first.quantity });
  }
  let grams = first.quantity * GRAMS_PER_UNIT[first.unit];
  if (second !== undefined) {
    const pair = `${first.unit} ${second.unit}`;
    if (second.unit === "can" || (pair !== "lb oz" && pair !== "kg g")) return unreadable(ONE_AMOUNT);
    grams += second.quantity * GRAMS_PER_UNIT[second.unit];
  }
  return bounded({ ok: true, grams });
}

function bounded(mass: { ok: true; grams: number; cans?: number }): ParsedMass {
  if (mass.grams <= MOST_GRAMS) return mass;
  return unreadable("That is more than a vehicle can hold. Enter the amount, like 12 oz or 340 g");
}
