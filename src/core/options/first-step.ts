import { FIRST_STEP_LEAST } from "../../../data/model-constants.ts";
import type { FirstStep } from "../question/contract.ts";
import { LOCATION_IDS } from "../question/contract.ts";
import { bestRule, locateFee } from "./compare.ts";
import type { Option } from "./option.ts";
import type { Outlook } from "./outlook.ts";
import { placePrices, tallyCostWithCarbon } from "./tally.ts";
import { isTest } from "./verdict.ts";

const PORT = LOCATION_IDS.indexOf("service-port");

/**
 * New valve cores and sealing caps at the service ports, before anything dearer. Null where the ports are unlikely, a
 * rule bars repairs, there is no pressure, or readings come first.
 *
 * Like a test it is counted as if its outcome were known at once. With chance p × holds the leak has ended, for the
 * price and the ports' part of a service; otherwise the best course follows, with the ports less likely than before.
 */
export function firstStepOf(outlook: Outlook): FirstStep | null {
  const { question, known, comparison, futures, tags } = outlook;
  const probability = known.belief[PORT]!;
  const [repair] = comparison.options;
  if (probability < FIRST_STEP_LEAST || known.guards.empty || comparison.verdict.option === "check-first") return null;
  if (repair === undefined || repair.not_offered_because !== null) return null;

  const price = question.prices.price[PORT]!;
  const holds = question.prices.holds[PORT]!;
  const ends_leak = probability * holds;
  const courses = comparison.options.filter((option) => option.offered && !isTest(option));
  const base = Math.min(...courses.map(({ expected_cost_with_carbon }) => expected_cost_with_carbon));
  const helped = tallyCostWithCarbon(futures.repair_now, 0, tags, {
    service_part: question.prices.service[PORT]!,
    repair: price,
  });
  const missed = ends_leak < 1 ? price + costWithout(outlook, courses, beliefAfter(known.belief, holds)) : 0;
  return {
    id: "cores-and-caps",
    location: "service-port",
    probability,
    ends_leak,
    price,
    saves: base - (ends_leak * helped + (1 - ends_leak) * missed),
  };
}

/** Chance of each place after new cores and caps did not end the leak. */
function beliefAfter(belief: readonly number[], holds: number): number[] {
  const left = belief.map((share, l) => (l === PORT ? share * (1 - holds) : share));
  const total = left.reduce((sum, share) => sum + share, 0);
  return left.map((share) => share / total);
}

/** Cost with carbon of the best course, with other chances of the places. */
function costWithout({ futures, tags }: Outlook, courses: readonly Option[], belief: readonly number[]): number {
  const place = placePrices(belief, tags, locateFee(belief, tags));
  return Math.min(
    ...courses.map(({ id, expected_cost_with_carbon }) => {
      if (id === "repair") return tallyCostWithCarbon(futures.repair_now, 0, tags, place);
      if (id !== "top-off") return expected_cost_with_carbon;
      return tallyCostWithCarbon(futures.top_off_mean, bestRule(futures, tags, place), tags, place);
    }),
  );
}
