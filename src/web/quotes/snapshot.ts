import { MODEL_VERSION } from "../../core/assess.ts";
import { dayNumber, isoFromDay } from "../../core/quantities/dates.ts";
import type { AssessRequest } from "../../core/question/contract.ts";
import { customersFormat } from "../../core/quotes/customer-format.ts";
import {
  type Letterhead,
  printedLetterhead,
  type QuoteContent,
  type QuotedRule,
  type QuoteSnapshot,
  UNNAMED_VEHICLE,
} from "../../core/quotes/quote-document.ts";
import { quoteOutlook } from "../../core/quotes/quote-outlook.ts";
import { inLanguage } from "../../core/quotes/standard-words.ts";
import { isPlace, rulesFor } from "../../core/rules/rules.ts";
import { placeSaid, type VehicleRecord } from "../../store/vehicle-record.ts";
import { unitsOf } from "../workspace.ts";

interface SnapshotCase {
  number: number;
  content: QuoteContent;
  letterhead: Letterhead;
  record: VehicleRecord;
  request: AssessRequest;
  today: string;
}

/** A draft as it would be sent today. */
export function quoteSnapshot(given: SnapshotCase): QuoteSnapshot {
  const { number, content, letterhead, record, request, today } = given;
  const { customer, book, currency, recommended, recommended_why, note, keep_years, valid_days } = content;
  const { language = "en" } = content;
  const { options, taxes, warranty } = inLanguage({ options: content.options, ...book }, language);
  const { refrigerant, nameplate_g, electric_compressor: electric } = record.vehicle;
  const shown = content.vehicle_shown ?? UNNAMED_VEHICLE;
  const offer = { options, taxes, currency, request };
  return {
    number,
    prefix: letterhead.quote_prefix,
    sent_on: today,
    valid_until: isoFromDay(dayNumber(today) + valid_days),
    letterhead: printedLetterhead(letterhead),
    customer,
    vehicle: { label: shown.words, refrigerant, nameplate_g, shown, electric },
    currency,
    language,
    number_format: customersFormat(language, letterhead, currency),
    units: unitsOf(record.workspace),
    taxes,
    warranty,
    options,
    recommended,
    recommended_why,
    note,
    keep_years,
    rules: quotedRules(placeSaid(record), today),
    request,
    model_version: MODEL_VERSION,
    outlook: quoteOutlook(offer, keep_years),
  };
}

/** Rules to tell the customer before anyone works on the refrigerant. */
function quotedRules(place: string | null, today: string): QuotedRule[] {
  if (place === null || !isPlace(place)) return [];
  return rulesFor(place, today)
    .filter(({ topic, binds, bars }) => binds.includes("paid-service") && (FOR_CUSTOMERS.has(topic) || bars.length > 0))
    .map(({ title, says, citation }) => ({ title, says, citation }));
}

const FOR_CUSTOMERS: ReadonlySet<string> = new Set(["venting", "who-may"]);
