import { assess } from "../../core/assess.ts";
import { type MixedAnswer, mixedAnswer, type WeightedRequest } from "../../core/mixed-answer.ts";
import { type PageAnswer, pageAnswer } from "../../core/page-answer.ts";
import type { AssessAnswer, AssessRequest } from "../../core/question/contract.ts";

/** What a computation may leave out. */
export interface ModelOptions {
  /** What would change the answer: takes as long as all the rest. True unless said otherwise. */
  sensitivity?: boolean;
}

/**
 * The model as routes ask it. A computation takes some hundredths of a second, and longer for long logs: a runtime that
 * can do it beside the requests does. Each throws `Problem` unavailable where too much is waiting already.
 */
export interface Model {
  assess(request: AssessRequest, options?: ModelOptions): Promise<AssessAnswer>;
  pageAnswer(request: AssessRequest, options?: ModelOptions): Promise<PageAnswer>;
  mixedAnswer(cases: readonly WeightedRequest[], options?: ModelOptions): Promise<MixedAnswer>;
}

/** The model in the thread that answers requests: for runtimes with a process a request, and for tests. */
export const MODEL_IN_PLACE: Model = {
  assess: async (request, options) => assess(request, options),
  pageAnswer: async (request, options) => pageAnswer(request, options),
  mixedAnswer: async (cases, options) => mixedAnswer(cases, options),
};
