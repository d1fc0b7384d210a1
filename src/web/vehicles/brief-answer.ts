import { MODEL_VERSION } from "../../core/assess.ts";
import { type PageAnswer, pageAnswer } from "../../core/page-answer.ts";
import type { AssessRequest } from "../../core/question/contract.ts";
import type { Asked } from "../../store/assessments.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";

/** Answers without their sensitivity, which takes as long as all the rest, and is fetched when someone looks at it. */
const BRIEF_VERSION = `${MODEL_VERSION} brief, for pages 2`;
const WHOLE_VERSION = `${MODEL_VERSION} for pages 2`;

/** The kept answer about a vehicle, or one that is computed and kept. */
export function briefAnswer(store: WorkspaceStore, vehicle_id: string, request: AssessRequest): Promise<PageAnswer> {
  return store.assessments.answer(vehicle_id, request, BRIEF_VERSION, briefly);
}

/** The same for several vehicles of a list. */
export function briefAnswers(store: WorkspaceStore, asked: readonly Asked[]): Promise<PageAnswer[]> {
  return store.assessments.answers(asked, BRIEF_VERSION, briefly);
}

/** The same with its sensitivity. */
export function wholeAnswer(store: WorkspaceStore, vehicle_id: string, request: AssessRequest): Promise<PageAnswer> {
  return store.assessments.answer(vehicle_id, request, WHOLE_VERSION, pageAnswer);
}

function briefly(request: AssessRequest): PageAnswer {
  return pageAnswer(request, { sensitivity: false });
}
