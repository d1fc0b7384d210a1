import { type Context, Hono } from "hono";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import type { Deps } from "../edge/deps.ts";
import { handlersWith } from "../edge/handler.ts";
import { quoteOf } from "./address.ts";
import { answerVehicleQuotes, beginQuote } from "./begin.ts";
import { answerBuilder, answerSums } from "./builder.ts";
import {
  addLine,
  addOption,
  discardDraft,
  moveLineUp,
  removeLine,
  removeOption,
  renewOption,
  saveAndPreview,
  saveAndSend,
  saveDraft,
} from "./drafting.ts";
import { answerQuotes, answerQuotesFile } from "./list.ts";
import { answerPreview } from "./preview.ts";
import {
  answerQuote,
  changeAgreement,
  logWork,
  recordAnswer,
  renewLink,
  reviseQuote,
  takeBackAnswer,
  withdrawQuote,
} from "./sent-quote.ts";

/** A shop's side of its quotes: `/quotes` and `/vehicles/:id/quotes`, an address for each verb. */
export function quotesRoutes(deps: Deps) {
  const viewer = requireRole("viewer");
  const editor = requireRole("editor");
  const by = handlersWith(deps);

  const app = new Hono<GrantedEnv>();
  app.get("/quotes", viewer, by(answerQuotes));
  app.get("/quotes.csv", viewer, by(answerQuotesFile));

  const quotes = "/vehicles/:id/quotes";
  app.get(quotes, viewer, by(answerVehicleQuotes));
  app.post(quotes, editor, by(beginQuote));

  const quote = `${quotes}/:quote`;
  app.get(quote, viewer, by(answerEither));
  app.get(`${quote}/preview`, viewer, by(answerPreview));

  // Buttons of the builder, while it is a draft.
  app.post(quote, editor, by(saveDraft));
  app.post(`${quote}/sums`, editor, by(answerSums));
  app.post(`${quote}/preview`, editor, by(saveAndPreview));
  app.post(`${quote}/send`, editor, by(saveAndSend));
  app.post(`${quote}/discard`, editor, by(discardDraft));
  app.post(`${quote}/options`, editor, by(addOption));
  app.post(`${quote}/options/:option/removal`, editor, by(removeOption));
  app.post(`${quote}/options/:option/renewal`, editor, by(renewOption));
  app.post(`${quote}/options/:option/lines`, editor, by(addLine));
  app.post(`${quote}/options/:option/lines/:n/removal`, editor, by(removeLine));
  app.post(`${quote}/options/:option/lines/:n/up`, editor, by(moveLineUp));

  // Once it was sent.
  app.post(`${quote}/link`, editor, by(renewLink));
  app.post(`${quote}/withdraw`, editor, by(withdrawQuote));
  app.post(`${quote}/revise`, editor, by(reviseQuote));
  app.post(`${quote}/answer`, editor, by(recordAnswer));
  app.post(`${quote}/agreement`, editor, by(changeAgreement));
  app.post(`${quote}/answer/removal`, editor, by(takeBackAnswer));
  app.post(`${quote}/work`, editor, by(logWork));
  return app;
}

/** GET `/vehicles/:id/quotes/:quote`: the builder while it is a draft, then the quote. */
async function answerEither(c: Context<GrantedEnv>, deps: Deps): Promise<Response> {
  const quote = await quoteOf(c);
  return quote.status === "draft" ? answerBuilder(c, deps, quote) : answerQuote(c, deps, quote);
}
