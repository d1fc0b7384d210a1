import { expect, test } from "vitest";
import { auditYears, lossInterval, type SummedRow, summedAudit } from "../../../src/core/fleet/audit.ts";
import { cohortPrior, fitCohort, lnLikelihoodOf } from "../../../src/core/fleet/cohort.ts";
import { SharedClocks } from "../../../src/core/leak/clocks.ts";
import { posteriorOf } from "../../../src/core/leak/posterior.ts";
import { dayNumber, isoFromDay } from "../../../src/core/quantities/dates.ts";
import { questionOf } from "../../../src/core/question/question.ts";
import { loggedFleet, RECORDS_YEARS } from "../../support/logged-fleet.ts";

const AS_OF = "2026-11-29";
const YEAR = 2025;
const FLEETS = 40;
const VEHICLES = 36;

/** A fleet's release in a year: what the invented vehicles truly lost, and what the audit says of it. */
function reported(seed: number) {
  const fleet = loggedFleet({ vehicles: VEHICLES, seed, as_of: AS_OF, logged: 1, group_spread: 0.5 });
  const clocks = new SharedClocks();
  const from = isoFromDay(dayNumber(AS_OF) - Math.round(365.25 * RECORDS_YEARS));
  const questions = fleet.map(({ nameplate_g, log }) =>
    questionOf({
      as_of: AS_OF,
      vehicle: { refrigerant: "R-134a", nameplate_g },
      log,
      logged: { from: log[0]?.finish === "weighed" ? null : from, until: AS_OF, missed: 0 },
    }),
  );
  const asked = questions.map((question) => ({ record: false, clocks: clocks.of(question) }));
  const groups = new Map(
    [...Map.groupBy(questions.keys(), (v) => fleet[v]!.group)].map(([group, members]) => {
      const fit = fitCohort(
        Array.from(members, (v) => lnLikelihoodOf(posteriorOf(questions[v]!, asked[v]), questions[v]!.leak_prior)),
      );
      return [group, { mean_sd: fit.mean_sd, prior: cohortPrior(fit) }] as const;
    }),
  );
  let truth_g = 0;
  const rows: SummedRow[] = fleet.flatMap(({ group, losses }, v) => {
    const { mean_sd, prior } = groups.get(group)!;
    const posterior = posteriorOf(questions[v]!, { ...asked[v], ln_x_prior: prior });
    const row = auditYears(questions[v]!, posterior, prior).find(({ year }) => year === YEAR);
    if (row === undefined) return [];
    const to_day = dayNumber(`${YEAR + 1}-01-01`);
    const from_day = to_day - 365.25 * row.span_years;
    for (const { day, lost_g } of losses) if (day > from_day && day <= to_day) truth_g += lost_g;
    return [{ ...row, fleet_group: group, mean_sd }];
  });
  return { truth_g, rows };
}

test("the likely range of a fleet's yearly release holds the truth about nine times of ten, as independent errors do not", () => {
  const held = { together: 0, apart: 0 };
  for (let seed = 1; seed <= FLEETS; seed++) {
    const { truth_g, rows } = reported(1000 + seed);
    const holds = (sd_g: number) => {
      const { p05_g, p95_g } = lossInterval(sum.lost_g, sd_g);
      return truth_g >= p05_g && truth_g <= p95_g;
    };
    const sum = summedAudit(rows);
    const apart_sd = Math.hypot(...rows.map(({ lost_sd_g }) => lost_sd_g));
    if (holds(sum.lost_sd_g)) held.together++;
    if (holds(apart_sd)) held.apart++;
  }
  // A binomial share of 0.9 in 40 fleets lies within 0.8 and 1 in 98 of 100 cases.
  expect(held.together / FLEETS).toBeGreaterThanOrEqual(0.8);
  expect(held.apart / FLEETS).toBeLessThan(0.75);
}, 120_000);
