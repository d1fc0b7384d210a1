/**
 * Decisions under uncertainty, in general: choose one of several actions while one of several states holds.
 * `payoffs[action][state]` is what is gained (a cost is a negative payoff), `prior[state]` the probability of a state,
 * `likelihoods[signal][state]` the probability of what a test says, given the state.
 * Raiffa, Decision Analysis (1968); Raiffa and Schlaifer, Applied Statistical Decision Theory (1961).
 * Tables that do not fit together, or probabilities that are none, throw RangeError.
 */

export type Payoffs = readonly (readonly number[])[];
export type Likelihoods = readonly (readonly number[])[];

/** How far a sum of probabilities may be from 1: typed decimals, not more. */
const SUM_TOLERANCE = 1e-9;

/** The action to take, and what it is expected to give. */
export interface BestAction {
  action: number;
  expected_value: number;
}

/** What one result of a test means: how probable it is, and the beliefs after it (null when it cannot occur). */
export interface SignalMeaning {
  probability: number;
  posterior: number[] | null;
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, value, i) => sum + value * b[i]!, 0);
}

function checkPrior(prior: readonly number[]): void {
  if (prior.length === 0 || !prior.every((p) => p >= 0)) throw new RangeError("A prior needs states, none below 0");
  const sum = prior.reduce((total, p) => total + p, 0);
  if (!(Math.abs(sum - 1) <= SUM_TOLERANCE)) throw new RangeError(`A prior must sum to 1, not ${sum}`);
}

function checkPayoffs(payoffs: Payoffs, prior: readonly number[]): void {
  checkPrior(prior);
  if (payoffs.length === 0 || !payoffs.every((row) => row.length === prior.length && row.every(Number.isFinite))) {
    throw new RangeError("Payoffs need actions, with one finite number for each state");
  }
}

function checkLikelihoods(likelihoods: Likelihoods, prior: readonly number[]): void {
  if (!likelihoods.every((row) => row.length === prior.length && row.every((p) => p >= 0))) {
    throw new RangeError("Each signal needs one probability for each state");
  }
  prior.forEach((_, state) => {
    const sum = likelihoods.reduce((total, row) => total + row[state]!, 0);
    if (!(Math.abs(sum - 1) <= SUM_TOLERANCE)) throw new RangeError(`The signals of a state must sum to 1, not ${sum}`);
  });
}

/** Expected value of each action. */
export function expectedValues(payoffs: Payoffs, prior: readonly number[]): number[] {
  checkPayoffs(payoffs, prior);
  return payoffs.map((row) => dot(row, prior));
}

/** The action with the highest expected value; the first of equals. */
export function bestAction(payoffs: Payoffs, prior: readonly number[]): BestAction {
  const values = expectedValues(payoffs, prior);
  const expected_value = Math.max(...values);
  return { action: values.indexOf(expected_value), expected_value };
}

/** What knowing the state beforehand would be worth: E[best payoff in each state] − best expected payoff. */
export function valueOfPerfectInformation(payoffs: Payoffs, prior: readonly number[]): number {
  const { expected_value } = bestAction(payoffs, prior);
  const best_by_state = prior.map((_, state) => Math.max(...payoffs.map((row) => row[state]!)));
  return dot(best_by_state, prior) - expected_value;
}

/** Bayes: probability of each signal and the beliefs after it, in the order of `likelihoods`. */
export function signalMeanings(prior: readonly number[], likelihoods: Likelihoods): SignalMeaning[] {
  checkPrior(prior);
  checkLikelihoods(likelihoods, prior);
  return likelihoods.map((row) => {
    const joint = row.map((p, state) => p * prior[state]!);
    const probability = joint.reduce((sum, p) => sum + p, 0);
    return { probability, posterior: probability > 0 ? joint.map((p) => p / probability) : null };
  });
}

/** Expected value of choosing after the test has spoken. The price of the test belongs in the payoffs, or outside. */
export function expectedValueWithSample(payoffs: Payoffs, prior: readonly number[], likelihoods: Likelihoods): number {
  checkPayoffs(payoffs, prior);
  return signalMeanings(prior, likelihoods).reduce(
    (sum, { probability, posterior }) =>
      posterior === null ? sum : sum + probability * Math.max(...payoffs.map((row) => dot(row, posterior))),
    0,
  );
}

/** What a test is worth before its price: expected value with it − without it. */
export function valueOfSampleInformation(payoffs: Payoffs, prior: readonly number[], likelihoods: Likelihoods): number {
  return expectedValueWithSample(payoffs, prior, likelihoods) - bestAction(payoffs, prior).expected_value;
}
