import { PAYMENT_METHODS, type PaymentMethod } from "../../src/core/quotes/invoice.ts";

export const PAYMENT_METHOD_NAMES: Readonly<Record<PaymentMethod, string>> = {
  cash: "Cash",
  card: "Card",
  transfer: "Bank transfer",
  check: "Check",
  other: "Other",
};

/** The same to choose from. */
export const PAYMENT_METHOD_CHOICES = PAYMENT_METHODS.map((method) => ({
  value: method,
  label: PAYMENT_METHOD_NAMES[method],
}));
