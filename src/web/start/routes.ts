import { type Context, Hono } from "hono";
import { type Outcome, outcomeOf } from "../../../views/answer/outcome.ts";
import { type Mixture, StartFragment, StartPage, type StartProps } from "../../../views/start/page.tsx";
import type { QuickFields } from "../../../views/start/quick-fields.ts";
import type { WeightedRequest } from "../../core/mixed-answer.ts";
import { GENERAL_TERMS, type PriceTerms } from "../../core/quotes/price-terms.ts";
import { mayAsk } from "../edge/access.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { keepInHistory } from "../edge/keep-in-history.ts";
import { sharedPages } from "../edge/kept-pages.ts";
import type { Model } from "../edge/model.ts";
import { wantsFragment } from "../edge/wants-fragment.ts";
import { newSubmitKey } from "../forms/posted-form.ts";
import { termsOfVisitor } from "../visitor-terms.ts";
import { addressOfFields, blankFields, exampleFields, fieldsOfAddress } from "./quick-address.ts";
import { quickCase } from "./quick-case.ts";
import { readQuickForm } from "./quick-form.ts";
import { readBackOf } from "./read-back.ts";

/** `GET /`: the quick question and its answer. All that was typed is in the address, so it can be kept and shared. */
export function startRoutes(deps: Deps) {
  const shared = sharedPages(deps);
  return new Hono<AppEnv>().get("/", async (c) => {
    const { terms, stamp } = await termsOfVisitor(c, deps);
    const may_keep = deps.newcomers(c) || (await hasAccess(c));
    const props = async () => {
      const asked = new URL(c.req.url).searchParams;
      await mayAsk(c, deps, asked.getAll("when").length);
      return { ...(await startProps(asked, deps.today(c), deps.model, terms)), may_keep };
    };
    if (!wantsFragment(c))
      return shared(c, may_keep ? stamp : `${stamp} closed`, async (submit_key) => {
        const page = { ...(await props()), submit_key, asset: deps.asset };
        return { view: StartPage(page), status: statusOf(page) };
      });
    const fragment = { ...(await props()), submit_key: newSubmitKey(deps.random) };
    keepInHistory(c, addressOfFields(fragment.fields));
    return c.html(StartFragment(fragment), statusOf(fragment));
  });
}

/** Whether the one who asks has records here; a key that is no good opens none. */
function hasAccess(c: Context<AppEnv>): Promise<boolean> {
  return c.var.visit.access().then(
    (access) => access !== null,
    () => false,
  );
}

function statusOf({ errors }: Pick<StartProps, "errors">): 200 | 422 {
  return errors.length > 0 ? 422 : 200;
}

/** What the start page shows for a query on the day `today`. */
export async function startProps(
  query: URLSearchParams,
  today: string,
  model: Model,
  terms: PriceTerms = GENERAL_TERMS,
): Promise<Omit<StartProps, "submit_key" | "may_keep">> {
  const fields = fieldsFrom(query, today, terms);
  const asked = query.has("go");
  const { errors, cases } = readQuickForm(fields, asked, { exact: query.has("exact"), terms });
  return {
    fields,
    errors,
    ...(cases.length === 0 ? { outcome: null, mixture: null } : await quickOutcome(fields, cases, model, terms)),
    asked,
    currency: terms.currency,
    today,
    read_back: readBackOf(fields),
    addressWith: (changes: Partial<QuickFields>) => addressOfFields({ ...fields, ...changes }),
  };
}

async function quickOutcome(
  fields: QuickFields,
  cases: readonly WeightedRequest[],
  model: Model,
  terms: PriceTerms,
): Promise<{ outcome: Outcome; mixture: Mixture | null }> {
  const put = cases.map(({ weight, request }) => ({ weight, ...quickCase(fields, request, terms) }));
  const { answer, shown, alone } = await model.mixedAnswer(put.map(({ weight, request }) => ({ weight, request })));
  const { request, weight: _, ...around } = put[shown]!;
  return {
    outcome: outcomeOf(request, answer, fields.units, around),
    mixture: put.length === 1 ? null : alone,
  };
}

/** Without a question in the address the sheet is empty; `example` alone fills in the sample. */
function fieldsFrom(query: URLSearchParams, today: string, terms: PriceTerms): QuickFields {
  if (query.has("blank")) return blankFields(today, terms);
  const said = [...query.keys()].filter((name) => !["example", "go", "exact"].includes(name));
  if (said.length > 0) return fieldsOfAddress(query, today, terms);
  return query.has("example") ? exampleFields(today, terms) : blankFields(today, terms);
}
