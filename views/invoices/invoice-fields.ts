/** Whom an invoice is for, the days to pay, and what came to the order, as typed. */
export interface IssueFields {
  name: string;
  address: string;
  days: string;
  /** Where a repair of what is found was made. */
  found: string;
  extra: readonly ExtraFields[];
  /** Who said yes to more than was agreed, how and when. */
  yes_name: string;
  yes_how: string;
  yes_on: string;
}

/** A line of extra work as typed. */
export interface ExtraFields {
  text: string;
  kind: string;
  /** Empty for one amount. */
  hours: string;
  /** Of an hour, or the amount. */
  price: string;
}

/** Name and id of a field of the nth line of extra work. */
export function extraInput(n: number, part: keyof ExtraFields): string {
  return `extra-${part}-${n}`;
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
