import { type Prediction, type ReplayRequest, replayed } from "../hindsight/replay.ts";
import { SharedClocks } from "../leak/clocks.ts";
import { posteriorOf } from "../leak/posterior.ts";
import type { AssessRequest, VehicleKind } from "../question/contract.ts";
import { type LeakPrior, questionOf } from "../question/question.ts";
import { type FleetAnswer, fleetAnswer } from "./answer.ts";
import { type CohortFit, cohortPrior, fitCohort, lnLikelihoodOf, startOf, takesPart } from "./cohort.ts";

/** The steps of a fleet's reckoning, each for some vehicles or groups at once, so that a thread can do a step. */

/** A vehicle's question, and what is believed of its leak beforehand. */
export interface FleetAsked {
  request: AssessRequest;
  used: LeakPrior;
}

/** What the logs of a group's vehicles say, and what kinds of vehicles they are. */
export interface GroupLogs {
  kinds: readonly (VehicleKind | null)[];
  ln_likelihoods: readonly Float64Array[];
}

/** How a group leaks, and the prior that its vehicles get from that. */
export interface GroupFit extends CohortFit {
  used: LeakPrior;
}

/** Vehicles of a fleet have few climates, refrigerants and days among them. */
const shared_clocks = new SharedClocks();

/** Likelihoods are kept to hundredths of their logarithm, far finer than the estimate itself. */
const HUNDREDTHS = 100;

/**
 * What each log says of the leak: ln of the likelihood at the grid points of ln x, the largest 0; null for a log with a
 * repair, which made the leak another one.
 */
export function leakLikelihoods(requests: readonly AssessRequest[]): (number[] | null)[] {
  return requests.map((request) => {
    const question = questionOf(request);
    if (!takesPart(question)) return null;
    const posterior = posteriorOf(question, { record: false, clocks: shared_clocks.of(question) });
    return Array.from(lnLikelihoodOf(posterior, question.leak_prior), (ln) => Math.round(ln * HUNDREDTHS) / HUNDREDTHS);
  });
}

/** The fit of each group. */
export function groupFits(groups: readonly GroupLogs[]): GroupFit[] {
  return groups.map(({ kinds, ln_likelihoods }) => {
    const start = startOf(kinds);
    const fit = fitCohort(ln_likelihoods, start);
    return { ...fit, used: cohortPrior(fit, start) };
  });
}

/** The answer for each vehicle. */
export function fleetAnswers(asked: readonly FleetAsked[]): FleetAnswer[] {
  return asked.map(({ request, used }) => {
    const question = questionOf(request);
    return fleetAnswer(question, used, shared_clocks.of(question));
  });
}

/** The past charges of each vehicle, predicted again. */
export function replays(requests: readonly ReplayRequest[]): Prediction[][] {
  return requests.map(replayed);
}
