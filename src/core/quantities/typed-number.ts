/**
 * Numbers as people type them. What is shared by the parsers of amounts, readings and dates: they never throw on text,
 * they answer `{ ok: false, message }`, and the message says what would be right.
 */

export interface Unreadable {
  ok: false;
  message: string;
}

export function unreadable(message: string): Unreadable {
  return { ok: false, message };
}

/** Longer than anything a person types into such a field. */
export const LONGEST_TEXT = 100;

const VULGAR_FRACTIONS: Readonly<Record<string, string>> = {
  "½": "1/2",
  "⅓": "1/3",
  "⅔": "2/3",
  "¼": "1/4",
  "¾": "3/4",
  "⅛": "1/8",
  "⅜": "3/8",
  "⅝": "5/8",
  "⅞": "7/8",
};

/** Lower case, one kind of space, minus, slash and fraction; null when it is too long to be meant. */
export function plainText(text: string): string | null {
  if (text.length > LONGEST_TEXT) return null;
  return text
    .toLowerCase()
    .replace(/[½⅓⅔¼¾⅛⅜⅝⅞]/g, (sign) => ` ${VULGAR_FRACTIONS[sign]} `)
    .replace(/[−–]/g, "-")
    .replace(/⁄/g, "/")
    .replace(/\s+/g, " ")
    .trim();
}

/**
 * A number with a decimal point or comma; null when `token` is none. `1,250` is refused as `thousands`: it is 1250 to
 * one reader and 1.25 to another, and nobody would notice the mistake.
 */
export function typedNumber(token: string): number | "thousands" | null {
  if (/^[1-9]\d{0,2}(,\d{3})+(\.\d+)?$/.test(token)) return "thousands";
  if (!/^(\d+([.,]\d*)?|[.,]\d+)$/.test(token)) return null;
  return Number(token.replace(",", "."));
}

/**
 * Whether an amount was said to be unknown: `?`, `don't know`, `not sure`, … Says no for what is too long to be meant.
 */
export function isUnknown(typed: string): boolean {
  return (
    typed.length <= LONGEST_TEXT &&
    /^(\?+|(i )?(don'?t|do not) know|no idea|unknown|not known|not sure|unsure)[.!]?$/i.test(
      typed.trim().replaceAll("\u2019", "'"),
    )
  );
}
