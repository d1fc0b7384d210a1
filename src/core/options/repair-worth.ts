import { meanPath } from "./option.ts";
import type { Outlook } from "./outlook.ts";
import { repairTimes, tallyCostWithCarbon } from "./tally.ts";

/**
 * The price on the day, service and refrigerant in it, up to which repairing a leak that the advised test has located
 * costs less than topping it off; in money. Null where no test is the answer, where nothing but a repair is open after
 * it, and where no price would be low enough. The price of its service is taken to grow like the rest, and the share of
 * rework to be the average over locations.
 */
export function repairWorth({ comparison, futures, tags, known }: Outlook): number | null {
  const { option } = comparison.verdict;
  if (option !== "dye-test" && option !== "electronic-test") return null;
  const isOpen = (id: string) => comparison.options.some((one) => one.id === id && one.offered);
  if (!isOpen("top-off")) return null;
  const course = option === "dye-test" ? "repair-after-dye" : "repair-now";
  const nothing = { service_part: 0, repair: 0 };
  const [tallies, row] = meanPath(futures, { course, rule: 0 });
  const repair = tallyCostWithCarbon(tallies, row, tags, nothing);
  const times = repairTimes(tallies, row, tags);
  // Both costs are linear in the price; below the least of these, repairing beats every switch rule.
  const worth = futures.rules.map((_, rule) => {
    const apart = tallyCostWithCarbon(futures.top_off_mean, rule, tags, nothing) - repair;
    return apart / (times - repairTimes(futures.top_off_mean, rule, tags));
  });
  const least = Math.min(...worth.filter(Number.isFinite));
  if (!Number.isFinite(least) || least <= 0) return null;
  return least * withoutRework(known.belief, tags);
}

/** What is paid on the day, as a share of a repair's price with its rework, on average over locations. */
function withoutRework(belief: readonly number[], tags: Outlook["tags"]): number {
  let whole = 0;
  let rework = 0;
  belief.forEach((share, l) => {
    whole += share * (tags.repair_price[l]! + tags.service_part[l]! * tags.service_now);
    rework += share * tags.rework[l]!;
  });
  return 1 - rework / whole;
}
