import { CLIMATES } from "../../data/climates.ts";
import type { Surroundings } from "../../views/answer/outcome.ts";
import { MODEL_VERSION } from "../core/assess.ts";
import type { AssessAnswer, AssessRequest } from "../core/question/contract.ts";
import { type Supposition, supposing } from "../core/question/suppose.ts";
import { withVehiclePrices } from "../core/question/vehicle-prices.ts";
import { readingsSaid } from "../core/readings/said.ts";
import { localCase, type Surrounding } from "../core/rules/local-rules.ts";
import { type AssessedRecord, assessRequestOf, judgedReadings, type VehicleRecord } from "../store/vehicle-record.ts";
import type { WorkspaceStore } from "../store/workspace-store.ts";
import type { Deps } from "./edge/deps.ts";
import { placeOf, todayIn } from "./workspace.ts";

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
 * The question that a record puts to the model, with the climate's temperatures, by whom it may be done, and what local
 * rules bar; under a supposition beside the record, if there is one.
 */
export function vehicleRequest(record: AssessedRecord, as_of: string, supposed: Supposition = {}): AssessRequest {
  const { electric } = surroundingOf(record);
  const request = withVehiclePrices(assessRequestOf(record, as_of, climateMeans), { electric });
  return localCase(supposing(request, supposed), surroundingOf(record)).request;
}

/**
 * What stands around a question that a record puts to the model: the rules of its place, what its readings found, and
 * the currency of its workspace.
 */
export function vehicleSurroundings(record: AssessedRecord, request: AssessRequest): Surroundings {
  const read = judgedReadings(record, request.as_of);
  const { local } = localCase(request, surroundingOf(record));
  const said = read === null ? null : readingsSaid(read.judgement);
  // An unticked box says nothing: nobody may have looked.
  const electric = record.vehicle.electric_compressor ? "yes" : "not-sure";
  return {
    local,
    electric,
    found: said?.found ?? null,
    read: said === null || read === null ? null : { says: said.says, date: read.line.date },
    currency: record.workspace.currency,
  };
}

function surroundingOf({ workspace: { place, currency }, vehicle }: AssessedRecord): Surrounding {
  return { place: placeOf(place), currency, electric: vehicle.electric_compressor };
}

function climateMeans(id: string): readonly number[] | null {
  return CLIMATES.find((climate) => climate.id === id)?.monthly_mean_c ?? null;
}
