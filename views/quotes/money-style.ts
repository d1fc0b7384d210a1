import type { NumberFormatId } from "../../data/number-formats.ts";

/** How money is written on a quote. */
export interface MoneyStyle {
  currency: string;
  number_format: NumberFormatId;
}
