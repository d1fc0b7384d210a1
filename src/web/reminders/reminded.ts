import type { AssessAnswer, AssessRequest } from "../../core/question/contract.ts";
import { questionOf } from "../../core/question/question.ts";
import type { Vehicle } from "../../core/question/record.ts";
import { type Reminder, remindersOf } from "../../core/reminders.ts";
import { isPlace } from "../../core/rules/rules.ts";
import type { Page } from "../../store/page.ts";
import type { AssessedRecord } from "../../store/vehicle-record.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import type { Deps } from "../edge/deps.ts";
import type { Model } from "../edge/model.ts";
import { vehicleRequest } from "../vehicle-answer.ts";
import { briefAnswer, briefAnswers } from "../vehicles/brief-answer.ts";
import { todayIn } from "../workspace.ts";

const PAGE = 100;

/** A vehicle's reminders on the day where its workspace is. */
export interface Reminded {
  vehicle: Vehicle;
  today: string;
  reminders: Reminder[];
}

/** Of one vehicle. Throws `Problem` not-found. */
export async function remindersOfVehicle(
  { model, now }: Pick<Deps, "model" | "now">,
  store: WorkspaceStore,
  vehicle_id: string,
): Promise<Reminded> {
  const record = await store.record(vehicle_id);
  const request = vehicleRequest(record, todayIn(record.workspace, now()));
  return reminded(record, request, await briefAnswer(model, store, vehicle_id, request));
}

/** Of the first `most` vehicles of the workspace, by name. */
export async function remindersOfAll(
  model: Model,
  store: WorkspaceStore,
  today: string,
  most: number,
): Promise<Reminded[]> {
  const all: Reminded[] = [];
  let after: string | null = null;
  do {
    const page: Page<Vehicle> = await store.vehicles.list({ limit: PAGE, after });
    const records = await store.records(page.items.map(({ id }) => id));
    const asked = records.map((record) => ({
      record,
      vehicle_id: record.vehicle.id,
      request: vehicleRequest(record, today),
    }));
    const answers = await briefAnswers(model, store, asked);
    all.push(...asked.map(({ record, request }, i) => reminded(record, request, answers[i]!)));
    after = page.next;
  } while (after !== null && all.length < most);
  return all;
}

function reminded(record: AssessedRecord, request: AssessRequest, answer: AssessAnswer): Reminded {
  const { vehicle, workspace, charge_log, findings } = record;
  const { place } = workspace;
  const today = request.as_of;
  const reminders = remindersOf({
    answer,
    log: charge_log.filter(({ date }) => date <= today),
    findings: findings.filter(({ date }) => date <= today),
    place: place !== null && isPlace(place) ? place : null,
    can_net_g: questionOf(request).prices.can_net_g,
  });
  return { vehicle, today, reminders };
}
