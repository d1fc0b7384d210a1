import type { FieldError } from "../../../views/parts/error-summary.tsx";
import type { WhatIfFields } from "../../../views/start/quick-fields.ts";
import { vehiclePath } from "../../../views/vehicles/record/record.ts";
import type { AssessRequest } from "../../core/question/contract.ts";
import { questionOf } from "../../core/question/question.ts";
import type { Supposition } from "../../core/question/suppose.ts";
import { ownerIsPriced } from "../../core/quotes/price-terms.ts";
import { type AssessedRecord, termsOf } from "../../store/vehicle-record.ts";
import { Refusals } from "../forms/form-reading.ts";
import { parseAssessRequest } from "../schemas/assess-request.ts";
import { readWhatIf, whatIfRefusal } from "../start/what-if.ts";
import { vehicleRequest } from "../vehicle-answer.ts";

const WHAT_IFS = ["keep", "service", "place", "quote", "floor", "carbon"] as const;

/** What an address supposes about a vehicle beside its record, and the question that this makes. */
export interface WhatIfQuestion {
  /** In every field of the form what is supposed, or else what is recorded. */
  fields: WhatIfFields;
  /** What is supposed otherwise than it is recorded. */
  supposed: Partial<WhatIfFields>;
  errors: FieldError[];
  /** What the record alone asks. */
  recorded: AssessRequest;
  /** What is asked under the supposition; null while something is to be put right. */
  request: AssessRequest | null;
}

/** Reads the what-ifs of an address (`?keep=8&place=hose&quote=850`) against what is recorded. */
export function whatIfQuestion(record: AssessedRecord, as_of: string, query: URLSearchParams): WhatIfQuestion {
  const recorded = vehicleRequest(record, as_of);
  const recorded_fields = recordedFields(recorded);
  const supposed: Partial<WhatIfFields> = {};
  for (const name of WHAT_IFS) {
    const typed = query.get(name)?.trim() ?? "";
    if (name === "service" && !ownerIsPriced(termsOf(record))) continue;
    if (typed !== "" && typed !== recorded_fields[name]) supposed[name] = typed;
  }
  const fields = { ...recorded_fields, ...supposed };
  if (Object.keys(supposed).length === 0) return { fields, supposed, errors: [], recorded, request: recorded };
  const refusals = new Refusals();
  const nothing: WhatIfFields = { keep: "", service: "", place: "", quote: "", floor: "", carbon: "" };
  const supposition = readWhatIf({ ...nothing, ...supposed }, refusals.refuse, termsOf(record).currency);
  const request = vehicleRequest(record, as_of, supposition);
  refuseRanges(request, as_of, supposition, refusals);
  const errors = refusals.inOrder(WHAT_IFS);
  return { fields, supposed, errors, recorded, request: errors.length > 0 ? null : request };
}

/** The address of a vehicle's page under these suppositions. */
export function addressOfWhatIf(vehicle_id: string, supposed: Partial<WhatIfFields>): string {
  const said = Object.entries(supposed).filter(([, typed]) => typed !== "");
  const path = vehiclePath(vehicle_id);
  return said.length === 0 ? path : `${path}?${new URLSearchParams(said)}`;
}

/** The recorded values, as typed text. */
function recordedFields(request: AssessRequest): WhatIfFields {
  const { keep_years, service, floor_months, carbon_price_per_t } = questionOf(request).plan;
  return {
    keep: String(keep_years),
    service,
    place: "",
    quote: "",
    floor: String(floor_months),
    carbon: carbon_price_per_t === 0 ? "" : String(carbon_price_per_t),
  };
}

/** Typed numbers may be out of range. The record itself was checked when it was stored. */
function refuseRanges(request: AssessRequest, as_of: string, supposition: Supposition, { refuse }: Refusals): void {
  const parsed = parseAssessRequest(request, as_of);
  if (parsed.ok) return;
  for (const { path } of parsed.issues) {
    const [field, message] = whatIfRefusal(path);
    const said = {
      keep: supposition.keep_years,
      floor: supposition.floor_months,
      carbon: supposition.carbon_price_per_t,
    };
    if (field === "quote" ? /^prices\./.test(path) : said[field as keyof typeof said] != null) refuse(field, message);
  }
}
