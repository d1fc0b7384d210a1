/**
 * Numbers as people type them, and what the parsers of amounts, readings and dates share: they never throw on text but
 * give `{ ok: false, message }`, where the message says what would be right.
 */

export interface Unreadable {
  ok: false;
  message: string;
}

/** Refuses what was typed; `message` says what would be right. */
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

/** Text in lower case with one kind of space, minus, slash and fraction; null when it is longer than `LONGEST_TEXT`. */
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
 * A number with a decimal point or comma; null when `token` is none. `1,250` gives `thousands`, to be refused: it is
 * 1250 to one reader and 1.25 to another, and the mistake would go unnoticed.
 */
export function typedNumber(token: string): number | "thousands" | null {
  if (/^[1-9]\d{0,2}(,\d{3})+(\.\d+)?$/.test(token)) return "thousands";
  if (!/^(\d+([.,]\d*)?|[.,]\d+)$/.test(token)) return null;
  return Number(token.replace(",", "."));
}

/** Whether the text says that an amount is not known: `?`, `don't know`, `not sure`, … */
export function isUnknown(typed: string): boolean {
  return (
    typed.length <= LONGEST_TEXT &&
    /^(\?+|(i )?(don'?t|do not) know|no idea|unknown|not known|not sure|unsure)[.!]?$/i.test(
      typed.trim().replaceAll("\u2019", "'"),
    )
  );
}
