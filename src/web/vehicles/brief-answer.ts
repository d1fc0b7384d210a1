import { MODEL_VERSION } from "../../core/assess.ts";
import type { PageAnswer } from "../../core/page-answer.ts";
import type { AssessRequest } from "../../core/question/contract.ts";
import type { Asked } from "../../store/assessments.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import type { Model } from "../edge/model.ts";

/** Answers without their sensitivity, which takes as long as all the rest, and is fetched when someone looks at it. */
const BRIEF_VERSION = `${MODEL_VERSION} brief, for pages 3`;
const WHOLE_VERSION = `${MODEL_VERSION} for pages 3`;

/** The kept answer about a vehicle, or one that is computed and kept. */
export function briefAnswer(
  model: Model,
  store: WorkspaceStore,
  vehicle_id: string,
  request: AssessRequest,
): Promise<PageAnswer> {
  return store.assessments.answer(vehicle_id, request, BRIEF_VERSION, briefly(model));
}

/** The same for several vehicles of a list. */
export async function briefAnswers(
  model: Model,
  store: WorkspaceStore,
  asked: readonly Asked[],
): Promise<PageAnswer[]> {
  const answers = await someBriefAnswers(model, store, asked, asked.length);
  return answers.filter((answer) => answer !== null);
}

/** The same, of which at most `most_new` are computed; null for those that are still to be. */
export function someBriefAnswers(
  model: Pick<Model, "pageAnswer">,
  store: WorkspaceStore,
  asked: readonly Asked[],
  most_new: number,
): Promise<(PageAnswer | null)[]> {
  return store.assessments.answers(asked, BRIEF_VERSION, briefly(model), most_new);
}

/** The same with its sensitivity. */
export function wholeAnswer(
  model: Model,
  store: WorkspaceStore,
  vehicle_id: string,
  request: AssessRequest,
): Promise<PageAnswer> {
  return store.assessments.answer(vehicle_id, request, WHOLE_VERSION, (asked) => model.pageAnswer(asked));
}

function briefly(model: Pick<Model, "pageAnswer">) {
  return (request: AssessRequest) => model.pageAnswer(request, { sensitivity: false });
}
