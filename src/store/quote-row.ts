import type { QuoteState } from "../core/quotes/quote.ts";
import type {
  AnsweredHow,
  EarlierAnswer,
  QuoteContent,
  QuoteSnapshot,
  QuoteWork,
} from "../core/quotes/quote-document.ts";
import type { Param, Row } from "./sql.ts";

export interface Quote {
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
  withdrawn_at: string | null;
  withdrawn_by: string | null;
  work: QuoteWork | null;
  work_at: string | null;
  work_by: string | null;
  version: number;
  created_at: string;
  created_by: string;
  updated_at: string;
  updated_by: string;
}

const COLUMNS = [
  "id",
  "vehicle_id",
  "number",
  "status",
  "content",
  "replaces",
  "snapshot",
  "valid_until",
  "sent_at",
  "sent_by",
  "decided_at",
  "decided_name",
  "decided_option",
  "decided_keep_years",
  "decided_how",
  "decided_by",
  "earlier_answers",
  "withdrawn_at",
  "withdrawn_by",
  "work",
  "work_at",
  "work_by",
  "version",
  "created_at",
  "created_by",
  "updated_at",
  "updated_by",
] as const satisfies readonly (keyof Quote)[];

/** Whole quotes, each for `quoteOf`. The hash of the customer's link is never read. */
export const SELECT_QUOTES = `SELECT ${COLUMNS.join(", ")} FROM quotes`;

export function quoteOf(row: Row): Quote {
  const { content, snapshot, work, earlier_answers } = row as Record<string, string | null>;
  return {
    ...(row as unknown as Quote),
    content: JSON.parse(content!),
    snapshot: snapshot === null ? null : JSON.parse(snapshot!),
    work: work === null ? null : JSON.parse(work!),
    earlier_answers: earlier_answers === null ? null : JSON.parse(earlier_answers!),
  };
}

/** A quote as its table holds it, without a link. */
export function quoteRow({ content, snapshot, work, earlier_answers, ...rest }: Quote): Record<string, Param> {
  const json = (value: unknown) => (value === null ? null : JSON.stringify(value));
  return {
    ...rest,
    content: json(content),
    snapshot: json(snapshot),
    work: json(work),
    earlier_answers: json(earlier_answers),
  };
}
