/**
 * What a thread of the model pool does: one export a task, each given the arguments of the function it is named for.
 */
import { assess as assessRequest } from "./core/assess.ts";
import { mixedAnswer as mixedAnswerOf } from "./core/mixed-answer.ts";
import { pageAnswer as pageAnswerOf } from "./core/page-answer.ts";

export const assess = (asked: Parameters<typeof assessRequest>) => assessRequest(...asked);
export const pageAnswer = (asked: Parameters<typeof pageAnswerOf>) => pageAnswerOf(...asked);
export const mixedAnswer = (asked: Parameters<typeof mixedAnswerOf>) => mixedAnswerOf(...asked);
