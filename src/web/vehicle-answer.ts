import { CLIMATES } from "../../data/climates.ts";
import type { Surroundings } from "../../views/answer/outcome.ts";
import type { PricesUsed } from "../../views/parts/prices-used.tsx";
import { MODEL_VERSION } from "../core/assess.ts";
import { termsFor, withHoursLost } from "../core/fleet/terms.ts";
import type { AssessAnswer, AssessRequest } from "../core/question/contract.ts";
import { type Supposition, supposing } from "../core/question/suppose.ts";
import { GENERAL_TERMS, pricedUnder, servedUnder, type Terms } from "../core/quotes/price-terms.ts";
import { readingsSaid } from "../core/readings/said.ts";
import { localCase, type Surrounding } from "../core/rules/local-rules.ts";
import {
  type AssessedRecord,
  assessRequestOf,
  judgedReadings,
  placeSaid,
  termsOf,
  type VehicleRecord,
} from "../store/vehicle-record.ts";
import type { WorkspaceStore } from "../store/workspace-store.ts";
import type { Deps } from "./edge/deps.ts";
import { placeOf, todayIn, usedUnder } from "./workspace.ts";

/** A vehicle's record, the question that it puts to the model, and the answer. */
export interface VehicleAnswer {
  record: VehicleRecord;
  request: AssessRequest;
  answer: AssessAnswer;
}

/**
 * What the model says about a vehicle of these records on the day `as_of`, by default today where the workspace is.
 * Throws `Problem` not-found.
 */
export async function vehicleAnswer(
  { model, now }: Pick<Deps, "model" | "now">,
  store: WorkspaceStore,
  vehicle_id: string,
  as_of?: string,
): Promise<VehicleAnswer> {
  const record = await store.record(vehicle_id);
  const request = vehicleRequest(record, as_of ?? todayIn(record.workspace, now()));
  const assess = (asked: AssessRequest) => model.assess(asked);
  return { record, request, answer: await store.assessments.answer(vehicle_id, request, MODEL_VERSION, assess) };
}

/**
 * The question that a record puts to the model: with the climate's temperatures, by whoever does it, under the rules of
 * its
 * place, at the prices that hold for this vehicle (`core/quotes/price-terms.ts`; other `terms` where a quote is made
 * with
 * another book), under a supposition beside the record, if there is one.
 */
export function vehicleRequest(
  record: AssessedRecord,
  as_of: string,
  supposed: Supposition = {},
  terms: Terms = termsOf(record),
): AssessRequest {
  const asked = assessRequestOf(record, as_of, climateMeans, terms.currency);
  const { request } = askedUnder(asked, terms, surroundingOf(record, terms), supposed);
  return withHoursLost(request, termsFor(record.vehicle, record.fleet_terms, terms.currency));
}

/** A question without prices as it is asked: who does it, under the rules of its place, at the prices that hold. */
export function askedUnder(
  asked: AssessRequest,
  terms: Terms,
  surrounding: Surrounding,
  { place, quote, ...supposed }: Supposition,
): ReturnType<typeof localCase> {
  const { request, local } = localCase(servedUnder(supposing(asked, supposed), terms), surrounding);
  // Places and quotes are supposed beside the prices that hold.
  return { request: supposing(pricedUnder(request, terms, surrounding), { place, quote }), local };
}

/** The same without prices, for what does not depend on them: what the log says of the leak. */
export function unpricedRequest(record: AssessedRecord, as_of: string): AssessRequest {
  const { vehicle, ...request } = assessRequestOf(record, as_of, climateMeans, GENERAL_TERMS.currency);
  // Without the group's prior: this is what the group is estimated from.
  return { ...request, vehicle: { ...vehicle, leak_prior: null } };
}

/**
 * What stands around a question that a record puts to the model: the rules of its place, what its readings found, and
 * the currency of its workspace.
 */
export function vehicleSurroundings(record: AssessedRecord, request: AssessRequest): Surroundings {
  const read = judgedReadings(record, request.as_of);
  const terms = termsOf(record);
  const { local } = localCase(request, surroundingOf(record, terms));
  const said = read === null ? null : readingsSaid(read.judgement);
  // An unticked box says nothing: nobody may have looked.
  const electric = record.vehicle.electric_compressor ? "yes" : "not-sure";
  return {
    local,
    electric,
    found: said?.found ?? null,
    read: said === null || read === null ? null : { says: said.says, date: read.line.date },
    currency: terms.currency,
    prices: pricesUsed(record),
  };
}

/** Whose prices the answer about a vehicle is worked out with, for its pages and the interface to say. */
export function pricesUsed(record: Pick<AssessedRecord, "workspace" | "vehicle" | "price_books">): PricesUsed {
  const { plan, prices } = record.vehicle;
  const terms = termsOf(record);
  const own_in = prices.currency ?? record.workspace.currency;
  const has_own = Object.keys(prices).some((name) => name !== "currency") || plan.carbon_price_per_t != null;
  return { ...usedUnder(terms), left_out: has_own && own_in !== terms.currency ? own_in : null };
}

function surroundingOf(record: AssessedRecord, { currency }: Terms): Surrounding {
  const { electric_compressor: electric, dye_in_own_oil } = record.vehicle;
  return { place: placeOf(placeSaid(record)), currency, electric, dye_in_own_oil };
}

function climateMeans(id: string): readonly number[] | null {
  return CLIMATES.find((climate) => climate.id === id)?.monthly_mean_c ?? null;
}
