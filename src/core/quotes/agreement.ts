import type { PaymentMethod } from "./invoice.ts";

/** Paid in advance, in the smallest unit of the quote's currency. */
export interface Deposit {
  amount_minor: number;
  paid_on: string;
  method: PaymentMethod;
}

/** What shop and customer agree on besides the option. */
export interface Agreement {
  /** The promised day; null where none was promised. */
  ready_by: string | null;
  /** What extra work may come to, with tax, before the customer is asked again; 0: before any. */
  extra_minor: number;
  deposit: Deposit | null;
}

/** As it was written down: when (an instant) and by whom. The last one of a quote holds. */
export interface WrittenAgreement extends Agreement {
  at: string;
  by: string;
}

export const NOTHING_AGREED: Agreement = { ready_by: null, extra_minor: 0, deposit: null };

/** What holds of all that was written down; `NOTHING_AGREED` where nothing was. */
export function agreementOf(written: readonly WrittenAgreement[] | null): Agreement {
  const last = written?.at(-1);
  if (last === undefined) return NOTHING_AGREED;
  const { ready_by, extra_minor, deposit } = last;
  return { ready_by, extra_minor, deposit };
}

/** Whether two say the same. */
export function sameAgreement(one: Agreement, other: Agreement): boolean {
  return JSON.stringify(partsOf(one)) === JSON.stringify(partsOf(other));
}

function partsOf({ ready_by, extra_minor, deposit }: Agreement) {
  return [ready_by, extra_minor, deposit?.amount_minor, deposit?.paid_on, deposit?.method];
}
