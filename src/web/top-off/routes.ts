import { Hono } from "hono";
import { outcomeOf } from "../../../views/answer/outcome.ts";
import type { QuickFields } from "../../../views/start/quick-fields.ts";
import { TopOffPage } from "../../../views/top-off/page.tsx";
import { Problem } from "../../core/problem.ts";
import type { AssessAnswer, AssessRequest } from "../../core/question/contract.ts";
import { questionOf } from "../../core/question/question.ts";
import { topOffPlan } from "../../core/top-off-plan.ts";
import { mayAsk } from "../edge/access.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { addressOfFields, carriedAlong, exampleFields, fieldsOfAddress } from "../start/quick-address.ts";
import { quickCase } from "../start/quick-case.ts";
import { readQuickForm } from "../start/quick-form.ts";
import { termsOfVisitor } from "../visitor-terms.ts";
import { plannedAmount } from "./planned-amount.ts";
import { readTopOffForm, type TopOffQuestion } from "./top-off-form.ts";

/** `GET /top-off`: how much is missing, what to buy and how to add it, from the same address as the quick question. */
export function topOffRoutes(deps: Deps) {
  return new Hono<AppEnv>().get("/top-off", async (c) => {
    const query = new URL(c.req.url).searchParams;
    const today = deps.today(c);
    const example = !query.has("refrigerant") && !query.has("nameplate");
    const { terms } = await termsOfVisitor(c, deps);
    const fields = example ? exampleFields(today, terms) : fieldsOfAddress(query, today, terms);
    const asked = readTopOffForm(query, fields.units);
    const known = { ...fields, where: asked.place };
    const { request: in_log } = readQuickForm(known, true, { exact: true, terms });
    // A part of the log that is refused, or what a plan cannot do without, is put right where it is typed.
    if (in_log === null) return c.redirect(notTooLong(`${addressOfFields(known)}&exact=1&go=1`), 303);
    const { request, ...around } = quickCase(known, in_log, terms);
    await mayAsk(c, deps, request.log?.length ?? 0);
    const answer = await deps.model.pageAnswer(request, { sensitivity: false });
    const plan = planOf(request, answer, asked);
    const back = addressOfFields(known);
    const page = TopOffPage({
      plan,
      outcome: outcomeOf(request, answer, fields.units, around),
      fields: asked.fields,
      sent_along: [...carriedAlong(back, ["where", "says"]), ...staticRead(query)],
      errors: asked.errors,
      example,
      back,
      readings: back.replace("/?", "/readings?"),
      logged: plan.cans === null ? null : addressOfFields(withTopOff(known, plan.cans.out_of_cans_g)),
      asset: deps.asset,
    });
    return answerPage(c, page, asked.errors.length > 0 ? 422 : 200);
  });
}

/** The longest header that servers in between are sure to pass on: many have 8 KiB for all of them together. */
const MOST_LOCATION_CHARS = 6000;

/** Throws `Problem` unreadable for an address that would be lost on its way back. */
function notTooLong(address: string): string {
  if (address.length <= MOST_LOCATION_CHARS) return address;
  throw new Problem(
    "unreadable",
    "Part of this charge log cannot be read, so there is no plan. Go back: the line to correct is marked there once you press the button again.",
  );
}

function planOf(request: AssessRequest, { as_of, leak, verdict }: AssessAnswer, asked: TopOffQuestion) {
  const { refrigerant, nameplate_g, prices, assumptions } = questionOf(request);
  return topOffPlan({
    date: as_of,
    refrigerant,
    nameplate_g,
    charge_now_g: leak.charge_now_g,
    low_below_g: leak.low_below_g,
    too_fast: verdict.guard === "floor",
    can_net_g: prices.can_net_g,
    heel: assumptions.heel,
    ...asked,
  });
}

/** A static pressure read before, as the address has it. */
function staticRead(query: URLSearchParams): [name: string, value: string][] {
  return STATIC.flatMap((name): [string, string][] => (query.has(name) ? [[name, query.get(name)!]] : []));
}

const STATIC = ["static", "gauge", "altitude"] as const;

/** The charge log with today's top-off added, as the plan means it. */
function withTopOff(fields: QuickFields, out_of_cans_g: number): QuickFields {
  const amount = plannedAmount(out_of_cans_g, fields.units);
  const line = { when: fields.as_of, did: "cans-gauges", amount, cooled: fields.today };
  // What readings said before it does not hold any more.
  return { ...fields, today: "", says: "", found: "", lines: [...fields.lines, line] };
}
