import { DYE_WAIT_YEARS, REPAIR_RELEASE_SHARE } from "../../../data/model-constants.ts";
import { assess } from "../assess.ts";
import { locateFee } from "../options/compare.ts";
import { isTopUpDue } from "../options/top-up-due.ts";
import { cheapest, cleanerChoice, firstChoice } from "../options/verdict.ts";
import { mainUnits } from "../quantities/money.ts";
import {
  type AssessAnswer,
  type AssessRequest,
  type FirstStep,
  LOCATION_IDS,
  type LocationId,
  type OptionAnswer,
  type OptionId,
} from "../question/contract.ts";
import { comparedOption } from "../question/option-of.ts";
import { type Question, questionOf } from "../question/question.ts";
import { co2eKg } from "../refrigerant/gwp.ts";
import { type OptionTotal, optionTotal, placePriceRange, type QuoteOption, type Taxes } from "./quote.ts";

/** What the years ahead hold for each option of a quote: today's exact price, and after it the model's estimate. */

export interface QuoteOffer {
  options: readonly QuoteOption[];
  taxes: Taxes;
  currency: string;
  /** The question on the day of the quote, at the shop's prices; its years kept are set anew. */
  request: AssessRequest;
}

/** Why an option may be less than it looks, or how sure it is. */
export type Sureness =
  /** The leak is at the place with this probability, and a repair there holds with this one. */
  | { code: "place"; place: LocationId; probability: number; holds: number }
  /** A full charge lasts so many months. */
  | { code: "lasts"; months: { median: number; p05: number; p95: number } }
  /** After the test a repair is the better way with this probability. */
  | { code: "leads"; probability: number }
  /** Wherever the leak is found, a repair holds with this probability. */
  | { code: "found"; holds: number };

/** Money in the main unit, today's worth; grams to air and kg CO₂e over the years kept. */
export interface OptionYears {
  /** What comes after today, on average. */
  later: number;
  total: number;
  yearly: number;
  /** In nine of ten cases the total is between these. */
  likely: { from: number; to: number };
  release_g: number;
  co2e_kg: number;
  sure: Sureness;
}

export interface OptionOutlook {
  id: string;
  price: OptionTotal;
  /** Null for an option whose work the model knows nothing about. */
  years: OptionYears | null;
  /** Whether it is open to the model: not barred by a rule, nor by a leak too fast for it, nor done already. */
  open: boolean;
  not_open_because: OptionAnswer["not_offered_because"];
}

/** What happens when nothing is done at all. */
export interface Nothing {
  /** The charge is near or under the one that cools weakly. */
  low_now: boolean;
  /** Median day of cooling weakly; null when not within 20 years. */
  low_on: string | null;
  release_g: number;
  co2e_kg: number;
}

/** What the record says about the vehicle today. */
export interface KnownLeak {
  /** Without a median in quotes sent before the best estimate was one. */
  g_per_year: { mean: number; median?: number | undefined; p05: number; p95: number };
  charge_now_g: number;
  /**
   * Nothing is logged, or one visit alone, between which no loss shows: then these are what usually holds, not what
   * this vehicle has shown.
   */
  from_nothing: boolean;
}

export interface QuoteOutlook {
  keep_years: number;
  leak: KnownLeak;
  options: OptionOutlook[];
  nothing: Nothing;
  /** The option that the model would take, by the rules of its verdict; null when it takes none of them. */
  advised: string | null;
  /** Why it is that one; null when there is none, and absent from quotes of before this was kept. */
  why?: AdvisedWhy | null | undefined;
  /** Readings say that low charge is not the trouble, or are due before anything is bought: then nothing is advised. */
  check_first: boolean;
  /** The charge is well above the low line, and by the model it may stay as it is: then nothing is advised. */
  not_needed?: boolean | undefined;
  /** New valve cores and sealing caps, where the ports may leak; absent from quotes of before this was kept. */
  first_step?: FirstStep | null | undefined;
}

/** Why the advised option is that one, against the best of the others; money in the main unit. */
export type AdvisedWhy =
  /** Nothing else is open. */
  | { code: "only" }
  /** It costs that much less over the years. */
  | { code: "cheapest"; than: string; cheaper_by: number }
  /** It costs about as much as the cheapest, and this share of what that one releases. */
  | { code: "cleaner"; than: string; dearer_by: number; release_share: number };

/** Dearer than anything, so that only its release is of use. */
const WORTH_OF_EVERYTHING = 100_000;

/**
 * The outlook over `keep_years`. Deterministic: the same offer gives the same outlook. Today's price is the quote's;
 * what comes later is the model's expected cost less what it counts for today, so that a discount today changes today
 * only. A repair of one place, when it is not certain that the leak is there, counts what follows if it is elsewhere.
 */
export function quoteOutlook(offer: QuoteOffer, keep_years: number): QuoteOutlook {
  const seen = new Answers({
    ...offer.request,
    plan: { ...offer.request.plan, keep_years, season_worth: offer.request.plan?.season_worth ?? WORTH_OF_EVERYTHING },
  });
  const { now, question } = seen;
  const { plan, refrigerant } = question;
  const kg = (release_g: number) => co2eKg(plan.gwp, refrigerant, release_g);

  const options = offer.options.map((option): OptionOutlook => {
    const price = optionTotal(option, offer.taxes, offer.currency);
    const today = mainUnits(price.total_minor, offer.currency);
    const least = mainUnits(
      placePriceRange(option, price.total_minor)?.least_minor ?? price.total_minor,
      offer.currency,
    );
    const course = courseOf(option, seen, offer.currency);
    const because = notOpenBecause(option, now);
    return {
      id: option.id,
      price,
      years: course === null ? null : yearsOf(course, { today, least }, keep_years, kg),
      open: because === null,
      not_open_because: because,
    };
  });

  const check_first = now.verdict.option === "check-first";
  const not_needed = !check_first && isNothingNeeded(now);
  const advised = check_first || not_needed ? null : advisedOption(offer.options, options, plan.carbon_price_per_t);
  const without = comparedOption(now, "live-without");
  const { mean, median, p05, p95 } = now.leak.g_per_year;
  return {
    keep_years,
    leak: {
      g_per_year: { mean, median, p05, p95 },
      charge_now_g: now.leak.charge_now_g.mean,
      from_nothing: question.log.length < 2,
    },
    options,
    nothing: {
      low_now: isTopUpDue(now),
      low_on: now.forecast.next_low.p50,
      release_g: without.release_g,
      co2e_kg: kg(without.release_g),
    },
    advised: advised?.id ?? null,
    why: advised?.why ?? null,
    check_first,
    not_needed,
    first_step: offer.options.some(({ work }) => work.repair === "service-port") ? null : now.first_step,
  };
}

/**
 * Whether nothing has to be done today: refrigerant is not to be sold to a car that is full. A repair or a test that
 * the model advises is worth its price at any charge, so it still counts as needed.
 */
export function isNothingNeeded(now: AssessAnswer): boolean {
  return now.verdict.option === "top-off" && !isTopUpDue(now);
}

/** Answers of the model that the options of one quote need, each computed once. */
class Answers {
  readonly request: AssessRequest;
  readonly question: Question;
  readonly now: AssessAnswer;
  #recharged: AssessAnswer | null = null;

  constructor(request: AssessRequest) {
    this.request = request;
    this.question = questionOf(request);
    this.now = answer(request);
  }

  /** After a full charge by weight today. */
  get recharged(): AssessAnswer {
    this.#recharged ??= answer(withFullCharge(this.request));
    return this.#recharged;
  }

  /** Were the leak known to be at `place`. */
  at(place: LocationId): AssessAnswer {
    return answer({ ...withShares(this.request, (id) => (id === place ? 1 : 0)), findings: [] });
  }

  /** After a full charge today and a repair of `place`, when the leak is elsewhere. */
  elsewhere(place: LocationId): AssessAnswer {
    const shares = this.question.prices.share;
    return answer(withFullCharge(withShares(this.request, (id, l) => (id === place ? 0 : shares[l]!))));
  }
}

function answer(request: AssessRequest): AssessAnswer {
  return assess(request, { sensitivity: false });
}

function withFullCharge(request: AssessRequest): AssessRequest {
  return { ...request, log: [...(request.log ?? []), { date: request.as_of, finish: "weighed" }] };
}

function withShares(request: AssessRequest, share: (id: LocationId, l: number) => number): AssessRequest {
  const given = request.prices?.locations;
  const locations = Object.fromEntries(LOCATION_IDS.map((id, l) => [id, { ...given?.[id], share: share(id, l) }]));
  return { ...request, prices: { ...request.prices, locations } };
}

/** What follows after today, on average and between likely bounds. */
interface Course {
  later: { mean: number; from: number; to: number };
  release_g: number;
  sure: Sureness;
}

function courseOf(option: QuoteOption, seen: Answers, currency: string): Course | null {
  const { work } = option;
  if (work.repair === "found") return repairOfFound(seen, option, currency);
  if (work.repair !== null) return repairOfPlace(seen, work.repair);
  if (work.test !== null) return afterTest(work.recharge ? seen.recharged : seen.now, work.test, seen.question);
  return work.recharge ? afterRecharge(seen) : null;
}

function afterRecharge({ recharged }: Answers): Course {
  const option = comparedOption(recharged, "top-off");
  const { median, p05, p95 } = recharged.leak.full_charge_lasts_months;
  return {
    later: less(option, 0),
    release_g: option.release_g,
    sure: { code: "lasts", months: { median, p05, p95 } },
  };
}

function afterTest(from: AssessAnswer, test: "dye" | "electronic", { prices, plan, assumptions }: Question): Course {
  const option = comparedOption(from, `${test}-test`);
  const look = Math.exp(-(assumptions.discount + plan.hazard) * DYE_WAIT_YEARS);
  const today = test === "dye" ? prices.dye_price + look * prices.dye_inspection_fee : prices.electronic_price;
  return {
    later: less(option, today),
    release_g: option.release_g,
    sure: { code: "leads", probability: option.leads_to_repair ?? 0 },
  };
}

/**
 * The model's repair: the place is found first, and what it costs is a mean over places. The quote's price is for one
 * of them, so what comes after it holds the difference, too.
 */
function repairOfFound({ now, question }: Answers, { work, found }: QuoteOption, currency: string): Course | null {
  if (found === null) return null;
  const { prices } = question;
  const option = comparedOption(now, "repair");
  const belief = now.locations.map(({ probability }) => probability);
  const test_quoted = work.test === "electronic" ? prices.electronic_price : 0;
  const quoted = mainUnits(found.totals_minor[found.priced_for], currency);
  return {
    later: less(option, quoted - test_quoted + locateFee(belief, prices)),
    release_g: option.release_g,
    sure: { code: "found", holds: prices.holds.reduce((sum, holds, l) => sum + holds * belief[l]!, 0) },
  };
}

function repairOfPlace(seen: Answers, place: LocationId): Course {
  const { now, question } = seen;
  const l = LOCATION_IDS.indexOf(place);
  const probability = now.locations[l]!.probability;
  const hit = comparedOption(seen.at(place), "repair");
  const later = less(hit, repairToday(question, l));
  const sure: Sureness = { code: "place", place, probability, holds: question.prices.holds[l]! };
  if (probability > CERTAIN) return { later, release_g: hit.release_g, sure };

  const elsewhere = seen.elsewhere(place);
  const next = cheapest(elsewhere.options.filter(({ offered, id }) => offered && id !== "live-without"));
  const miss = next ?? comparedOption(elsewhere, "top-off");
  const missed = 1 - probability;
  const opened_g = REPAIR_RELEASE_SHARE * question.nameplate_g;
  return {
    later: {
      mean: probability * later.mean + missed * miss.expected_cost,
      from: probability > TAIL ? later.from : miss.cost_p05,
      to: missed > TAIL ? Math.max(later.to, upTo(miss, 1 - TAIL / missed)) : later.to,
    },
    release_g: probability * hit.release_g + missed * (miss.release_g + opened_g),
    sure,
  };
}

/**
 * About the cost that a share of the cases stays under: straight lines between 5 %, the mean as the middle, and 95 %.
 */
function upTo({ expected_cost, cost_p05, cost_p95 }: OptionAnswer, share: number): number {
  const [end, way] = share < 0.5 ? [cost_p05, 0.5 - share] : [cost_p95, share - 0.5];
  return expected_cost + Math.min(1, way / (0.5 - TAIL)) * (end - expected_cost);
}

/** A place this sure is not doubted. */
const CERTAIN = 0.999;
/** What is left out on each side of a likely range. */
const TAIL = 0.05;

/** What the model counts for a repair of place `l` on the day itself, without rework. */
function repairToday({ prices, nameplate_g }: Question, l: number): number {
  const service = prices.repair_service + prices.shop_refrigerant_per_g * nameplate_g;
  return prices.service[l]! * service + prices.price[l]!;
}

function less({ expected_cost, cost_p05, cost_p95 }: OptionAnswer, today: number): Course["later"] {
  return { mean: expected_cost - today, from: cost_p05 - today, to: cost_p95 - today };
}

/** Nobody pays less than the least that is paid today, whatever follows. */
function yearsOf(
  { later, release_g, sure }: Course,
  { today, least }: { today: number; least: number },
  keep_years: number,
  kg: (g: number) => number,
): OptionYears {
  const total = Math.max(least, today + later.mean);
  const from = Math.max(least, today + later.from);
  return {
    later: later.mean,
    total,
    yearly: total / keep_years,
    likely: { from, to: Math.max(from, today + later.to) },
    release_g,
    co2e_kg: kg(release_g),
    sure,
  };
}

function notOpenBecause({ work }: QuoteOption, now: AssessAnswer): OptionAnswer["not_offered_because"] {
  const needed: OptionId[] = [];
  if (work.repair !== null) needed.push("repair");
  else {
    if (work.test !== null) needed.push(`${work.test}-test`);
    if (work.recharge) needed.push("top-off");
  }
  for (const id of needed) {
    const { not_offered_because } = comparedOption(now, id);
    if (not_offered_because !== null) return not_offered_because;
  }
  return null;
}

/** The verdict's rules (MODEL §6) on the quote's own options and prices. */
function advisedOption(
  options: readonly QuoteOption[],
  outlooks: readonly OptionOutlook[],
  carbon_price_per_t: number,
): { id: string; why: AdvisedWhy } | null {
  const weighed = outlooks.flatMap(({ id, years, open }, i) => {
    if (years === null || !open) return [];
    const is_test = options[i]!.work.repair === null && options[i]!.work.test !== null;
    return {
      id,
      expected_cost_with_carbon: years.total + (carbon_price_per_t * years.co2e_kg) / 1000,
      release_g: years.release_g,
      leads_to_repair: is_test && years.sure.code === "leads" ? years.sure.probability : null,
    };
  });
  const first = firstChoice(weighed);
  if (first === null) return null;
  const cleaner = cleanerChoice(weighed, first);
  if (cleaner !== null) {
    const dearer_by = cleaner.expected_cost_with_carbon - first.expected_cost_with_carbon;
    const release_share = cleaner.release_g / first.release_g;
    return { id: cleaner.id, why: { code: "cleaner", than: first.id, dearer_by, release_share } };
  }
  const next = cheapest(weighed.filter((one) => one !== first));
  if (next === null) return { id: first.id, why: { code: "only" } };
  const cheaper_by = next.expected_cost_with_carbon - first.expected_cost_with_carbon;
  return { id: first.id, why: { code: "cheapest", than: next.id, cheaper_by } };
}
