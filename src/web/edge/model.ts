import { assess } from "../../core/assess.ts";
import type { FleetAnswer } from "../../core/fleet/answer.ts";
import {
  type FleetAsked,
  fleetAnswers,
  type GroupFit,
  type GroupLogs,
  groupFits,
  leakLikelihoods,
  replays,
} from "../../core/fleet/reckon.ts";
import { type Prediction, type ReplayRequest, replayed } from "../../core/hindsight/replay.ts";
import { type MixedAnswer, mixedAnswer, type WeightedRequest } from "../../core/mixed-answer.ts";
import { type PageAnswer, pageAnswer } from "../../core/page-answer.ts";
import type { AssessAnswer, AssessRequest } from "../../core/question/contract.ts";

/** Parts of the computation that can be left out. */
export interface ModelOptions {
  /** The sensitivity, which takes as long as all the rest. True unless set. */
  sensitivity?: boolean;
}

/**
 * The model as routes use it. A computation takes some hundredths of a second, more for long logs; a runtime that can,
 * runs it beside the requests. Each method throws `Problem` unavailable when too many are waiting.
 */
export interface Model {
  assess(request: AssessRequest, options?: ModelOptions): Promise<AssessAnswer>;
  pageAnswer(request: AssessRequest, options?: ModelOptions): Promise<PageAnswer>;
  mixedAnswer(cases: readonly WeightedRequest[], options?: ModelOptions): Promise<MixedAnswer>;
  /** How many vehicles of a fleet are computed at a time; more than one where several are computed side by side. */
  readonly side_by_side: number;
  leakLikelihoods(requests: readonly AssessRequest[]): Promise<(number[] | null)[]>;
  groupFits(groups: readonly GroupLogs[]): Promise<GroupFit[]>;
  fleetAnswers(asked: readonly FleetAsked[]): Promise<FleetAnswer[]>;
  /** The past charges of one vehicle predicted again, for whoever waits for it; and of several, in the background. */
  replayed(request: ReplayRequest): Promise<Prediction[]>;
  replays(requests: readonly ReplayRequest[]): Promise<Prediction[][]>;
}

/** The model in the thread that answers requests: for runtimes with a process a request, and for tests. */
export const MODEL_IN_PLACE: Model = {
  assess: async (request, options) => assess(request, options),
  pageAnswer: async (request, options) => pageAnswer(request, options),
  mixedAnswer: async (cases, options) => mixedAnswer(cases, options),
  side_by_side: 1,
  leakLikelihoods: async (requests) => leakLikelihoods(requests),
  groupFits: async (groups) => groupFits(groups),
  fleetAnswers: async (asked) => fleetAnswers(asked),
  replayed: async (request) => replayed(request),
  replays: async (requests) => replays(requests),
};
