/** What the general prices of `parameters.ts` are in. */
export const GENERAL_CURRENCY = "USD";

/** Currencies to choose from, by ISO 4217 code. Their names and signs are Intl's. */
export const CURRENCIES: readonly string[] = [
  "AUD",
  "BRL",
  "CAD",
  "CHF",
  "EUR",
  "GBP",
  "INR",
  "JOD",
  "JPY",
  "KWD",
  "MXN",
  "NZD",
  "USD",
  "ZAR",
];

/**
 * Decimal digits of the smallest unit where they are not 2 (ISO 4217, column "minor unit"). Amounts are stored in that
 * unit, so what it is must not follow the runtime's own table, which may change.
 */
export const MINOR_DIGITS: Readonly<Record<string, number>> = { JOD: 3, JPY: 0, KWD: 3 };

/** Signs that people write for a currency and that Intl does not have in English. */
export const WRITTEN_SIGNS: Readonly<Record<string, readonly string[]>> = {
  CAD: ["C$"],
  CHF: ["Fr."],
  JOD: ["JD"],
  KWD: ["KD"],
};
