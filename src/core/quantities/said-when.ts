import { calendarFromDay, dayNumber, formatDate, formatMonth, formatShortDate, isoFromDay } from "./dates.ts";
import { parseWhen, withinDays } from "./parse-when.ts";

/**
 * A date that is known to within some days, as people say it, so that `parseWhen` reads the same again: `June 2024`,
 * `summer 2024`, `2024`; where no such words fit, the month or year that it was about. `within_days` null or 0: the
 * day.
 *
 * @example
 * saidWhen("2024-07-16", 46) // "summer 2024"
 */
export function saidWhen(iso: string, within_days: number | null): string {
  if (within_days === null || within_days === 0) return formatDate(iso);
  const words = wordsOf(iso, within_days);
  if (words !== null) return words;
  if (within_days <= DAYS_OF_ABOUT_A_DAY) return `about ${formatDate(iso)}`;
  return `about ${within_days <= DAYS_OF_ABOUT_A_MONTH ? formatMonth(iso) : iso.slice(0, 4)}`;
}

/** The same for a field: what does not go into words is a day `± 62 days`. */
export function typedWhen(iso: string, within_days: number | null): string {
  if (within_days === null || within_days === 0) return formatDate(iso);
  return wordsOf(iso, within_days) ?? `${formatShortDate(iso)} ± ${within_days} days`;
}

/** Up to this many days “about” the day is said; up to the second number, “about” the month. */
const DAYS_OF_ABOUT_A_DAY = 10;
const DAYS_OF_ABOUT_A_MONTH = 120;
/** Days after a date at which it is read back: late enough that no span of it lies in the future. */
const DAYS_LATER = 800;
const SEASONS = ["winter", "spring", "summer", "fall"] as const;

function wordsOf(iso: string, within_days: number): string | null {
  const context = { as_of: isoFromDay(dayNumber(iso) + DAYS_LATER) };
  const fits = (text: string) => {
    const when = parseWhen(text, context);
    return when.ok && when.iso === iso && withinDays(when) === within_days;
  };
  return candidates(iso).find(fits) ?? null;
}

function candidates(iso: string): string[] {
  const { year, month } = calendarFromDay(dayNumber(iso));
  const of_month = formatMonth(iso);
  const season = SEASONS[Math.floor((month % 12) / 3)]!;
  const began = month < 3 ? year - 1 : year;
  const of_season = season === "winter" ? `winter ${began}/${String(began + 1).slice(2)}` : `${season} ${year}`;
  const spans = [of_month, of_season, String(year)];
  return [
    ...spans,
    ...["early", "mid", "late"].flatMap((part) => spans.map((span) => `${part} ${span}`)),
    `around ${of_month}`,
    `about ${formatDate(iso)}`,
  ];
}
