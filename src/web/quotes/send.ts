import type { Context } from "hono";
import type { Quote } from "../../store/quote-row.ts";
import type { VehicleRecord } from "../../store/vehicle-record.ts";
import type { GrantedEnv } from "../edge/access.ts";
import type { Deps } from "../edge/deps.ts";
import { todayIn } from "../workspace.ts";
import { pathOf } from "./address.ts";
import { answerBuilder, isSample } from "./builder.ts";
import { outlookOf } from "./draft.ts";
import { sendFaults } from "./sendable.ts";
import { answerQuote } from "./sent-quote.ts";
import { shopQuestion } from "./shop-question.ts";
import { quoteSnapshot } from "./snapshot.ts";

/** Saves a draft as it is given and makes its customer's link, or says what a customer's paper still lacks. */
export async function sendDraft(
  c: Context<GrantedEnv>,
  deps: Deps,
  quote: Quote,
  record: VehicleRecord,
  form: URLSearchParams,
): Promise<Response> {
  const { content, number, id, version } = quote;
  const { letterhead } = await c.var.store.letterheads.get();
  const today = todayIn(record.workspace, deps.now());
  const { request } = shopQuestion(record, today, content);
  const sample = isSample(await c.var.store.priceBooks.list(), content);
  const outlook = outlookOf(content, request);
  const faults = sendFaults({ content, outlook, letterhead, sample, vehicle: record.vehicle });
  if (faults.length > 0) return answerBuilder(c, deps, quote, { errors: faults });

  const snapshot = quoteSnapshot({ number, content, letterhead, record, request, today });
  const sent = await c.var.store.quotes.send(id, version, { content, snapshot }, form.get("submit_key"));
  if (sent.token === null) return c.redirect(pathOf(sent.quote), 303);
  return answerQuote(c, deps, sent.quote, { token: sent.token });
}
