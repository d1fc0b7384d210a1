import type { PlaceId, Rule } from "../../../data/rules.ts";
import type { AssessRequest, OptionId, Service } from "../question/contract.ts";
import { questionOf } from "../question/question.ts";
import { leakIsAbnormal } from "./abnormal-leak.ts";
import { type Drive, underHighVoltage } from "./high-voltage.ts";
import { barredOptions, type Deposit, depositFor, type RuledOption, rulesFor, warnedOptions } from "./rules.ts";

/** What the law says where a vehicle is, for one question about it. */
export interface LocalRules {
  place: PlaceId;
  service: Service;
  date: string;
  /** What whoever tops it off may not do, each with the rule that says so. */
  barred: readonly RuledOption[];
  /** What a private person may not do here, whoever is asked about: why a shop does it in their place. */
  owner_may_not: readonly RuledOption[];
  /** What a rule known second-hand would forbid them: it warns. */
  warned: readonly RuledOption[];
  /** The other rules that bind them, the place's own first. */
  others: readonly Rule[];
  /** On a can bought that day, in the currency asked for. */
  deposit: Deposit | null;
}

/** The rules of `place` that bear on a question whose money is in `currency` (ISO 4217). */
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

/** Where a vehicle is and what drives its compressor, as far as that decides who may do what. */
export interface Surrounding extends Drive {
  place: PlaceId;
  /** ISO 4217: a deposit in other money is left out. */
  currency: string;
}

/**
 * A question as it is put to the model where the vehicle is, with the rules that bear on it: by a shop, where high
 * voltage drives the compressor, or where a rule bars its owner from topping it off and lets a shop do it. Every answer
 * of a vehicle (its page, lists, quotes, a fleet's table and budget) asks through here.
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
 * The same question with what the rules bar, and with the deposit on a can unless another was said.
 *
 * @internal Called from outside by tests alone.
 */
export function underLocalRules(request: AssessRequest, { barred, deposit }: LocalRules): AssessRequest {
  const options = new Set<OptionId>([...(request.plan?.barred ?? []), ...barred.map(({ option }) => option)]);
  const asked = options.size === 0 ? request : { ...request, plan: { ...request.plan, barred: [...options] } };
  if (deposit === null || request.prices?.can_deposit != null) return asked;
  return { ...asked, prices: { ...request.prices, can_deposit: deposit.per_can } };
}
