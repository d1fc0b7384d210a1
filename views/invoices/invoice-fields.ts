/** Whom an invoice is for, and the days to pay, as typed. */
export interface IssueFields {
  name: string;
  address: string;
  days: string;
}

/** A payment as typed. */
export interface PaymentFields {
  amount: string;
  paid_on: string;
  method: string;
  payment_note: string;
}

/** An amount to give back, as typed, and why. */
export interface CreditFields {
  credit: string;
  reason: string;
}
