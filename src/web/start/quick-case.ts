import type { Surroundings } from "../../../views/answer/outcome.ts";
import type { QuickFields } from "../../../views/start/quick-fields.ts";
import { withReadings } from "../../core/leak/readings-look.ts";
import { type AssessRequest, READINGS_SAY } from "../../core/question/contract.ts";
import { GENERAL_TERMS, type PriceTerms } from "../../core/quotes/price-terms.ts";
import { FINDING_IDS } from "../../core/readings/readings-contract.ts";
import { fits, type ReadingsSaid } from "../../core/readings/said.ts";
import { localCase } from "../../core/rules/local-rules.ts";
import { isPlace } from "../../core/rules/rules.ts";
import { oneOf } from "../forms/typed-values.ts";
import { askedUnder } from "../vehicle-answer.ts";
import { usedUnder } from "../workspace.ts";
import { readWhatIf } from "./what-if.ts";

/** The model's request for the quick question: with readings, and under the rules of the place. */
export interface QuickCase extends Surroundings {
  request: AssessRequest;
}

/** `request` is what the form says of vehicle, log and plan; place, drive and readings are put beside it here. */
export function quickCase(fields: QuickFields, request: AssessRequest, terms: PriceTerms = GENERAL_TERMS): QuickCase {
  const { says, found } = saidInFields(fields);
  const with_readings = withReadings(request, says, request.as_of);
  const place = isPlace(fields.where) ? fields.where : "elsewhere";
  const electric = fields.electric === "yes" || fields.electric === "no" ? fields.electric : "not-sure";
  const surrounding = { place, currency: terms.currency, electric: electric === "yes" };
  // Without a book the form has put in prices and suppositions itself.
  const supposed = readWhatIf(fields, () => undefined, terms.currency);
  return {
    ...(terms.book === null
      ? localCase(with_readings, surrounding)
      : askedUnder(with_readings, terms, surrounding, { place: supposed.place, quote: supposed.quote })),
    currency: terms.currency,
    prices: usedUnder(terms),
    electric,
    found,
    read: fields.says === "" ? null : { says, date: request.as_of },
  };
}

/** Readings from the address; inconsistent ones are ignored. */
export function saidInFields(fields: Pick<QuickFields, "says" | "found">): ReadingsSaid {
  const says = oneOf(READINGS_SAY, fields.says) ?? "undecided";
  const found = oneOf(FINDING_IDS, fields.found);
  return { says, found: found !== undefined && fits(found, says) ? found : null };
}
