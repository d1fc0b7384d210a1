import { eventFreeRelease, type Futures, futuresOf } from "./futures.ts";
import { meanPath, type Option } from "./option.ts";
import type { Outlook } from "./outlook.ts";
import { fadingIntegral } from "./spending.ts";
import { placePrices, tallyCost, tallyRelease } from "./tally.ts";

/** Cost and release of an option in each year ahead; the first is the year that begins today. */
export interface YearSplit {
  /** Cost, money discounted to today, without carbon. */
  cost_by_year: number[];
  /** Release, grams. */
  release_by_year_g: number[];
}

/** The cost and release of each option of `comparison` by year, from the same walk with a row for each year. */
export function yearSplits({ question, futures, tags, comparison }: Outlook): YearSplit[] {
  const years = Math.ceil(question.plan.keep_years);
  const used = new Set(
    comparison.options.flatMap(({ branches }) =>
      branches.filter(({ course }) => course === "top-off").map(({ rule }) => rule),
    ),
  );
  const rules = [...used].toSorted((a, b) => a - b);
  const by_year = futuresOf(question, futures.start, futures.table, {
    schedules: futures.schedules,
    picked: rules,
    by_year: true,
  });
  return comparison.options.map((option) => {
    if (option.id === "live-without") return withoutYears(option, futures, years);
    const cost_by_year = new Array<number>(years).fill(0);
    const release_by_year_g = new Array<number>(years).fill(0);
    cost_by_year[0]! += option.fixed;
    for (const branch of option.branches) {
      const [tallies, path] = meanPath(by_year, { ...branch, rule: rules.indexOf(branch.rule) });
      const place = placePrices(branch.belief, tags, branch.locate);
      for (let year = 0; year < years; year++) {
        cost_by_year[year]! += branch.chance * tallyCost(tallies, path * years + year, tags, place);
        release_by_year_g[year]! += branch.chance * tallyRelease(tallies, path * years + year, tags);
      }
    }
    return { cost_by_year, release_by_year_g };
  });
}

/** The years of living without cooling: the worth of each season, and what leaks out. */
function withoutYears(option: Option, futures: Futures, years: number): YearSplit {
  const { horizon } = futures.spending;
  const { nodes } = futures.start;
  const whole = fadingIntegral(horizon.fade, 0, horizon.years);
  const cost_by_year: number[] = [];
  const release_by_year_g: number[] = [];
  let released = 0;
  for (let year = 0; year < years; year++) {
    const end = Math.min(horizon.years, year + 1);
    cost_by_year.push((option.fixed * fadingIntegral(horizon.fade, year, end)) / whole);
    let by_end = 0;
    for (let n = 0; n < nodes.count; n++) by_end += nodes.weight[n]! * eventFreeRelease(futures, n, end);
    release_by_year_g.push(by_end - released);
    released = by_end;
  }
  return { cost_by_year, release_by_year_g };
}
