import { cohortPrior, fitCohort, lnLikelihoodOf } from "../../src/core/fleet/cohort.ts";
import { SharedClocks } from "../../src/core/leak/clocks.ts";
import { type Posterior, posteriorOf } from "../../src/core/leak/posterior.ts";
import { dayNumber, isoFromDay } from "../../src/core/quantities/dates.ts";
import { type LeakPrior, type Question, questionOf } from "../../src/core/question/question.ts";
import { type LoggedVehicle, loggedFleet, RECORDS_YEARS } from "./logged-fleet.ts";

/** A vehicle of an invented fleet with what is believed of its leak. */
export interface AnsweredVehicle {
  vehicle: LoggedVehicle;
  question: Question;
  posterior: Posterior;
  /** That of its group, fitted to the logs; and how well the mean of it is known, sd. */
  prior: LeakPrior;
  mean_sd: number;
}

/**
 * The whole road of a fleet's answer: likelihoods, groups, then each vehicle under its group. `told`: whether it is
 * said that every charge is logged, but for the share of them that truly is not.
 */
export function answeredFleet(options: Parameters<typeof loggedFleet>[0], told: boolean): AnsweredVehicle[] {
  const { as_of } = options;
  const fleet = loggedFleet(options);
  const clocks = new SharedClocks();
  const from = isoFromDay(dayNumber(as_of) - Math.round(365.25 * RECORDS_YEARS));
  const missed = 1 - (options.logged ?? 0.9);
  const asked = fleet.map((vehicle) => {
    const { nameplate_g, log } = vehicle;
    const question = questionOf({
      as_of,
      vehicle: { refrigerant: "R-134a", nameplate_g },
      log,
      logged: told ? { from: log[0]?.finish === "weighed" ? null : from, until: as_of, missed } : null,
    });
    return { vehicle, question, how: { record: false, clocks: clocks.of(question) } };
  });
  const groups = new Map(
    [...Map.groupBy(asked, ({ vehicle }) => vehicle.group)].map(([group, members]) => {
      const fit = fitCohort(
        members.map(({ question, how }) => lnLikelihoodOf(posteriorOf(question, how), question.leak_prior)),
      );
      return [group, { mean_sd: fit.mean_sd, prior: cohortPrior(fit) }] as const;
    }),
  );
  return asked.map(({ vehicle, question, how }) => {
    const { mean_sd, prior } = groups.get(vehicle.group)!;
    return { vehicle, question, posterior: posteriorOf(question, { ...how, ln_x_prior: prior }), prior, mean_sd };
  });
}
