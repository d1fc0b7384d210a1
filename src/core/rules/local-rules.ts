import type { PlaceId, Rule } from "../../../data/rules.ts";
import type { AssessRequest, OptionId, Service } from "../question/contract.ts";
import { questionOf } from "../question/question.ts";
import { leakIsAbnormal } from "./abnormal-leak.ts";
import { barredOptions, type Deposit, depositFor, type RuledOption, rulesFor } from "./rules.ts";

/** What the law says where a vehicle is, for one question about it. */
export interface LocalRules {
  place: PlaceId;
  service: Service;
  date: string;
  /** What whoever tops it off may not do, each with the rule that says so. */
  barred: readonly RuledOption[];
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
  const barred = barredOptions({ place, service, date, refrigerant, abnormal_leak: leakIsAbnormal(log ?? []) });
  const bound = service === "diy" ? "private-person" : "paid-service";
  const deposit = depositFor(place, date);
  return {
    place,
    service,
    date,
    barred,
    others: rulesFor(place, date).filter(
      (rule) =>
        rule.binds.includes(bound) &&
        !barred.some((one) => one.rule === rule) &&
        rule.bars.every(({ refrigerants }) => refrigerants === undefined || refrigerants.includes(refrigerant)),
    ),
    deposit: deposit?.currency === currency ? deposit : null,
  };
}

/** The same question with what the rules bar, and with the deposit on a can unless another was said. */
export function underLocalRules(request: AssessRequest, { barred, deposit }: LocalRules): AssessRequest {
  const options = new Set<OptionId>([...(request.plan?.barred ?? []), ...barred.map(({ option }) => option)]);
  const asked = options.size === 0 ? request : { ...request, plan: { ...request.plan, barred: [...options] } };
  if (deposit === null || request.prices?.can_deposit != null) return asked;
  return { ...asked, prices: { ...request.prices, can_deposit: deposit.per_can } };
}
