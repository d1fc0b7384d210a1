import type { Child } from "hono/jsx";
import { formatMonths } from "../../src/core/quantities/format.ts";
import type { UnitSystem } from "../../src/core/quantities/units.ts";
import type { OptionAnswer, Reason } from "../../src/core/question/contract.ts";
import type { Question } from "../../src/core/question/question.ts";
import { Term } from "../parts/term.tsx";
import { RuleLink } from "../rules/local-rules.tsx";
import { MAY_NOT, WHO } from "../rules/may-not.ts";
import { saidChance, saidMass, saidMoney, saidRelease, saidTimes } from "../words/numbers.ts";
import { OPTION_NAMES, PLACE_NAMES } from "../words/places.ts";
import { Charge, Money, Release } from "../words/said.tsx";
import { saidDaysAfter, saidYears } from "../words/times.ts";
import { chosenOption, type Outcome, repairAndTopOff } from "./outcome.ts";

/** A reason with its one number and one comparison, and how hard it pulls towards the decision. */
interface Pull {
  /** Of two reasons about the same thing, the stronger is told. */
  about: string;
  /** ln of the ratio of the two numbers, above 0 on the decision's side. Named reasons of the verdict pull hardest. */
  pull: number;
  text: Child;
}

const NAMED = 100;
const REASONS_SHOWN = 3;
/** Break-even leaks above this many nameplate charges a year tell nothing. */
const TELLING_LEAK = 1.5;

/** The three reasons that moved the decision most. */
export function Reasons({ outcome }: { outcome: Outcome }) {
  const pulls = [...namedReasons(outcome), ...comparisons(outcome)]
    .filter(({ pull }) => pull > 0)
    .toSorted((a, b) => b.pull - a.pull)
    .filter(({ about }, i, all) => all.findIndex((other) => other.about === about) === i)
    .slice(0, REASONS_SHOWN);
  return (
    <ol class="reasons">
      {pulls.map(({ text }) => (
        <li>
          <p>{text}</p>
        </li>
      ))}
    </ol>
  );
}

function namedReasons(outcome: Outcome): Pull[] {
  return outcome.answer.verdict.reasons.flatMap((reason, i) => {
    const text = namedReason(reason, outcome);
    return text === null ? [] : [{ about: aboutOf(reason), pull: NAMED - i, text }];
  });
}

function aboutOf(reason: Reason): string {
  switch (reason.code) {
    case "floor":
      return "lasting";
    case "tie-break":
      return "release";
    case "rule":
      return `rule ${reason.values.option}`;
    default:
      return reason.code;
  }
}

/** Reasons that the verdict itself names; `cost` is said by a comparison below. */
function namedReason(reason: Reason, { answer, question, units, local }: Outcome): Child | null {
  switch (reason.code) {
    case "readings":
      return "The readings do not look like a low charge. More refrigerant would not help and could do harm.";
    case "surprise":
      return (
        <>
          By the log it was unlikely to be low {saidDaysAfter(reason.values.days)} it was filled: in{" "}
          {saidChance(reason.values.probability)} cases. Either a sudden leak, or low charge is not the trouble.
        </>
      );
    case "empty":
      return "No pressure is left, so air and moisture are in it. The leak is found, then it is evacuated and charged by weight.";
    case "floor":
      return (
        <>
          A full charge lasts about <Charge>{formatMonths(answer.leak.full_charge_lasts_months.median)}</Charge>;{" "}
          {formatMonths(reason.values.floor_months)} is the shortest that is worth topping off again.
        </>
      );
    case "tie-break":
      return (
        <>
          It lets out <Release>{saidRelease(reason.values.release_saved_g, units)}</Release> less over{" "}
          {saidYears(question.plan.keep_years)}, and costs only <Money>{saidMoney(reason.values.dearer_by)}</Money> more
          than the cheapest way.
        </>
      );
    case "rule": {
      const { option } = reason.values;
      const barred = local.barred.find((one) => one.option === option);
      if (barred === undefined) return `Your local rules do not allow ${OPTION_NAMES[option].doing}.`;
      return (
        <>
          {WHO[local.service]} may not {MAY_NOT[option]}: <RuleLink rule={barred.rule} local={local} />.
        </>
      );
    }
    case "cost":
      return null;
  }
}

function comparisons(outcome: Outcome): Pull[] {
  const option = chosenOption(outcome);
  if (option === undefined) return [];
  const common = [costPull(outcome, option)];
  switch (option.id) {
    case "top-off":
    case "repair":
      return [
        ...common,
        ...leakPull(outcome, option.id),
        ...pricePull(outcome, option.id),
        ...otherPulls(outcome, option.id),
      ];
    case "dye-test":
    case "electronic-test":
      return [...common, ...testPulls(outcome, option)];
    case "live-without":
      return [...common, ...seasonPull(outcome)];
  }
}

/** Cost against the option that is most often the other choice: repair for a top-off, and the other way round. */
function costPull({ answer, question }: Outcome, option: OptionAnswer): Pull {
  const { repair, topOff } = repairAndTopOff(answer);
  const rivals = [repair, topOff].filter(({ id, offered }) => id !== option.id && offered);
  const rival =
    rivals.toSorted((a, b) => a.expected_cost - b.expected_cost)[0] ?? (option.id === "repair" ? topOff : repair);
  return {
    about: "cost",
    pull: Math.log(rival.expected_cost_with_carbon / Math.max(option.expected_cost_with_carbon, 1)),
    text: (
      <>
        Over {saidYears(question.plan.keep_years)}, {OPTION_NAMES[option.id].doing} costs about{" "}
        <Money>{saidMoney(option.expected_cost)}</Money>; {OPTION_NAMES[rival.id].doing} costs about{" "}
        <Money>{saidMoney(rival.expected_cost)}</Money>.
      </>
    ),
  };
}

/** The leak against the leak at which the two cost the same. */
function leakPull({ answer, question, units }: Outcome, id: "top-off" | "repair"): Pull[] {
  const { leak_g_per_year } = answer.break_even;
  const leak_g = answer.leak.g_per_year.mean;
  // A leak that empties the system in months is beyond comparing: other rules have long decided there.
  if (leak_g_per_year === null || leak_g_per_year > TELLING_LEAK * question.nameplate_g) return [];
  const side = Math.log(leak_g_per_year / leak_g);
  return [
    {
      about: "leak",
      pull: id === "top-off" ? side : -side,
      text: (
        <>
          It loses about <Charge>{saidMass(leak_g, units)} a year</Charge>;{" "}
          {id === "top-off"
            ? "a repair would be the cheaper way above "
            : "topping off would be the cheaper way below "}
          <Charge>{saidMass(leak_g_per_year, units)} a year</Charge>.
        </>
      ),
    },
  ];
}

/** Repair prices against those at which the two cost the same. */
function pricePull({ answer }: Outcome, id: "top-off" | "repair"): Pull[] {
  const { repair_price_factor: factor } = answer.break_even;
  if (factor === null) return [];
  const pull = id === "top-off" ? -Math.log(factor) : Math.log(factor);
  const text =
    id === "top-off" ? (
      <>
        A repair would have to cost under <Money>{Math.round(factor * 100)} %</Money> of the usual price to be the
        cheaper way.
      </>
    ) : (
      <>
        Repairs could cost <Money>{saidTimes(factor)}</Money> the usual price before topping off is the cheaper way.
      </>
    );
  return [{ about: "prices", pull, text }];
}

/** What gets out for a repair, how long a charge lasts for a top-off. */
function otherPulls({ answer, question, units }: Outcome, id: "top-off" | "repair"): Pull[] {
  const { repair, topOff } = repairAndTopOff(answer);
  const { floor_months, keep_years } = question.plan;
  if (id === "repair") {
    return [
      {
        about: "release",
        pull: Math.log(topOff.release_g / repair.release_g),
        text: (
          <>
            It lets out about <Release>{saidRelease(repair.release_g, units)}</Release> over {saidYears(keep_years)},
            where topping off lets out <Release>{saidRelease(topOff.release_g, units)}</Release>.
          </>
        ),
      },
      seepPull(answer.leak.g_per_year.mean, question, units),
    ];
  }
  const lasts_months = answer.leak.full_charge_lasts_months.median;
  if (floor_months === 0) return [];
  return [
    {
      about: "lasting",
      pull: Math.log(lasts_months / floor_months),
      text: (
        <>
          A full charge lasts about <Charge>{formatMonths(lasts_months)}</Charge>; under {formatMonths(floor_months)} a
          leak is too fast to top off.
        </>
      ),
    },
  ];
}

/** The leak against what a sound system loses by design. */
function seepPull(leak_g: number, { assumptions, nameplate_g }: Question, units: UnitSystem): Pull {
  const seep_g = assumptions.seep_fraction * nameplate_g;
  return {
    about: "leak",
    pull: Math.log(leak_g / seep_g),
    text: (
      <>
        It loses about <Charge>{saidMass(leak_g, units)} a year</Charge>; a sound system{" "}
        <Term id="normal-seep">seeps</Term> about <Charge>{saidMass(seep_g, units)}</Charge>.
      </>
    ),
  };
}

function testPulls({ answer, question }: Outcome, option: OptionAnswer): Pull[] {
  const places = answer.locations.toSorted((a, b) => b.probability - a.probability);
  const likeliest = places[0];
  const located = answer.value_of.perfect_location;
  const price = option.id === "dye-test" ? question.prices.dye_price : question.prices.electronic_price;
  const pulls: Pull[] = [];
  if (likeliest !== undefined && located !== null) {
    pulls.push({
      about: "places",
      pull: NAMED / 2,
      text: (
        <>
          Knowing the place would save <Money>{saidMoney(located)}</Money> on average: the likeliest,{" "}
          {PLACE_NAMES[likeliest.id].at}, is the place in only {Math.round(likeliest.probability * 100)} of 100 cases.
        </>
      ),
    });
  }
  const costs = question.prices.price;
  const [least, most] = [Math.min(...costs), Math.max(...costs)];
  pulls.push({
    about: "prices",
    pull: NAMED / 4,
    text: (
      <>
        The repair itself is <Money>{saidMoney(least)}</Money> at the cheapest place and{" "}
        <Money>{saidMoney(most)}</Money> at the dearest; the test is <Money>{saidMoney(price)}</Money>.
      </>
    ),
  });
  return pulls;
}

function seasonPull({ answer, question }: Outcome): Pull[] {
  const worth = question.plan.season_worth;
  const { season_worth } = answer.break_even;
  if (worth === null || season_worth === null) return [];
  return [
    {
      about: "season",
      pull: Math.log(season_worth / worth),
      text: (
        <>
          A year of cooling counts as <Money>{saidMoney(worth)}</Money>; from <Money>{saidMoney(season_worth)}</Money> a
          year on, another way would pay.
        </>
      ),
    },
  ];
}
