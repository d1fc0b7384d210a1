import { cohortPrior, fitCohort, lnLikelihoodOf } from "../../src/core/fleet/cohort.ts";
import { SharedClocks } from "../../src/core/leak/clocks.ts";
import { leakFractionOf } from "../../src/core/leak/leak.ts";
import { posteriorOf } from "../../src/core/leak/posterior.ts";
import { dayNumber, isoFromDay } from "../../src/core/quantities/dates.ts";
import { questionOf } from "../../src/core/question/question.ts";
import { loggedFleet, RECORDS_YEARS } from "./logged-fleet.ts";

export const SLICES = ["no entry", "one", "two or three", "four or more"] as const;

/** In how many vehicles of each slice the likely range of the leak holds the truth, and on which side it misses it. */
export type Coverage = Record<
  (typeof SLICES)[number],
  { vehicles: number; held: number; below: number; above: number }
>;

/** The whole road of a fleet's answer: likelihoods, groups, then each vehicle under its group. */
export function coverage(options: Parameters<typeof loggedFleet>[0], told_all_logged: boolean): Coverage {
  const { as_of } = options;
  const fleet = loggedFleet(options);
  const clocks = new SharedClocks();
  const from = isoFromDay(dayNumber(as_of) - Math.round(365.25 * RECORDS_YEARS));
  const questions = fleet.map(({ nameplate_g, log }) =>
    questionOf({
      as_of,
      vehicle: { refrigerant: "R-134a", nameplate_g },
      log,
      logged: told_all_logged
        ? { from: log[0]?.finish === "weighed" ? null : from, until: as_of, missed: 1 - (options.logged ?? 0.9) }
        : null,
    }),
  );
  const asked = questions.map((question) => ({ record: false, clocks: clocks.of(question) }));
  const by_group = Map.groupBy(questions.keys(), (v) => fleet[v]!.group);
  const priors = new Map(
    [...by_group].map(([group, members]) => {
      const likelihoods = Array.from(members, (v) =>
        lnLikelihoodOf(posteriorOf(questions[v]!, asked[v]), questions[v]!.leak_prior),
      );
      return [group, cohortPrior(fitCohort(likelihoods))] as const;
    }),
  );
  const found = Object.fromEntries(
    SLICES.map((slice) => [slice, { vehicles: 0, held: 0, below: 0, above: 0 }]),
  ) as Coverage;
  fleet.forEach(({ group, log, x }, v) => {
    const { p05, p95 } = leakFractionOf(posteriorOf(questions[v]!, { ...asked[v], ln_x_prior: priors.get(group)! }));
    const slice = found[SLICES[log.length >= 4 ? 3 : Math.min(log.length, 2)]!];
    slice.vehicles++;
    if (x < p05) slice.below++;
    else if (x > p95) slice.above++;
    else slice.held++;
  });
  return found;
}
