import type { PlaceId, Rule } from "../../../data/rules.ts";
import type { AssessRequest, OptionId, Service } from "../question/contract.ts";
import { questionOf } from "../question/question.ts";
import { leakIsAbnormal } from "./abnormal-leak.ts";
import { type Drive, underHighVoltage } from "./high-voltage.ts";
import { barredOptions, type Deposit, depositFor, type RuledOption, rulesFor, warnedOptions } from "./rules.ts";

/** The law where a vehicle is, as it bears on one request about it. */
export interface LocalRules {
  /** The place whose law it is. */
  place: PlaceId;
  /** Who tops off: the person or shop that the rules below bind. */
  service: Service;
  /** The day of the law: that of the request. */
  date: string;
  /** Options forbidden to them, each with the rule that forbids it. */
  barred: readonly RuledOption[];
  /** Options forbidden to a private person here, whoever tops off: they explain why a shop does the work. */
  owner_may_not: readonly RuledOption[];
  /** Options that only a rule known second-hand would forbid: a warning. */
  warned: readonly RuledOption[];
  /** Other rules that bind them, the place's own first. */
  others: readonly Rule[];
  /** Deposit on a can bought that day; null: none, or in another currency. */
  deposit: Deposit | null;
}

/** The rules of `place` that bear on a request whose money is in `currency` (ISO 4217). */
export function localRules(request: AssessRequest, place: PlaceId, currency: string): LocalRules {
  const { as_of: date, vehicle, log } = request;
  const { refrigerant } = vehicle;
  const { service } = questionOf(request).plan;
  const abnormal_leak = leakIsAbnormal(log ?? []);
  const barredBy = (by: Service) => barredOptions({ place, service: by, date, refrigerant, abnormal_leak });
  const barred = barredBy(service);
  const warned = warnedOptions({ place, service, date, refrigerant, abnormal_leak });
  const bound = service === "diy" ? "private-person" : "paid-service";
  const deposit = depositFor(place, date);
  return {
    place,
    service,
    date,
    barred,
    warned,
    owner_may_not: service === "diy" ? barred : barredBy("diy"),
    others: rulesFor(place, date).filter(
      (rule) =>
        rule.binds.includes(bound) &&
        ![...barred, ...warned].some((one) => one.rule === rule) &&
        rule.bars.every(({ refrigerants }) => refrigerants === undefined || refrigerants.includes(refrigerant)),
    ),
    deposit: deposit?.currency === currency ? deposit : null,
  };
}

/** Where a vehicle is and what drives its compressor: what decides who may do what. */
export interface Surrounding extends Drive {
  /** The place whose rules apply. */
  place: PlaceId;
  /** Currency of the request's money, ISO 4217; a deposit in another one is left out. */
  currency: string;
}

/**
 * The request as it is put to the model where the vehicle is, with the rules that bear on it. A shop does the work
 * where high voltage drives the compressor, and where a rule forbids the owner to top off but allows it to a shop.
 * Every answer about a vehicle (its page, lists, quotes, a fleet's table and budget) is made from what this gives.
 */
export function localCase(
  request: AssessRequest,
  { place, currency, ...drive }: Surrounding,
): { request: AssessRequest; local: LocalRules } {
  const driven = drive.electric ? underHighVoltage(request, drive) : request;
  const own = localRules(driven, place, currency);
  if (own.service === "diy" && topOffBarred(own)) {
    const by_shop: AssessRequest = { ...driven, plan: { ...driven.plan, service: "shop" } };
    const local = localRules(by_shop, place, currency);
    if (!topOffBarred(local)) return { request: underLocalRules(by_shop, local), local };
  }
  return { request: underLocalRules(driven, own), local: own };
}

function topOffBarred({ barred }: LocalRules): boolean {
  return barred.some(({ option }) => option === "top-off");
}

/**
 * The request with the options that the rules bar, and with their deposit on a can unless it names one.
 *
 * @internal Called from outside by tests alone.
 */
export function underLocalRules(request: AssessRequest, { barred, deposit }: LocalRules): AssessRequest {
  const options = new Set<OptionId>([...(request.plan?.barred ?? []), ...barred.map(({ option }) => option)]);
  const asked = options.size === 0 ? request : { ...request, plan: { ...request.plan, barred: [...options] } };
  if (deposit === null || request.prices?.can_deposit != null) return asked;
  return { ...asked, prices: { ...request.prices, can_deposit: deposit.per_can } };
}
