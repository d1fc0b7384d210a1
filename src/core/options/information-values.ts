import type { ValueOf } from "../question/contract.ts";
import { comparedOption } from "../question/option-of.ts";
import { bestRule, locateFee, lookOver } from "./compare.ts";
import { eventFreeRelease, type Futures } from "./futures.ts";
import type { Option } from "./option.ts";
import type { Outlook } from "./outlook.ts";
import { type PlacePrices, type PriceTags, placePrices, tallyCostWithCarbon } from "./tally.ts";
import { cheapest, isTest } from "./verdict.ts";

/** What information is worth before deciding (MODEL §6), money with carbon; null where there is nothing to compare. */
export function informationValues(outlook: Outlook): ValueOf {
  const { question, futures, tags, known } = outlook;
  const { options } = outlook.comparison;
  const look_over = lookOver(question, futures, tags, known);
  const courses = options.filter((option) => option.offered && !isTest(option));
  const base = cheapest(courses)?.expected_cost_with_carbon ?? null;
  const test_net = (id: Option["id"]): number | null => {
    const test = comparedOption(outlook.comparison, id);
    return base === null || !test.offered ? null : base - test.expected_cost_with_carbon;
  };
  return {
    perfect_leak_rate: base === null ? null : Math.max(0, base - knowingTheLeak(outlook, courses)),
    perfect_location: base === null ? null : Math.max(0, base - knowingThePlace(outlook, courses)),
    dye_test_net: test_net("dye-test"),
    electronic_test_net: test_net("electronic-test"),
    look_over: base === null || look_over === null ? null : base - look_over.expected_cost_with_carbon,
  };
}

/** Expected cost if the leak were known before choosing. */
function knowingTheLeak({ futures, tags, known }: Outlook, courses: readonly Option[]): number {
  const place = placePrices(known.belief, tags, locateFee(known.belief, tags));
  const { nodes } = futures.start;
  let expected = 0;
  for (let n = 0; n < nodes.count; n++) {
    let least = Infinity;
    for (const course of courses) least = Math.min(least, courseCost(course, futures, tags, place, n));
    expected += nodes.weight[n]! * least;
  }
  return expected;
}

/** Cost with carbon of repair, top-off under its best rule, or living without, at node `n`. */
function courseCost(course: Option, futures: Futures, tags: PriceTags, place: PlacePrices, n: number): number {
  if (course.id === "repair") return tallyCostWithCarbon(futures.repair_now, 0, tags, place);
  if (course.id === "live-without") {
    return course.fixed + tags.release * eventFreeRelease(futures, n, futures.spending.horizon.years);
  }
  let least = Infinity;
  const per_node = futures.rules.length;
  for (let rule = 0; rule < per_node; rule++) {
    least = Math.min(least, tallyCostWithCarbon(futures.top_off, n * per_node + rule, tags, place));
  }
  return least;
}

/** Expected cost if the place were known before choosing, so that finding it costs nothing. */
function knowingThePlace({ futures, tags, known }: Outlook, courses: readonly Option[]): number {
  let expected = 0;
  known.belief.forEach((share, l) => {
    if (share === 0) return;
    const place: PlacePrices = { service_part: tags.service_part[l]!, repair: tags.repair_price[l]! };
    let least = Infinity;
    for (const course of courses) {
      if (course.id === "repair") {
        least = Math.min(least, tallyCostWithCarbon(futures.repair_now, 0, tags, place));
      } else if (course.id === "top-off") {
        least = Math.min(least, tallyCostWithCarbon(futures.top_off_mean, bestRule(futures, tags, place), tags, place));
      } else {
        least = Math.min(least, course.expected_cost_with_carbon);
      }
    }
    expected += share * least;
  });
  return expected;
}
