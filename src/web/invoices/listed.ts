import type { ListedInvoice } from "../../../views/invoices/invoices-page.tsx";
import { invoiceState, owingOf } from "../../core/quotes/invoice.ts";
import type { InvoiceSummary } from "../../store/invoices.ts";

/** Invoices as lists show them on the day `today`. */
export function listedInvoices(invoices: readonly InvoiceSummary[], today: string): ListedInvoice[] {
  return invoices.map((invoice) => {
    const { id, kind, prefix, number, customer, vehicle_label, issued_on, pay_by, currency, total_minor } = invoice;
    const is_invoice = kind === "invoice";
    return {
      ...{ id, kind, prefix, number, customer, vehicle_label, issued_on, pay_by, currency, total_minor },
      state: is_invoice ? invoiceState(invoice, pay_by, today) : null,
      owing_minor: is_invoice ? owingOf(invoice) : 0,
    };
  });
}
