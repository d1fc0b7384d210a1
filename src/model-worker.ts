/**
 * What a thread of the model pool does: one export a task, each given the arguments of the function it is named for.
 */
import { assess as assessRequest } from "./core/assess.ts";
import {
  fleetAnswers as fleetAnswersOf,
  groupFits as groupFitsOf,
  leakLikelihoods as leakLikelihoodsOf,
  replays as replaysOf,
} from "./core/fleet/reckon.ts";
import { replayed as replayedOf } from "./core/hindsight/replay.ts";
import { mixedAnswer as mixedAnswerOf } from "./core/mixed-answer.ts";
import { pageAnswer as pageAnswerOf } from "./core/page-answer.ts";
import { letOthersGoFirst } from "./patient-thread.ts";

export const assess = (asked: Parameters<typeof assessRequest>) => assessRequest(...asked);
export const pageAnswer = (asked: Parameters<typeof pageAnswerOf>) => pageAnswerOf(...asked);
export const mixedAnswer = (asked: Parameters<typeof mixedAnswerOf>) => mixedAnswerOf(...asked);
export const leakLikelihoods = (asked: Parameters<typeof leakLikelihoodsOf>) => patiently(leakLikelihoodsOf, asked);
export const groupFits = (asked: Parameters<typeof groupFitsOf>) => patiently(groupFitsOf, asked);
export const replayed = (asked: Parameters<typeof replayedOf>) => replayedOf(...asked);
export const replays = (asked: Parameters<typeof replaysOf>) => patiently(replaysOf, asked);
export const fleetAnswers = (asked: Parameters<typeof fleetAnswersOf>) => patiently(fleetAnswersOf, asked);

/** Work that nobody sits waiting for: its thread takes only what those that answer requests leave. */
function patiently<Asked extends unknown[], Result>(work: (...asked: Asked) => Result, asked: Asked): Result {
  letOthersGoFirst();
  return work(...asked);
}
