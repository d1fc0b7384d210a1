import type { WhatIfFields } from "../../../views/start/quick-fields.ts";
import { LOCATION_IDS, SERVICES } from "../../core/question/contract.ts";
import type { Supposition } from "../../core/question/suppose.ts";
import { isEmpty, oneOf, readMoney, readNumber } from "../forms/typed-values.ts";

/** Records an error at a field. */
export type Refuse = (field: string, message: string) => undefined;

const SERVICE = "Choose who tops it off";
const PLACE = "Choose the location, or “Don't know”";
const KEEP = "Enter how many years the vehicle will be kept, like 5; from 0.25 to 20";
const QUOTE = "Enter the quote as an amount, like 850, or leave it blank";
const CARBON = "Enter a price per metric ton from 0 to 10,000, like 190, or leave it empty";
const FLOOR = "Choose how long a full charge must last";

/** Reads what was typed beside the answer; an empty field supposes nothing. Ranges are the request's own check. */
export function readWhatIf(fields: WhatIfFields, refuse: Refuse, currency = "USD"): Supposition {
  const { keep, service, place, quote, carbon, floor } = fields;
  return {
    keep_years: isEmpty(keep) ? null : (readNumber(keep) ?? refuse("keep", KEEP)),
    service: service === "" ? null : (oneOf(SERVICES, service) ?? refuse("service", SERVICE)),
    place: place === "" ? null : (oneOf(LOCATION_IDS, place) ?? refuse("place", PLACE)),
    quote: isEmpty(quote) ? null : (readMoney(quote, currency) ?? refuse("quote", QUOTE)),
    carbon_price_per_t: isEmpty(carbon) ? null : (readMoney(carbon, currency) ?? refuse("carbon", CARBON)),
    floor_months: floor === "" ? null : (readNumber(floor) ?? refuse("floor", FLOOR)),
  };
}

/** The field and wording for an issue of the request's own check. */
export function whatIfRefusal(path: string): [field: string, message: string] {
  switch (path) {
    case "plan.keep_years":
      return ["keep", KEEP];
    case "plan.carbon_price_per_t":
      return ["carbon", CARBON];
    case "plan.floor_months":
      return ["floor", FLOOR];
    default:
      return ["quote", QUOTE];
  }
}
