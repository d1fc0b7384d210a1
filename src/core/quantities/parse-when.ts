import { requestBounds } from "../../../data/parameters.ts";
import {
  calendarFromDay,
  dayByFormat,
  dayFromCalendar,
  dayNumber,
  daysInMonth,
  formatDate,
  formatMonth,
  formatShortDate,
  isoFromDay,
  monthsAfter,
} from "./dates.ts";
import { monthFromWord, parseDate } from "./parse-date.ts";
import { plainText, type Unreadable, unreadable } from "./typed-number.ts";

/**
 * When something was, as people remember it: a day, a month, a season, a year, or some time ago. The result keeps how
 * vague it is, as the first and the last day that may be meant.
 */

/**
 * `iso` is the best single day, `earliest` and `latest` the first and last that are meant; `said` is how it was read.
 */
export interface When {
  ok: true;
  iso: string;
  earliest: string;
  latest: string;
  said: string;
}
export type ParsedWhen = When | Unreadable;

/** How many days earlier or later than its best day it may have been; 0 for a day. */
export function withinDays({ iso, earliest, latest }: Pick<When, "iso" | "earliest" | "latest">): number {
  return Math.max(dayNumber(iso) - dayNumber(earliest), dayNumber(latest) - dayNumber(iso));
}

export const DATE_ORDERS = ["day-first", "month-first"] as const;
export type DateOrder = (typeof DATE_ORDERS)[number];

export interface WhenContext {
  /** The day of the question, an ISO date: nothing is later, and "ago" counts from it. */
  as_of: string;
  /** How 6/5/2024 is read where the person is; null: it is asked. */
  order?: DateOrder | null;
  /** Whether summer is December to February there. */
  southern?: boolean;
}

const EXAMPLE = "Enter when it was, like 14 Jun 2024, June 2024, summer 2024 or 2 years ago";

/** A span of days as it was said. */
interface Span {
  first: number;
  last: number;
  said: string;
  /** The best day, where it is not the middle. */
  best?: number;
}

const VAGUELY =
  /^(about|around|approximately|approx\.?|circa|ca\.?|roughly|maybe|probably|sometime in|some time in|~) ?/;
const PART = /^(early|beginning of|start of|mid|middle of|late|end of)(?: in)?[ -]/;
const PARTS: Readonly<Record<string, 0 | 1 | 2>> = {
  early: 0,
  "beginning of": 0,
  "start of": 0,
  mid: 1,
  "middle of": 1,
  late: 2,
  "end of": 2,
};
const PART_WORDS = ["early ", "mid-", "late "] as const;
const GIVE_OR_TAKE = /^(.*\S) ?(?:±|\+\/-|give or take) ?(\d{1,3}) days?$/;
/** Days by which a day said to be about right may be off. */
const ABOUT_DAYS = 7;
/** Days by which the middle of a month said to be about right may be off further. */
const ABOUT_MONTH_DAYS = 15;

/**
 * Reads `today`, `14 Jun 2024`, `6/15/24`, `June '24`, `6/2024`, `early June 2024`, `about June 2024`, `summer 2024`,
 * `last summer`, `last June`, `2024`, `2 years ago`, `16 Jul 2024 ± 46 days`. Never throws on text; throws RangeError
 * when `as_of` is not a date.
 *
 * @example
 * parseWhen("summer 2024", { as_of: "2026-05-01" })
 * // { ok: true, iso: "2024-07-16", earliest: "2024-06-01", latest: "2024-08-31", said: "summer 2024, about July" }
 */
export function parseWhen(text: string, context: WhenContext): ParsedWhen {
  const today = dayNumber(context.as_of);
  const plain = plainText(text)?.replace(/[’‘`]/g, "'").replace(/,/g, " ").replace(/ +/g, " ");
  if (plain === undefined || plain === "") return unreadable(EXAMPLE);
  const give = GIVE_OR_TAKE.exec(plain);
  if (give !== null) return readGiveOrTake(give[1]!, Number(give[2]), context);
  const about = VAGUELY.test(plain);
  const bare = plain.replace(VAGUELY, "").replace(/^(in|on|the) /, "");
  const ambiguous = ambiguity(bare);
  if (ambiguous !== null) return unreadable(ambiguous);
  const day = readDay(bare, text, context);
  if (day !== null && !day.ok) return day;
  if (day !== null && !day.approximate) return settled(aroundDay(dayNumber(day.iso), about), today);
  const span = readMonth(bare, about) ?? readSeason(bare, context, today) ?? readYear(bare, today);
  if (span !== null) return typeof span === "string" ? unreadable(span) : settled(span, today);
  const ago = readAgo(bare, context.as_of);
  return ago === null ? unreadable(EXAMPLE) : settled(ago, today);
}

/** A day, and how many more or fewer it may be. */
function readGiveOrTake(day: string, days: number, context: WhenContext): ParsedWhen {
  const when = parseWhen(day, context);
  if (!when.ok) return when;
  if (when.earliest !== when.latest || days > requestBounds.log.most_within_days) return unreadable(EXAMPLE);
  const best = dayNumber(when.iso);
  const said = `${when.said}, give or take ${days === 1 ? "a day" : `${days} days`}`;
  return settled({ first: best - days, last: best + days, said, best }, dayNumber(context.as_of));
}

/** The best day is the middle of what has been of the span. */
function settled({ first, last, said, best }: Span, today: number): ParsedWhen {
  if (first > today)
    return unreadable(`That date is in the future. Enter ${formatShortDate(isoFromDay(today))} or earlier`);
  const latest = Math.min(last, today);
  const middle = Math.min(best ?? Math.floor((first + latest) / 2), latest);
  return { ok: true, iso: isoFromDay(middle), earliest: isoFromDay(first), latest: isoFromDay(latest), said };
}

function aroundDay(day: number, about: boolean): Span {
  const words = formatDate(isoFromDay(day));
  if (!about) return { first: day, last: day, said: words };
  return { first: day - ABOUT_DAYS, last: day + ABOUT_DAYS, said: `about ${words}` };
}

/** What two readers would read two ways, and what to write instead; null where there is one way. */
function ambiguity(bare: string): string | null {
  const parts = /^([a-z]+)\.? (\d{2})$/.exec(bare);
  const month = parts === null ? null : monthFromWord(parts[1]!);
  if (parts === null || month === null) return null;
  const full = formatMonth(isoFromDay(dayFromCalendar({ year: 2000 + Number(parts[2]), month, day: 1 })));
  return `That can be a day or a year. Write ${full}, or the day with its year`;
}

/** A day of the calendar; null where none was meant. */
function readDay(bare: string, typed: string, { as_of, order }: WhenContext): ReturnType<typeof parseDate> | null {
  const figures = /^(\d{1,2}) ?([./-]) ?(\d{1,2}) ?\2 ?(\d{4}|'?\d{2})$/.exec(bare);
  if (figures !== null) {
    const [first, second] = [figures[1], figures[3]];
    const year = fullYear(figures[4]!, as_of);
    const text = `${first}/${second}/${year}`;
    // A date that makes sense in one order only is read in that order, whatever the order of the place.
    const in_order = order ? dayByFormat(text, FORMATS[order]) : null;
    return parseDate(in_order === null ? text : isoFromDay(in_order), as_of);
  }
  // 14 Jun '24, Jun 14 '24
  const in_full = bare.replace(/'(\d{2})$/, (_, year: string) => String(fullYear(year, as_of)));
  const short = /^(\d{1,2}) ?[- ]?([a-z]{3,9})\.? ?[- ]?(\d{2})$/.exec(in_full);
  if (short !== null && monthFromWord(short[2]!) !== null)
    return parseDate(`${short[1]} ${short[2]} ${fullYear(short[3]!, as_of)}`, as_of);
  const day = parseDate(in_full, as_of);
  if (day.ok) return day;
  return /^(\d{4}-\d{1,2}-\d{1,2}|\d{1,2}(st|nd|rd|th)?[ .-].*[a-z]{3}.*\d{4}|[a-z]{3,9}\.? \d{1,2}(st|nd|rd|th)? \d{4})$/.test(
    in_full,
  )
    ? parseDate(typed, as_of)
    : null;
}

/** The order of the place first, then the other. */
const FORMATS: Readonly<Record<DateOrder, readonly string[]>> = {
  "day-first": ["d/M/uuuu", "M/d/uuuu"],
  "month-first": ["M/d/uuuu", "d/M/uuuu"],
};

/** Two figures: the latest such year that is not past the one of `as_of`. */
export function fullYear(figures: string, as_of: string): number {
  const two = Number(figures.replace("'", ""));
  if (figures.replace("'", "").length === 4) return two;
  const year = Number(as_of.slice(0, 4));
  const century = year - (year % 100);
  return century + two > year ? century - 100 + two : century + two;
}

function monthSpan(year: number, month: number): { first: number; last: number } {
  const first = dayFromCalendar({ year, month, day: 1 });
  return { first, last: first + daysInMonth(year, month) - 1 };
}

/** `June 2024`, `June '24`, `2024-06`, `6/2024`, with early, mid or late before it. */
function readMonth(bare: string, about: boolean): Span | null {
  const part = PART.exec(bare);
  const rest = part === null ? bare : bare.slice(part[0].length);
  const found = monthAndYear(rest);
  if (found === null) return null;
  const { first, last } = monthSpan(found.year, found.month);
  const month = formatMonth(isoFromDay(first));
  if (part !== null) {
    const third = PARTS[part[1]!]!;
    const from = first + 10 * third;
    return { first: from, last: third === 2 ? last : from + 9, said: `${PART_WORDS[third]}${month}` };
  }
  if (about) return { first: first - ABOUT_MONTH_DAYS, last: last + ABOUT_MONTH_DAYS, said: `around ${month}` };
  return plainMonth({ first, last });
}

/** A month with nothing more said of it: its 15th, as everywhere. */
function plainMonth({ first, last }: { first: number; last: number }): Span {
  return { first, last, best: first + 14, said: `about mid-${formatMonth(isoFromDay(first))}` };
}

function monthAndYear(text: string): { year: number; month: number } | null {
  const first = dayByFormat(text.replace(/ ?[/.-] ?/, "/"), ["M/uuuu", "uuuu/M"]);
  if (first !== null && /\d{4}/.test(text)) return calendarFromDay(first);
  const words = /^([a-z]{3,9})\.? ?(\d{4}|'\d{2})$/.exec(text) ?? /^(\d{4}) ([a-z]{3,9})\.?$/.exec(text);
  if (words === null) return null;
  const [word, year] = /^\d/.test(words[1]!) ? [words[2]!, words[1]!] : [words[1]!, words[2]!];
  const month = monthFromWord(word);
  // Two digits behind an apostrophe are a year of this century.
  return month === null ? null : { month, year: year.startsWith("'") ? 2000 + Number(year.slice(1)) : Number(year) };
}

type Season = "spring" | "summer" | "fall" | "winter";
/** First months of the meteorological seasons in the north, each three months long. */
const SEASON_STARTS: Readonly<Record<Season, number>> = { spring: 3, summer: 6, fall: 9, winter: 12 };

function seasonSpan(season: Season, year: number, southern: boolean): { first: number; last: number } {
  const month = southern ? ((SEASON_STARTS[season] + 5) % 12) + 1 : SEASON_STARTS[season];
  const first = isoFromDay(dayFromCalendar({ year, month, day: 1 }));
  return { first: dayNumber(first), last: dayNumber(monthsAfter(first, 3)) - 1 };
}

/**
 * `summer 2024`, `last summer`, `this spring`, `winter 2023/24`, with early, mid or late before a season; a text:
 * asked.
 */
function readSeason(bare: string, { southern = false }: WhenContext, today: number): Span | string | null {
  const part = PART.exec(bare);
  const rest = part === null ? bare : bare.slice(part[0].length);
  const words =
    /^(?:(last|this) )?(spring|summer|fall|autumn|winter)(?: (?:of )?(\d{4}|'\d{2})(?: ?[/-] ?(\d{2}|\d{4}))?)?$/.exec(
      rest,
    );
  if (words === null) return null;
  const season = (words[2] === "autumn" ? "fall" : words[2]) as Season;
  const [, which, , typed_year, second_year] = words;
  const over_new_year = southern ? season === "summer" : season === "winter";
  let span: { first: number; last: number } | undefined;
  let name = `${season} ${typed_year ?? ""}`;
  if (typed_year !== undefined) {
    const year = typed_year.startsWith("'") ? 2000 + Number(typed_year.slice(1)) : Number(typed_year);
    if (over_new_year !== (second_year !== undefined)) {
      if (!over_new_year) return EXAMPLE;
      return `${season} ${year} can be its beginning or its end. Write January ${year} or December ${year}`;
    }
    if (second_year !== undefined && Number(second_year) % 100 !== (year + 1) % 100) return EXAMPLE;
    span = seasonSpan(season, year, southern);
    name = second_year === undefined ? `${season} ${year}` : `${season} ${year}–${String(year + 1).slice(2)}`;
  } else {
    if (which === undefined) return `Add the year, like ${season} 2024 or last ${season}`;
    const year = Number(isoFromDay(today).slice(0, 4));
    const spans = [year, year - 1, year - 2].map((one) => seasonSpan(season, one, southern));
    const in_it = spans.find(({ first, last }) => first <= today && today <= last);
    span = which === "last" ? spans.find(({ last }) => last < today) : (in_it ?? spans[0]);
    if (span === undefined) return EXAMPLE;
    name = `${season} ${isoFromDay(span.first).slice(0, 4)}`;
  }
  return inPart(span, part, name);
}

/** A span, or the third of it that was said, with its name and its middle month. */
function inPart({ first, last }: { first: number; last: number }, part: RegExpExecArray | null, name: string): Span {
  if (part === null) {
    const [month] = formatMonth(isoFromDay(Math.floor((first + last) / 2))).split(" ");
    return { first, last, said: `${name}, about ${month}` };
  }
  const third = PARTS[part[1]!]!;
  const cut = (i: number) => first + Math.round((i * (last + 1 - first)) / 3);
  return { first: cut(third), last: cut(third + 1) - 1, said: `${PART_WORDS[third]}${name}` };
}

/** `2024`, `early 2024`, `last year`, `last June`, `last month`. */
function readYear(bare: string, today: number): Span | null {
  const part = PART.exec(bare);
  const rest = part === null ? bare : bare.slice(part[0].length);
  const this_year = Number(isoFromDay(today).slice(0, 4));
  const year = /^\d{4}$/.test(rest)
    ? Number(rest)
    : rest === "last year"
      ? this_year - 1
      : rest === "this year"
        ? this_year
        : null;
  if (year !== null) {
    const first = dayFromCalendar({ year, month: 1, day: 1 });
    const last = Math.min(dayFromCalendar({ year, month: 12, day: 31 }), Math.max(first, today));
    return inPart({ first, last }, part, String(year));
  }
  const month = monthFromWord(/^last ([a-z]{3,9})$/.exec(rest)?.[1] ?? "");
  if (month === null) return null;
  const span = [this_year, this_year - 1].map((one) => monthSpan(one, month)).find(({ last }) => last < today);
  return span === undefined ? null : plainMonth(span);
}

const COUNT_WORDS = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
/** How far off a count of units may be, in days: half a unit, a quarter of a year. */
const AGO_DAYS = { day: 0, week: 4, month: 15, year: 91 } as const;
type AgoUnit = keyof typeof AGO_DAYS;

/** `2 years ago`, `a year and a half ago`, `1.5 years ago`, `last month`, `last week`. */
function readAgo(bare: string, as_of: string): Span | null {
  const text = bare.replace(/^last (week|month)$/, "1 $1 ago");
  const words =
    /^(\d{1,3}(?:[.,]\d)?|an?(?: couple(?: of)?)?|[a-z]+)( 1\/2| and a half)? (day|week|month|year)s?( and a half)? ago$/.exec(
      text,
    );
  if (words === null) return null;
  const count = countOf(words[1]!);
  if (count === null) return null;
  const whole = count + (words[2] === undefined && words[4] === undefined ? 0 : 0.5);
  const unit = words[3] as AgoUnit;
  const day = dayAgo(as_of, whole, unit);
  if (day === null) return null;
  const spread = AGO_DAYS[unit];
  const iso = isoFromDay(day);
  const said =
    spread === 0 ? formatDate(iso) : unit === "week" ? `about ${formatDate(iso)}` : `about ${formatMonth(iso)}`;
  return { first: day - spread, last: day + spread, said };
}

function countOf(word: string): number | null {
  if (/^\d/.test(word)) return Number(word.replace(",", "."));
  if (word === "a" || word === "an") return 1;
  if (/^a couple/.test(word)) return 2;
  const at = COUNT_WORDS.indexOf(word);
  return at < 0 ? null : at + 1;
}

/** Longer ago than any vehicle's air conditioner. */
const MOST_MONTHS_AGO = 1200;

function dayAgo(as_of: string, count: number, unit: AgoUnit): number | null {
  if (unit === "day") return dayNumber(as_of) - Math.round(count);
  if (unit === "week") return dayNumber(as_of) - Math.round(7 * count);
  const months = unit === "year" ? 12 * count : count;
  return months > MOST_MONTHS_AGO ? null : dayNumber(monthsAfter(as_of, -months));
}
