import type { NumberFormatId } from "../../../data/number-formats.ts";
import { formatAmount, parseAmount } from "../../core/quantities/money.ts";

/** The money that an amount is typed in. */
export interface Money {
  currency: string;
  number_format: NumberFormatId;
}

/**
 * An amount as typed, in the smallest unit: more than nothing, and at most `most_minor`, which is so much for the
 * reason in `because`. Whatever is wrong is refused under `field`.
 */
export function readAmount(
  field: string,
  typed: string,
  { most_minor, because }: { most_minor: number; because: string },
  { currency, number_format }: Money,
  refuse: (field: string, message: string) => undefined,
): number | undefined {
  const amount = parseAmount(typed, currency, number_format);
  if (!amount.ok) return refuse(field, amount.message);
  if (amount.scaled < 1) return refuse(field, "Enter more than nothing");
  if (amount.scaled <= most_minor) return amount.scaled;
  return refuse(field, `Enter at most ${formatAmount(most_minor, currency, number_format)}: ${because}`);
}
