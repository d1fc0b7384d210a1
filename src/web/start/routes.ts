import { Hono } from "hono";
import { type Outcome, outcomeOf } from "../../../views/answer/outcome.ts";
import { StartFragment, StartPage, type StartProps } from "../../../views/start/page.tsx";
import type { QuickFields } from "../../../views/start/quick-fields.ts";
import { pageAnswer } from "../../core/page-answer.ts";
import type { AssessRequest } from "../../core/question/contract.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { keepInHistory } from "../edge/keep-in-history.ts";
import { answerPage } from "../edge/page.ts";
import { wantsFragment } from "../edge/wants-fragment.ts";
import { newSubmitKey } from "../forms/posted-form.ts";
import { quickCase } from "./quick-case.ts";
import { addressOfFields, blankFields, exampleFields, fieldsOfAddress, readQuickForm } from "./quick-form.ts";

/** `GET /`: the quick question and its answer. All that was typed is in the address, so it can be kept and shared. */
export function startRoutes(deps: Deps) {
  return new Hono<AppEnv>().get("/", (c) => {
    const props = {
      ...startProps(new URL(c.req.url).searchParams, deps.today(c)),
      submit_key: newSubmitKey(deps.random),
    };
    const status = props.errors.length > 0 ? 422 : 200;
    if (!wantsFragment(c)) return answerPage(c, StartPage({ ...props, asset: deps.asset }), status);
    keepInHistory(c, addressOfFields(props.fields));
    return c.html(StartFragment(props), status);
  });
}

/** What the start page shows for a query on the day `today`. */
export function startProps(query: URLSearchParams, today: string): Omit<StartProps, "submit_key"> {
  const { fields, example } = fieldsFrom(query, today);
  const asked = query.has("go");
  const { errors, request } = readQuickForm(fields, asked);
  return {
    fields,
    errors,
    outcome: request === null ? null : quickOutcome(fields, request),
    asked,
    example,
    today,
    addressWith: (changes: Partial<QuickFields>) => addressOfFields({ ...fields, ...changes }),
  };
}

function quickOutcome(fields: QuickFields, asked: AssessRequest): Outcome {
  const { request, ...around } = quickCase(fields, asked);
  return outcomeOf(request, pageAnswer(request), fields.units, around);
}

function fieldsFrom(query: URLSearchParams, today: string): { fields: QuickFields; example: boolean } {
  if (query.size === 0) return { fields: exampleFields(today), example: true };
  if (query.has("blank")) return { fields: blankFields(today), example: false };
  return { fields: fieldsOfAddress(query, today), example: false };
}
