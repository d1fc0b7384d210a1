import { CLIMATES } from "../../data/climates.ts";
import { assess, MODEL_VERSION } from "../core/assess.ts";
import type { AssessAnswer, AssessRequest, OptionId } from "../core/contract.ts";
import { questionOf } from "../core/question.ts";
import { barredOptions, isPlace } from "../core/rules.ts";
import { type Supposition, supposing } from "../core/suppose.ts";
import { type AssessedRecord, assessRequestOf, type VehicleRecord } from "../store/vehicle-record.ts";
import type { WorkspaceStore } from "../store/workspace-store.ts";
import type { Workspace } from "../store/workspaces.ts";
import { calendarDay } from "./calendar-day.ts";

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
  store: WorkspaceStore,
  vehicle_id: string,
  now: Date,
  as_of?: string,
): Promise<VehicleAnswer> {
  const record = await store.record(vehicle_id);
  const request = vehicleRequest(record, as_of ?? todayIn(record.workspace, now));
  return { record, request, answer: await store.assessments.answer(vehicle_id, request, MODEL_VERSION, assess) };
}

/**
 * The question that a record puts to the model, with the climate's temperatures and what local rules bar; under a
 * supposition beside the record, if there is one.
 */
export function vehicleRequest(record: AssessedRecord, as_of: string, supposed: Supposition = {}): AssessRequest {
  const request = supposing(assessRequestOf(record, as_of, climateMeans), supposed);
  const barred = new Set<OptionId>([...(request.plan?.barred ?? []), ...barredByRules(record, request)]);
  return barred.size === 0 ? request : { ...request, plan: { ...request.plan, barred: [...barred] } };
}

/** The calendar day where the workspace is, `YYYY-MM-DD`. */
export function todayIn({ time_zone }: Pick<Workspace, "time_zone">, now: Date): string {
  return calendarDay(now, time_zone);
}

function barredByRules({ workspace: { place } }: AssessedRecord, request: AssessRequest): OptionId[] {
  if (place === null || !isPlace(place)) return [];
  const { service } = questionOf(request).plan;
  const { refrigerant } = request.vehicle;
  return barredOptions({ place, service, date: request.as_of, refrigerant }).map(({ option }) => option);
}

function climateMeans(id: string): readonly number[] | null {
  return CLIMATES.find((climate) => climate.id === id)?.monthly_mean_c ?? null;
}
