import { Problem } from "../core/problem.ts";
import type { Balance, InvoiceDocument } from "../core/quotes/invoice.ts";
import { insertRows } from "./bulk.ts";
import { type Columns, columnsOf, nullable, number, rowReader, text } from "./columns.ts";
import { ConstraintFailed, notFound } from "./errors.ts";
import {
  INVOICE,
  type Invoice,
  invoiceOf,
  invoiceRow,
  type Payment,
  type PaymentInput,
  paymentOf,
  paymentRow,
  SELECT_INVOICES,
  SELECT_PAYMENTS,
} from "./invoice-row.ts";
import { guard, type Repeat, type Scope, type Submission, type SubmitKey } from "./scope.ts";
import type { Param, Statement } from "./sql.ts";
import { sameContent } from "./versioned-change.ts";

/** An invoice with all that happened to it since. */
export interface InvoiceAccount {
  invoice: Invoice;
  balance: Balance;
  /** As they were recorded. */
  payments: Payment[];
  /** As they were issued. */
  credit_notes: Invoice[];
}

/** A line of a list of invoices. */
export interface InvoiceSummary extends Pick<Invoice, (typeof LISTED)[number]>, Balance {
  prefix: string;
  customer: string;
  vehicle_label: string;
  pay_by: string | null;
}

/** What is looked for among invoices and credit notes. */
export interface InvoiceSearch {
  /** A number, or part of a customer, a vehicle's name, its plate or its VIN; "" for all. */
  text: string;
  /** Only those on which something is owing, or to be paid back. */
  open: boolean;
  /** Only those issued before this one, an id: the next page. */
  before: string | null;
  limit: number;
}

/** What a new invoice or credit note is made from. */
interface Issue {
  document: InvoiceDocument;
  /** Of the series, where it is its first. */
  first_number: number;
  before: readonly Statement[];
  /** What was sent in besides the document. */
  sent: readonly unknown[];
}

/** Columns of an invoice that lists show as stored. */
const LISTED = [
  "id",
  "kind",
  "number",
  "quote_id",
  "vehicle_id",
  "currency",
  "total_minor",
  "issued_on",
  "issued_at",
] as const;

const BALANCE: Columns<Balance> = { total_minor: number, credited_minor: number, paid_minor: number };

const balanceOf = rowReader(BALANCE);
const summaryOf = rowReader<InvoiceSummary>({
  ...columnsOf(INVOICE, LISTED),
  ...BALANCE,
  prefix: text,
  customer: text,
  vehicle_label: text,
  pay_by: nullable(text),
});

const CREDITED = `(SELECT coalesce(sum(n.total_minor), 0) FROM invoices AS n
  WHERE n.workspace_id = i.workspace_id AND n.credits = i.id)`;
const PAID = `(SELECT coalesce(sum(p.amount_minor), 0) FROM payments AS p
  WHERE p.workspace_id = i.workspace_id AND p.invoice_id = i.id)`;
/** The balance of an invoice `i`; negative when it is to be refunded. */
const OWING = `(i.total_minor - ${CREDITED} - ${PAID})`;

const SELECT_SUMMARIES = `SELECT ${LISTED.map((name) => `i.${name}`).join(", ")}, ${CREDITED} AS credited_minor, ${PAID} AS paid_minor, i.document ->> '$.prefix' AS prefix,
  i.document ->> '$.customer.name' AS customer, i.document ->> '$.pay_by' AS pay_by, v.label AS vehicle_label
  FROM invoices AS i JOIN vehicles AS v ON v.workspace_id = i.workspace_id AND v.id = i.vehicle_id`;

/** The deposit on quote `?`, and what invoices have of it; amounts taken back count against it. */
const DEPOSIT = `(SELECT q.agreed ->> '$[#-1].deposit.amount_minor' AS amount_minor, q.agreed ->> '$[#-1].deposit.paid_on' AS paid_on,
  q.agreed ->> '$[#-1].deposit.method' AS method,
  (SELECT coalesce(sum(p.amount_minor), 0) FROM payments AS p
    JOIN invoices AS i ON i.workspace_id = p.workspace_id AND i.id = p.invoice_id
    WHERE p.workspace_id = q.workspace_id AND i.quote_id = q.id AND p.deposit = 1) AS used
  FROM quotes AS q WHERE q.workspace_id = :workspace AND q.id = ?)`;

const SEARCHED = [
  "i.document ->> '$.customer.name'",
  "v.label",
  "i.document ->> '$.vehicle.shown.words'",
  "i.document ->> '$.vehicle.shown.plate'",
  "i.document ->> '$.vehicle.shown.vin'",
] as const;

/**
 * The invoices, credit notes and payments of a workspace. None of them is ever changed or deleted; a mistake is
 * reversed by a further row. The database assigns the numbers, so that none is used twice or left out. All methods
 * throw `Problem` not-found for an id that is not in this workspace.
 */
export class Invoices {
  readonly #scope: Scope;

  constructor(scope: Scope) {
    this.#scope = scope;
  }

  /** The invoices and credit notes that a search finds, newest first. */
  search({ text, open, before, limit }: InvoiceSearch): Promise<InvoiceSummary[]> {
    const conditions = ["i.workspace_id = :workspace"];
    const params: Param[] = [];
    if (text !== "") {
      conditions.push(
        `(CAST(i.number AS TEXT) = ? OR i.document ->> '$.prefix' || i.number = ?
          OR ${SEARCHED.map((part) => `instr(lower(${part}), lower(?)) > 0`).join(" OR ")})`,
      );
      params.push(text, text, ...SEARCHED.map(() => text));
    }
    if (open) conditions.push(`i.kind = 'invoice' AND ${OWING} <> 0`);
    if (before !== null) {
      conditions.push(
        "(i.issued_at, i.id) < (SELECT issued_at, id FROM invoices WHERE workspace_id = :workspace AND id = ?)",
      );
      params.push(before);
    }
    return this.#summaries(`${conditions.join(" AND ")} ORDER BY i.issued_at DESC, i.id DESC LIMIT ?`, [
      ...params,
      limit,
    ]);
  }

  /** Those of a customer, newest first. */
  ofCustomer(customer_id: string): Promise<InvoiceSummary[]> {
    return this.#summaries("i.workspace_id = :workspace AND i.customer_id = ? ORDER BY i.issued_at DESC, i.id DESC", [
      customer_id,
    ]);
  }

  /** Those from a quote, oldest first. */
  ofQuote(quote_id: string): Promise<InvoiceSummary[]> {
    return this.#summaries("i.workspace_id = :workspace AND i.quote_id = ? ORDER BY i.issued_at, i.id", [quote_id]);
  }

  async get(id: string): Promise<Invoice> {
    const [row] = await this.#scope.all(`${SELECT_INVOICES} WHERE workspace_id = :workspace AND id = ?`, [id]);
    if (row === undefined) throw notFound("invoice");
    return invoiceOf(row);
  }

  /** An invoice with its payments and credit notes, as they stood in one moment. */
  async account(id: string): Promise<InvoiceAccount> {
    const [found, balances, payments, credit_notes] = await this.#scope.batch([
      { sql: `${SELECT_INVOICES} WHERE workspace_id = :workspace AND id = ?`, params: [id] },
      {
        sql: `SELECT i.total_minor, ${CREDITED} AS credited_minor, ${PAID} AS paid_minor FROM invoices AS i
          WHERE i.workspace_id = :workspace AND i.id = ?`,
        params: [id],
      },
      {
        sql: `${SELECT_PAYMENTS} WHERE workspace_id = :workspace AND invoice_id = ? ORDER BY recorded_at, id`,
        params: [id],
      },
      { sql: `${SELECT_INVOICES} WHERE workspace_id = :workspace AND credits = ? ORDER BY number`, params: [id] },
    ]);
    const [row] = found!;
    if (row === undefined) throw notFound("invoice");
    return {
      invoice: invoiceOf(row),
      balance: balanceOf(balances![0]!),
      payments: payments!.map(paymentOf),
      credit_notes: credit_notes!.map(invoiceOf),
    };
  }

  /**
   * Issues the invoice for an accepted quote, under the next number of the series (the first one under `first_number`).
   * A deposit counts as paid, once: what an earlier invoice has of it has to be taken back there first. Throws
   * `Problem` changed when the quote is not accepted any more, or was billed already and not given back whole.
   */
  async issue(
    { quote_id, vehicle_id, customer_id }: Pick<Invoice, "quote_id" | "vehicle_id" | "customer_id">,
    document: InvoiceDocument,
    first_number: number,
    submit_key: SubmitKey = null,
  ): Promise<Invoice> {
    const accepted = guard(
      `EXISTS (SELECT 1 FROM quotes WHERE workspace_id = :workspace AND id = ? AND vehicle_id = ? AND status = 'accepted')
       AND EXISTS (SELECT 1 FROM vehicles WHERE workspace_id = :workspace AND id = ? AND example = 0)
       AND NOT EXISTS (SELECT 1 FROM invoices AS i WHERE i.workspace_id = :workspace AND i.quote_id = ? AND i.kind = 'invoice'
         AND ${CREDITED} < i.total_minor)`,
      [quote_id, vehicle_id, vehicle_id, quote_id],
    );
    const about = { kind: "invoice", quote_id, vehicle_id, customer_id, credits: null } as const;
    return this.#issue(about, { document, first_number, before: [accepted], sent: ["issue", quote_id] }, submit_key);
  }

  /** What of a quote's deposit no invoice has as paid yet, in the smallest unit. */
  async openDeposit(quote_id: string): Promise<number> {
    const [row] = await this.#scope.all(`SELECT max(0, coalesce(amount_minor, 0) - used) AS open FROM ${DEPOSIT}`, [
      quote_id,
    ]);
    return row === undefined ? 0 : Number(row.open);
  }

  /** Gives back some or all of an invoice. Throws `Problem` changed when that would be more than is left of it. */
  async credit(invoice: Invoice, document: InvoiceDocument, submit_key: SubmitKey = null): Promise<Invoice> {
    const left = guard(
      `EXISTS (SELECT 1 FROM invoices AS i WHERE i.workspace_id = :workspace AND i.id = ? AND i.kind = 'invoice'
        AND ${CREDITED} + ? <= i.total_minor)`,
      [invoice.id, document.billed.total_minor],
    );
    const { quote_id, vehicle_id, customer_id } = invoice;
    const about = { kind: "credit-note", quote_id, vehicle_id, customer_id, credits: invoice.id } as const;
    return this.#issue(about, { document, first_number: 1, before: [left], sent: ["credit", invoice.id] }, submit_key);
  }

  /**
   * Records what was paid, or paid back. Throws `Problem` changed when it is more than is owing, or to be paid back.
   */
  async pay(invoice_id: string, input: PaymentInput, submit_key: SubmitKey = null): Promise<Payment> {
    const { amount_minor } = input;
    const within = guard(
      `EXISTS (SELECT 1 FROM invoices AS i WHERE i.workspace_id = :workspace AND i.id = ? AND i.kind = 'invoice'
        AND ${amount_minor > 0 ? `? <= ${OWING}` : `? >= ${OWING}`})`,
      [invoice_id, amount_minor],
    );
    return this.#record(invoice_id, { ...input, reverses: null, deposit: false }, within, submit_key);
  }

  /** Takes a payment back that was recorded by mistake, once: both stay in the account. */
  async reverse(invoice_id: string, payment_id: string, today: string, submit_key: SubmitKey = null): Promise<Payment> {
    const [row] = await this.#scope.all(
      `${SELECT_PAYMENTS} WHERE workspace_id = :workspace AND id = ? AND invoice_id = ?`,
      [payment_id, invoice_id],
    );
    if (row === undefined) throw notFound("payment");
    const { amount_minor, method, deposit } = paymentOf(row);
    const once = guard(
      `EXISTS (SELECT 1 FROM payments AS p WHERE p.workspace_id = :workspace AND p.id = ? AND p.reverses IS NULL
        AND NOT EXISTS (SELECT 1 FROM payments AS r WHERE r.workspace_id = p.workspace_id AND r.reverses = p.id))`,
      [payment_id],
    );
    const input = { amount_minor: 0 - amount_minor, paid_on: today, method, note: "" };
    return this.#record(invoice_id, { ...input, reverses: payment_id, deposit }, once, submit_key);
  }

  async #issue(
    about: Pick<Invoice, "kind" | "quote_id" | "vehicle_id" | "customer_id" | "credits">,
    { document, first_number, before, sent }: Issue,
    submit_key: SubmitKey,
  ): Promise<Invoice> {
    const id = this.#scope.newId();
    const { currency, billed, issued_on } = document;
    const row = invoiceRow({
      ...about,
      id,
      number: first_number,
      document,
      currency,
      total_minor: billed.total_minor,
      issued_on,
      issued_at: this.#scope.now(),
      issued_by: this.#scope.actor,
    });
    const values = Object.keys(row).map((name) => (name === "number" ? "coalesce(max(number) + 1, ?)" : "?"));
    const insert = {
      sql: `INSERT INTO invoices (workspace_id, ${Object.keys(row).join(", ")}) SELECT :workspace, ${values.join(", ")}
        FROM invoices WHERE workspace_id = :workspace AND kind = ?`,
      params: [...Object.values(row), about.kind],
    };
    const submission = { key: submit_key, content: [...sent, document], subject_id: id, subject_version: 1 };
    const after = about.kind === "invoice" ? [this.#deposited(id, about.quote_id, billed.total_minor)] : [];
    const repeat = await this.#change([...before, insert, ...after], submission);
    return sameContent(repeat, await this.get(repeat?.subject_id ?? id));
  }

  /** Counts the deposit of a quote as paid on a new invoice. */
  #deposited(invoice_id: string, quote_id: string, total_minor: number): Statement {
    const { actor } = this.#scope;
    return {
      sql: `INSERT INTO payments (workspace_id, id, invoice_id, amount_minor, paid_on, method, note, reverses, deposit,
          recorded_at, recorded_by)
        SELECT :workspace, ?, ?, min(?, amount_minor - used), paid_on, method, '', NULL, 1, ?, ?
        FROM ${DEPOSIT} WHERE amount_minor > used`,
      params: [this.#scope.newId(), invoice_id, total_minor, this.#scope.now(), actor, quote_id],
    };
  }

  async #record(
    invoice_id: string,
    input: PaymentInput & Pick<Payment, "reverses" | "deposit">,
    condition: Statement,
    submit_key: SubmitKey,
  ): Promise<Payment> {
    const id = this.#scope.newId();
    const recorded = { recorded_at: this.#scope.now(), recorded_by: this.#scope.actor };
    const insert = insertRows("payments", [paymentRow({ ...input, id, invoice_id, ...recorded })]);
    const content = [invoice_id, input];
    const submission = { key: submit_key, content, subject_id: id, subject_version: 1 };
    const repeat = await this.#change([condition, ...insert], submission);
    const [row] = await this.#scope.all(`${SELECT_PAYMENTS} WHERE workspace_id = :workspace AND id = ?`, [
      repeat?.subject_id ?? id,
    ]);
    return sameContent(repeat, paymentOf(row!));
  }

  async #change(statements: readonly Statement[], submission: Submission): Promise<Repeat | null> {
    try {
      return await this.#scope.change(statements, submission);
    } catch (error) {
      if (error instanceof ConstraintFailed && error.what === "guard")
        throw new Problem(
          "changed",
          "That does not fit what is recorded by now, so nothing was written. Open the page again to see how it stands.",
        );
      throw error;
    }
  }

  async #summaries(condition: string, params: readonly Param[]): Promise<InvoiceSummary[]> {
    return (await this.#scope.all(`${SELECT_SUMMARIES} WHERE ${condition}`, params)).map(summaryOf);
  }
}
