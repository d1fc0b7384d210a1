import type { Revision } from "../core/question/record.ts";
import type { WrittenAgreement } from "../core/quotes/agreement.ts";
import type { QuoteState } from "../core/quotes/quote.ts";
import {
  ANSWERED_HOW,
  type AnsweredHow,
  type EarlierAnswer,
  type QuoteContent,
  type QuoteSnapshot,
  type QuoteWork,
} from "../core/quotes/quote-document.ts";
import { type Columns, json, namesOf, nullable, number, oneOf, rowReader, rowWriter, text } from "./columns.ts";
import { REVISION } from "./revision.ts";

export interface Quote extends Revision {
  id: string;
  vehicle_id: string;
  /** Counts up in the workspace: what people call it by. */
  number: number;
  status: Exclude<QuoteState, "expired">;
  content: QuoteContent;
  /** An earlier quote that this one is sent instead of. */
  replaces: string | null;
  snapshot: QuoteSnapshot | null;
  valid_until: string | null;
  sent_at: string | null;
  sent_by: string | null;
  decided_at: string | null;
  decided_name: string | null;
  decided_option: string | null;
  decided_keep_years: number | null;
  /** How the answer came and who took it; null for one by the link. */
  decided_how: AnsweredHow | null;
  decided_by: string | null;
  /** Answers that were taken back, oldest first; null for none. */
  earlier_answers: EarlierAnswer[] | null;
  /** What was agreed on besides the option, oldest first: the last one holds. Null for nothing. */
  agreed: WrittenAgreement[] | null;
  withdrawn_at: string | null;
  withdrawn_by: string | null;
  work: QuoteWork | null;
  work_at: string | null;
  work_by: string | null;
}

export const QUOTE: Columns<Quote> = {
  id: text,
  vehicle_id: text,
  number,
  status: oneOf(["draft", "sent", "accepted", "declined", "withdrawn"]),
  content: json(),
  replaces: nullable(text),
  snapshot: nullable(json()),
  valid_until: nullable(text),
  sent_at: nullable(text),
  sent_by: nullable(text),
  decided_at: nullable(text),
  decided_name: nullable(text),
  decided_option: nullable(text),
  decided_keep_years: nullable(number),
  decided_how: nullable(oneOf(ANSWERED_HOW)),
  decided_by: nullable(text),
  earlier_answers: nullable(json()),
  agreed: nullable(json()),
  withdrawn_at: nullable(text),
  withdrawn_by: nullable(text),
  work: nullable(json()),
  work_at: nullable(text),
  work_by: nullable(text),
  ...REVISION,
};

/** Whole quotes, each for `quoteOf`. The hash of the customer's link is never read. */
export const SELECT_QUOTES = `SELECT ${namesOf(QUOTE).join(", ")} FROM quotes`;

export const quoteOf = rowReader(QUOTE);
/** A quote as its table holds it, without a link. */
export const quoteRow = rowWriter(QUOTE);
