import type { Child } from "hono/jsx";
import type { OptionAnswer, Reason } from "../../src/core/question/contract.ts";
import { Term } from "../parts/term.tsx";
import { RuleLink } from "../rules/local-rules.tsx";
import { MAY_NOT, WHO } from "../rules/may-not.ts";
import { bestLeak_g, saidLeak, saidLife } from "../words/estimates.ts";
import { estimated, saidChance, saidDifference, saidMass, saidMoney, saidRelease } from "../words/numbers.ts";
import { OPTION_NAMES, PLACE_NAMES } from "../words/places.ts";
import { Charge, Day, Money, Release } from "../words/said.tsx";
import { saidDays, saidMonth, saidMonths, saidYears } from "../words/times.ts";
import { tellingBreakEvens } from "./change.tsx";
import { limitOf, lowAgainIfFilled } from "./limit.ts";
import {
  chosenOption,
  comparedCost,
  countsCarbon,
  type Outcome,
  repairAndTopOff,
  rivalOf,
  tooFastBecause,
} from "./outcome.ts";
import { tieOf } from "./tie.tsx";

/** A reason with its number, its comparison, and its weight in the decision. */
interface Pull {
  /** Of two reasons about the same thing, only the stronger is shown. */
  about: string;
  /** ln of the ratio of the two numbers, above 0 on the decision's side. Named reasons of the verdict pull hardest. */
  pull: number;
  text: Child;
}

const NAMED = 100;
const REASONS_SHOWN = 3;

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
function namedReason(reason: Reason, outcome: Outcome): Child | null {
  const { answer, question, units, currency, local } = outcome;
  switch (reason.code) {
    case "readings":
      return "The readings show it is not low. Adding refrigerant would not help and could do damage.";
    case "surprise":
      return (
        <>
          {reason.values.days === 0
            ? "It cooled poorly on the day of the last fill"
            : `It cooled poorly ${saidDays(reason.values.days)} after the last fill`}
          . Going by the log, that happens in only {saidChance(reason.values.probability)} cases.
        </>
      );
    case "empty":
      return "No pressure is left. Refrigerant on top of air and moisture neither cools well nor lasts, and harms the system.";
    case "floor":
      if (tooFastBecause(outcome) === "any charge")
        return (
          <>
            A full charge lasts about <Charge>{saidLife(answer.leak.full_charge_lasts_months).best}</Charge>. Under{" "}
            {saidMonths(reason.values.floor_months)}, it is not worth topping off.
          </>
        );
      return (
        <>
          A full charge lasts about <Charge>{saidLife(answer.leak.full_charge_lasts_months).best}</Charge> and is low
          again in under {saidMonths(reason.values.floor_months)} in {saidChance(reason.values.probability)} cases.
          Charges that short are not worth topping off.
        </>
      );
    case "tie-break": {
      const option = chosenOption(outcome);
      const cheaper = tieOf(outcome)?.rival;
      const released = (
        <>
          It releases <Release>{saidRelease(reason.values.release_saved_g, units)}</Release> less over{" "}
          {saidYears(question.plan.keep_years)}
        </>
      );
      const same =
        option !== undefined &&
        cheaper !== undefined &&
        estimated(comparedCost(option)) === estimated(comparedCost(cheaper));
      if (same) return <>{released}, and costs about as much as the cheapest option.</>;
      return (
        <>
          {released}, and costs only{" "}
          <Money>
            {option === undefined || cheaper === undefined
              ? saidMoney(reason.values.dearer_by, currency)
              : saidDifference(comparedCost(option), comparedCost(cheaper), currency)}
          </Money>{" "}
          more than the cheapest option.
        </>
      );
    }
    case "rule": {
      const { option } = reason.values;
      const barred = local.barred.find((one) => one.option === option);
      if (barred === undefined && outcome.electric === "yes" && option === "dye-test")
        return "High voltage drives the compressor: ordinary dye oil may conduct, so only dye in the compressor's own oil may go in.";
      if (barred === undefined) return `Your local rules do not allow ${OPTION_NAMES[option].doing}.`;
      return (
        <>
          {WHO[local.service]} may not {MAY_NOT[option]} (<RuleLink rule={barred.rule} local={local} />
          ).
        </>
      );
    }
    case "cost":
      return null;
  }
}

function comparisons(outcome: Outcome): Pull[] {
  const option = chosenOption(outcome);
  if (option === undefined) return checkPulls(outcome);
  const common = costPull(outcome, option);
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

/** What checking first spares someone who is about to buy: the two prices that hang on it. */
function checkPulls({ answer, question, currency }: Outcome): Pull[] {
  const { repair, topOff } = repairAndTopOff(answer);
  return [
    {
      about: "cost",
      pull: 1,
      text: (
        <>
          {answer.verdict.guard === "readings"
            ? "Neither would bring the cooling back"
            : "Without readings you may pay for what it does not need"}
          : over {saidYears(question.plan.keep_years)}, topping it off costs about{" "}
          <Money>{saidMoney(comparedCost(topOff), currency)}</Money>, repairing it about{" "}
          <Money>{saidMoney(comparedCost(repair), currency)}</Money>.
        </>
      ),
    },
  ];
}

/** Cost against the best of the other options that are open; against topping off or repairing where none is. */
function costPull(outcome: Outcome, option: OptionAnswer): Pull[] {
  const { answer, question, currency } = outcome;
  const { repair, topOff } = repairAndTopOff(answer);
  const rival = rivalOf(outcome) ?? (option.id === "repair" ? topOff : repair);
  // A closed rival that is cheaper is no reason: the guard that closed it is.
  if (rival.id === option.id) return [];
  return [
    {
      about: "cost",
      pull: Math.log(comparedCost(rival) / Math.max(comparedCost(option), 1)),
      text: (
        <>
          Over {saidYears(question.plan.keep_years)}, {OPTION_NAMES[option.id].doing} costs about{" "}
          <Money>{saidMoney(comparedCost(option), currency)}</Money>; {OPTION_NAMES[rival.id].doing} costs about{" "}
          <Money>{saidMoney(comparedCost(rival), currency)}</Money>
          {countsCarbon(outcome) && ", each with its CO₂e priced in"}.
        </>
      ),
    },
  ];
}

/** The leak against that at which repairing now and topping off, with a repair later where it pays, cost the same. */
function leakPull(outcome: Outcome, id: "top-off" | "repair"): Pull[] {
  const { answer, question, units } = outcome;
  const { leak_g_per_year } = tellingBreakEvens(outcome);
  if (leak_g_per_year === null) return [];
  const side = Math.log(leak_g_per_year / bestLeak_g(answer.leak.g_per_year));
  return [
    {
      about: "leak",
      pull: id === "top-off" ? side : -side,
      text:
        id === "top-off" ? (
          // The sentence names one limit already; the leak at which repairing is cheaper is folded away.
          <>
            It loses about <Charge>{saidLeak(answer.leak.g_per_year, units).best}</Charge> of the{" "}
            {saidMass(question.nameplate_g, units)} it holds.
          </>
        ) : (
          <>
            It loses about <Charge>{saidLeak(answer.leak.g_per_year, units).best}</Charge>. Topping off is cheaper only
            below <Charge>{saidMass(leak_g_per_year, units)} a year</Charge>.
          </>
        ),
    },
  ];
}

/** The repair's price against that at which the two cost the same. */
function pricePull(outcome: Outcome, id: "top-off" | "repair"): Pull[] {
  const { repair_price } = tellingBreakEvens(outcome);
  if (repair_price === null) return [];
  const { factor, at, now } = repair_price;
  const price = <Money>{saidMoney(at, outcome.currency)}</Money>;
  const today = <Money>{saidMoney(now, outcome.currency)}</Money>;
  return [
    {
      about: "prices",
      pull: id === "top-off" ? -Math.log(factor) : Math.log(factor),
      text:
        id === "top-off" ? (
          <>
            A repair would have to cost less than {price} to be cheaper; it costs about {today}.
          </>
        ) : (
          <>
            Repair stays cheaper until it costs {price}; it costs about {today}.
          </>
        ),
    },
  ];
}

/** What is released for a repair, how long a charge lasts for a top-off. */
function otherPulls(outcome: Outcome, id: "top-off" | "repair"): Pull[] {
  const { answer, question, units } = outcome;
  const { repair, topOff } = repairAndTopOff(answer);
  const { floor_months, keep_years } = question.plan;
  if (id === "repair") {
    return [
      {
        about: "release",
        pull: Math.log(topOff.release_g / repair.release_g),
        text: (
          <>
            It releases about <Release>{saidRelease(repair.release_g, units)}</Release> over {saidYears(keep_years)}.
            Topping off releases <Release>{saidRelease(topOff.release_g, units)}</Release>.
          </>
        ),
      },
      seepPull({ answer, question, units }),
    ];
  }
  if (floor_months === 0) return [];
  const pull = Math.log(answer.leak.full_charge_lasts_months.median / floor_months);
  return [{ about: "lasting", pull, text: <Lasting outcome={outcome} /> }];
}

/** How long a charge lasts, beside the one limit of the sentence. */
function Lasting({ outcome }: { outcome: Outcome }) {
  const { answer } = outcome;
  const { full_charge_lasts_months: lasts } = answer.leak;
  const limit = limitOf(outcome);
  const best = <Charge>{saidLife(lasts).best}</Charge>;
  const low_again = answer.low_now ? lowAgainIfFilled(outcome) : answer.forecast.next_low.p50;
  if (limit?.kind === "date" && low_again !== null && low_again > limit.iso) {
    return (
      <>
        A full charge lasts about {best}. {answer.low_now ? "Topped off today, it" : "What is in it"} should last until
        about {saidMonth(low_again)}, past <Day iso={limit.iso} />.
      </>
    );
  }
  if (limit?.kind === "months" && lasts.median > limit.months) {
    return (
      <>
        A full charge lasts about {best}, beyond those {saidMonths(limit.months)}.
      </>
    );
  }
  return (
    <>
      A full charge lasts about {best} (likely range {saidLife(lasts).range}).
    </>
  );
}

/** The leak against what a system without a leak loses by design. */
function seepPull({ answer, question, units }: Pick<Outcome, "answer" | "question" | "units">): Pull {
  const seep_g = question.assumptions.seep_fraction * question.nameplate_g;
  return {
    about: "leak",
    pull: Math.log(bestLeak_g(answer.leak.g_per_year) / seep_g),
    text: (
      <>
        It loses about <Charge>{saidLeak(answer.leak.g_per_year, units).best}</Charge>. A system without a leak{" "}
        <Term id="normal-seep">loses</Term> about <Charge>{saidMass(seep_g, units)}</Charge>.
      </>
    ),
  };
}

function testPulls({ answer, question, currency }: Outcome, option: OptionAnswer): Pull[] {
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
          Knowing where it leaks would save about <Money>{saidMoney(located, currency)}</Money> on average. Even the
          most likely location, {PLACE_NAMES[likeliest.id].at}, is right in only {saidChance(likeliest.probability)}{" "}
          cases.
        </>
      ),
    });
  }
  const costs = question.prices.price;
  pulls.push({
    about: "prices",
    pull: NAMED / 4,
    text: (
      <>
        Parts and labor cost <Money>{saidMoney(Math.min(...costs), currency)}</Money> to{" "}
        <Money>{saidMoney(Math.max(...costs), currency)}</Money>, depending on where it leaks. The test costs{" "}
        <Money>{saidMoney(price, currency)}</Money>.
      </>
    ),
  });
  return pulls;
}

function seasonPull({ answer, question, currency }: Outcome): Pull[] {
  const worth = question.plan.season_worth;
  const { season_worth } = answer.break_even;
  if (worth === null || season_worth === null) return [];
  return [
    {
      about: "season",
      pull: Math.log(season_worth / worth),
      text: (
        <>
          You value a year of cooling at <Money>{saidMoney(worth, currency)}</Money>. Above{" "}
          <Money>{saidMoney(season_worth, currency)}</Money>, another option would pay off.
        </>
      ),
    },
  ];
}
