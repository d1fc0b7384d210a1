import { assess, MODEL_VERSION } from "../../core/assess.ts";
import type { AssessAnswer, AssessRequest } from "../../core/contract.ts";
import type { Asked } from "../../store/assessments.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";

/** Answers without their sensitivity, which takes as long as all the rest, and is fetched when someone looks at it. */
const BRIEF_VERSION = `${MODEL_VERSION} without sensitivity`;

/** The kept answer about a vehicle, or one that is computed and kept. */
export function briefAnswer(store: WorkspaceStore, vehicle_id: string, request: AssessRequest): Promise<AssessAnswer> {
  return store.assessments.answer(vehicle_id, request, BRIEF_VERSION, assessBriefly);
}

/** The same for several vehicles of a list. */
export function briefAnswers(store: WorkspaceStore, asked: readonly Asked[]): Promise<AssessAnswer[]> {
  return store.assessments.answers(asked, BRIEF_VERSION, assessBriefly);
}

function assessBriefly(request: AssessRequest): AssessAnswer {
  return assess(request, { sensitivity: false });
}
