import { DAYS_PER_YEAR } from "./leak/leak-clock.ts";
import { type MixturePart, mixtureQuantile } from "./maths/mixture.ts";
import { isTopUpDue } from "./options/top-up-due.ts";
import { cheapest, cleanerChoice, firstChoice } from "./options/verdict.ts";
import { type PageAnswer, pageAnswer } from "./page-answer.ts";
import { dayNumber, isoFromDay } from "./quantities/dates.ts";
import type {
  AssessAnswer,
  AssessRequest,
  BreakEven,
  FirstStep,
  LeakAnswer,
  OptionAnswer,
  Reason,
  ValueOf,
  Verdict,
} from "./question/contract.ts";
import { comparedOption } from "./question/option-of.ts";

/**
 * A request under one assumption about something unknown, weighted by its probability; the weights of a list add to 1.
 */
export interface WeightedRequest {
  weight: number;
  request: AssessRequest;
}

/** One answer over several cases, and the answer of each case. */
export interface MixedAnswer {
  answer: PageAnswer;
  /**
   * Which of the cases, from 0: the likeliest whose own answer is the common one; sizes and dates on the page are its
   * own.
   */
  shown: number;
  alone: readonly { weight: number; request: AssessRequest; verdict: Verdict; low_now: boolean }[];
}

interface Case extends WeightedRequest {
  answer: PageAnswer;
}

/**
 * The answer where the nameplate charge, or the refrigerant, is not known: costs, releases and chances are the means
 * over the `cases`, ranges are those of the mixture, and the option is the one that is best on these. A rule that makes
 * an answer by itself (a guard) counts when it holds in half of the cases, by weight.
 *
 * Approximations of ours: each case keeps its own best rule of when to stop topping off; quantiles are read from those
 * that the cases tell (`mixtureQuantile`); break-evens and sensitivity are those of the case shown, and none where its
 * own answer is another. Throws RangeError without a case.
 */
export function mixedAnswer(cases: readonly WeightedRequest[], options: { sensitivity?: boolean } = {}): MixedAnswer {
  const each = cases.map((one): Case => ({ ...one, answer: pageAnswer(one.request, options) }));
  const alone = each.map(({ weight, request, answer }) => ({
    weight,
    request,
    verdict: answer.verdict,
    low_now: answer.low_now,
  }));
  const heaviest = mostLikely(each);
  if (each.length === 1) return { answer: heaviest.answer, shown: 0, alone };

  const mixed_options = heaviest.answer.options.map(({ id }) => mixedOption(each, id));
  const verdict = mixedVerdict(each, mixed_options);
  const agreeing = each.filter(({ answer }) => answer.verdict.option === verdict.option);
  const shown = agreeing.length > 0 ? mostLikely(agreeing) : heaviest;
  const rule_of = comparedOption(shown.answer, "top-off");
  const answer: PageAnswer = {
    ...shown.answer,
    leak: mixedLeak(each, shown.answer.leak),
    forecast: mixedForecast(each, shown.answer),
    locations: shown.answer.locations.map(({ id }, l) => ({
      id,
      probability: mean(each, (one) => one.locations[l]!.probability),
    })),
    options: mixed_options.map((option) =>
      option.id === "top-off"
        ? { ...option, switch_months: rule_of.switch_months, watch_date: rule_of.watch_date }
        : option,
    ),
    verdict,
    first_step: mixedFirstStep(each, verdict),
    value_of: mixedValue(each),
    break_even: agreeing.length > 0 ? shown.answer.break_even : NONE,
    sensitivity: agreeing.length > 0 ? shown.answer.sensitivity : [],
    cost_band: mixedBand(each, verdict),
    paid_today: shown.answer.options.map((_, o) => mean(each, (one) => one.paid_today[o] ?? 0)),
    repair_worth: agreeing.length > 0 ? shown.answer.repair_worth : null,
    likely_low: widestLow(each),
  };
  return { answer: { ...answer, low_now: isTopUpDue(answer) }, shown: each.indexOf(shown), alone };
}

const NONE: BreakEven = {
  leak_g_per_year: null,
  repair_price_factor: null,
  carbon_price_per_t: null,
  season_worth: null,
};

/** The span of the cases; null counts as the latest. */
function widestLow(cases: readonly Case[]): PageAnswer["likely_low"] {
  const of = (which: "p05" | "p95") => cases.map(({ answer }) => answer.likely_low[which]);
  const earliest =
    of("p05")
      .flatMap((date) => date ?? [])
      .toSorted()[0] ?? null;
  const latest = of("p95").some((date) => date === null)
    ? null
    : (of("p95")
        .flatMap((date) => date ?? [])
        .toSorted()
        .at(-1) ?? null);
  return { p05: earliest, p95: latest };
}

function mostLikely(cases: readonly Case[]): Case {
  const most = cases.reduce<Case | null>(
    (best, one) => (best !== null && best.weight >= one.weight ? best : one),
    null,
  );
  if (most === null) throw new RangeError("A mixture of nothing");
  return most;
}

function mean(cases: readonly Case[], of: (answer: PageAnswer) => number): number {
  return cases.reduce((sum, { weight, answer }) => sum + weight * of(answer), 0);
}

function shareOf(cases: readonly Case[], holds: (answer: PageAnswer) => boolean): number {
  return mean(cases, (answer) => (holds(answer) ? 1 : 0));
}

function meanOrNull(cases: readonly Case[], of: (answer: PageAnswer) => number | null): number | null {
  return cases.some(({ answer }) => of(answer) === null) ? null : mean(cases, (answer) => of(answer) ?? 0);
}

function parts(cases: readonly Case[], of: (answer: PageAnswer) => MixturePart["quantiles"]): MixturePart[] {
  return cases.map(({ weight, answer }) => ({ weight, quantiles: of(answer) }));
}

function mixedOption(cases: readonly Case[], id: OptionAnswer["id"]): OptionAnswer {
  const of = (answer: AssessAnswer) => comparedOption(answer, id);
  const offered = shareOf(cases, (answer) => of(answer).offered) >= 0.5;
  const out = cases.map(({ answer }) => of(answer).not_offered_because).find((because) => because !== null) ?? null;
  const spread = parts(cases, (answer) => {
    const { cost_p05, cost_p95 } = of(answer);
    return [
      [0.05, cost_p05],
      [0.95, cost_p95],
    ];
  });
  const years = (which: "cost_by_year" | "release_by_year_g") =>
    of(cases[0]!.answer)[which].map((_, year) => mean(cases, (answer) => of(answer)[which][year]!));
  return {
    id,
    offered,
    not_offered_because: offered ? null : out,
    expected_cost: mean(cases, (answer) => of(answer).expected_cost),
    cost_p05: mixtureQuantile(spread, 0.05),
    cost_p95: mixtureQuantile(spread, 0.95),
    cost_by_year: years("cost_by_year"),
    release_g: mean(cases, (answer) => of(answer).release_g),
    co2e_kg: mean(cases, (answer) => of(answer).co2e_kg),
    release_by_year_g: years("release_by_year_g"),
    expected_cost_with_carbon: mean(cases, (answer) => of(answer).expected_cost_with_carbon),
    probability_cheapest: mean(cases, (answer) => of(answer).probability_cheapest),
    leads_to_repair: meanOrNull(cases, (answer) => of(answer).leads_to_repair),
    switch_months: null,
    watch_date: null,
  };
}

/** The verdict of a guard that holds in half of the cases; else the best of the mixed options, by the rules of §6. */
function mixedVerdict(cases: readonly Case[], options: readonly OptionAnswer[]): Verdict {
  for (const { answer } of cases) {
    const { guard, option } = answer.verdict;
    if (guard === null) continue;
    const same = cases.filter((one) => one.answer.verdict.guard === guard && one.answer.verdict.option === option);
    if (same.reduce((sum, { weight }) => sum + weight, 0) >= 0.5) return mostLikely(same).answer.verdict;
  }
  const offered = options.filter((option) => option.offered);
  const first = firstChoice(offered);
  if (first === null) return mostLikely(cases).answer.verdict;
  const cleaner = cleanerChoice(offered, first);
  const choice = cleaner ?? first;
  const rules = options
    .filter((option) => option.not_offered_because === "rule")
    .map((option): Reason => ({ code: "rule", values: { option: option.id } }));
  const next = cheapest(offered.filter((option) => option !== choice));
  const reason = ((): Reason[] => {
    if (cleaner !== null) {
      const dearer_by = cleaner.expected_cost_with_carbon - first.expected_cost_with_carbon;
      return [{ code: "tie-break", values: { dearer_by, release_saved_g: first.release_g - cleaner.release_g } }];
    }
    if (next === null) return [];
    const cheaper_by = next.expected_cost_with_carbon - choice.expected_cost_with_carbon;
    return [{ code: "cost", values: { next: next.id, cheaper_by } }];
  })();
  return { option: choice.id, guard: null, tie_break: cleaner !== null, reasons: [...reason, ...rules] };
}

function mixedLeak(cases: readonly Case[], shown: LeakAnswer): LeakAnswer {
  const spread = (which: "g_per_year" | "fraction_per_year") => {
    const known = parts(cases, ({ leak }) => {
      const { p05, p25, median, p75, p95 } = leak[which];
      return [
        [0.05, p05],
        [0.25, p25],
        [0.5, median],
        [0.75, p75],
        [0.95, p95],
      ];
    });
    const at = (p: number) => mixtureQuantile(known, p, { log: true });
    return {
      mean: mean(cases, ({ leak }) => leak[which].mean),
      median: at(0.5),
      p05: at(0.05),
      p25: at(0.25),
      p75: at(0.75),
      p95: at(0.95),
    };
  };
  const lasts = parts(cases, ({ leak: { full_charge_lasts_months } }) => [
    [0.05, full_charge_lasts_months.p05],
    [0.5, full_charge_lasts_months.median],
    [0.95, full_charge_lasts_months.p95],
  ]);
  const charge = parts(cases, ({ leak: { charge_now_g } }) => [
    [0.05, charge_now_g.p05],
    [0.5, charge_now_g.mean],
    [0.95, charge_now_g.p95],
  ]);
  const share = (name: keyof LeakAnswer["class"]) => mean(cases, ({ leak }) => leak.class[name]);
  return {
    ...shown,
    g_per_year: spread("g_per_year"),
    fraction_per_year: spread("fraction_per_year"),
    charge_now_g: {
      mean: mean(cases, ({ leak }) => leak.charge_now_g.mean),
      p05: Math.max(0, mixtureQuantile(charge, 0.05)),
      p95: mixtureQuantile(charge, 0.95),
    },
    low_below_g: mean(cases, ({ leak }) => leak.low_below_g),
    full_charge_lasts_months: {
      median: mixtureQuantile(lasts, 0.5, { log: true }),
      p05: mixtureQuantile(lasts, 0.05, { log: true }),
      p95: mixtureQuantile(lasts, 0.95, { log: true }),
    },
    class: { fast: share("fast"), moderate: share("moderate"), slow: share("slow"), seep: share("seep") },
    repair_held: meanOrNull(cases, ({ leak }) => leak.repair_held),
  };
}

/** Later than any forecast. */
const NEVER_YEARS = 40;
const FORECAST_YEARS = 20;

function mixedForecast(cases: readonly Case[], shown: PageAnswer): AssessAnswer["forecast"] {
  const today = dayNumber(shown.as_of);
  const never = today + NEVER_YEARS * DAYS_PER_YEAR;
  const day = (iso: string | null) => (iso === null ? never : dayNumber(iso));
  const known = parts(cases, ({ forecast: { next_low } }) => [
    [0.1, day(next_low.p10)],
    [0.5, day(next_low.p50)],
    [0.9, day(next_low.p90)],
  ]);
  const dateAt = (p: number): string | null => {
    const at = mixtureQuantile(known, p);
    return at > today + FORECAST_YEARS * DAYS_PER_YEAR ? null : isoFromDay(Math.max(today, Math.round(at)));
  };
  const curve = shown.forecast.curve.map((point, i) => {
    const same = cases.filter(({ answer }) => answer.forecast.curve[i]?.date === point.date);
    if (same.length < cases.length) return point;
    const at = parts(cases, ({ forecast }) => [
      [0.05, forecast.curve[i]!.p05_g],
      [0.5, forecast.curve[i]!.mean_g],
      [0.95, forecast.curve[i]!.p95_g],
    ]);
    return {
      ...point,
      mean_g: mean(cases, ({ forecast }) => forecast.curve[i]!.mean_g),
      p05_g: Math.max(0, mixtureQuantile(at, 0.05)),
      p95_g: mixtureQuantile(at, 0.95),
    };
  });
  return { ...shown.forecast, next_low: { p10: dateAt(0.1), p50: dateAt(0.5), p90: dateAt(0.9) }, curve };
}

/** Where half of the cases have one; none where readings come first or there is no pressure. */
function mixedFirstStep(cases: readonly Case[], { option, guard }: Verdict): FirstStep | null {
  const having = cases.filter(({ answer }) => answer.first_step !== null);
  const weight = having.reduce((sum, one) => sum + one.weight, 0);
  if (option === "check-first" || guard === "empty" || weight < 0.5) return null;
  const of = (name: "probability" | "ends_leak" | "price" | "saves") =>
    mean(having, ({ first_step }) => first_step![name]) / weight;
  return {
    ...mostLikely(having).answer.first_step!,
    probability: of("probability"),
    ends_leak: of("ends_leak"),
    price: of("price"),
    saves: of("saves"),
  };
}

function mixedValue(cases: readonly Case[]): ValueOf {
  const of = (name: keyof ValueOf) => meanOrNull(cases, ({ value_of }) => value_of[name]);
  return {
    perfect_leak_rate: of("perfect_leak_rate"),
    perfect_location: of("perfect_location"),
    dye_test_net: of("dye_test_net"),
    electronic_test_net: of("electronic_test_net"),
    look_over: of("look_over"),
  };
}

/** The band of the option in focus, from the cases whose own band is of the same option. */
function mixedBand(cases: readonly Case[], verdict: Verdict): PageAnswer["cost_band"] {
  const same = cases.filter(({ answer }) => answer.verdict.option === verdict.option);
  const counted = same.length > 0 ? same : [mostLikely(cases)];
  const total = counted.reduce((sum, { weight }) => sum + weight, 0);
  const scaled = counted.map((one) => ({ ...one, weight: one.weight / total }));
  const at = (year: number, p: number) =>
    mixtureQuantile(
      parts(scaled, ({ cost_band }) => [
        [0.05, cost_band.p05[year]!],
        [0.95, cost_band.p95[year]!],
      ]),
      p,
    );
  const years = counted[0]!.answer.cost_band.p05.map((_, year) => year);
  return { p05: years.map((year) => at(year, 0.05)), p95: years.map((year) => at(year, 0.95)) };
}
