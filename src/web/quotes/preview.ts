import type { Context } from "hono";
import { saidOf } from "../../../views/quotes/customer-said.tsx";
import { OfferPage } from "../../../views/quotes/offer-page.tsx";
import { agreementOf } from "../../core/quotes/agreement.ts";
import type { Quote } from "../../store/quote-row.ts";
import type { GrantedEnv } from "../edge/access.ts";
import type { Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { todayIn } from "../workspace.ts";
import { pathOf, quoteOf } from "./address.ts";
import { outlookOver, typedYears } from "./offer-years.ts";
import { shopQuestion } from "./shop-question.ts";
import { quoteSnapshot } from "./snapshot.ts";

/** GET `/vehicles/:id/quotes/:quote/preview`: what the customer sees or will see, without the form for the answer. */
export async function answerPreview(c: Context<GrantedEnv>, deps: Deps): Promise<Response> {
  const quote = await quoteOf(c);
  const record = await c.var.store.record(quote.vehicle_id);
  const { letterhead } = await c.var.store.letterheads.get();
  const today = todayIn(record.workspace, deps.now());
  const { content, number } = quote;
  const { request } = shopQuestion(record, today, content);
  const snapshot = quote.snapshot ?? quoteSnapshot({ number, content, letterhead, record, request, today });
  const asked = typedYears(c.req.query("years"), snapshot, saidOf(snapshot));
  const page = OfferPage({
    code: null,
    snapshot,
    said: saidOf(snapshot),
    logo: letterhead.logo,
    outlook: outlookOver(snapshot, asked.keep_years),
    offer: { state: "preview", back: pathOf(quote), accepted: acceptedOf(quote) },
    path: `${pathOf(quote)}/preview`,
    years: asked.typed,
    answer: { choice: "", name: "" },
    errors: asked.errors,
    too_late: false,
    asset: deps.asset,
  });
  return answerPage(c, page, asked.errors.length > 0 ? 422 : 200);
}

function acceptedOf({ status, decided_option, agreed }: Quote) {
  return status === "accepted" && decided_option !== null
    ? { option: decided_option, agreement: agreementOf(agreed) }
    : null;
}
