import { INVOICE_STATE_NAMES, type ListedInvoice } from "../../../views/invoices/invoices-page.tsx";
import { mainUnits } from "../../core/quantities/money.ts";
import { csvOf } from "../edge/csv.ts";

/** Invoices and credit notes as CSV; credit notes count as negative. */
export function invoicesCsv(invoices: readonly ListedInvoice[]): string {
  return csvOf(
    ["kind", "number", "customer", "vehicle", "issued_on", "pay_by", "state", "total", "owing", "currency"],
    invoices.map(({ kind, prefix, number, customer, vehicle_label, issued_on, pay_by, state, ...amounts }) => {
      const total = mainUnits(amounts.total_minor, amounts.currency);
      return [
        kind,
        `${prefix}${number}`,
        customer,
        vehicle_label,
        issued_on,
        pay_by,
        state === null ? "" : INVOICE_STATE_NAMES[state],
        kind === "invoice" ? total : -total,
        mainUnits(amounts.owing_minor, amounts.currency),
        amounts.currency,
      ];
    }),
  );
}
