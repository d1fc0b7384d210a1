import { type Context, Hono } from "hono";
import { accepts } from "hono/accepts";
import { LANGUAGES } from "../../../data/customer-words.ts";
import { PAGE_FORMAT } from "../../../data/number-formats.ts";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import { CustomerSaid, saidOf } from "../../../views/quotes/customer-said.tsx";
import {
  type AnswerFields,
  OfferPage,
  type OfferState,
  OfferSums,
  UnknownQuote,
  UnknownQuotePage,
} from "../../../views/quotes/offer-page.tsx";
import { agreementOf } from "../../core/quotes/agreement.ts";
import { type QuoteSnapshot, quoteState } from "../../core/quotes/quote-document.ts";
import { decideQuote, type OfferedQuote, offeredQuote } from "../../store/offered-quote.ts";
import { rateLimited } from "../edge/access.ts";
import { calendarDay } from "../edge/calendar-day.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { wantsFragment } from "../edge/wants-fragment.ts";
import { Refusals } from "../forms/form-reading.ts";
import { formOf } from "../forms/posted-form.ts";
import { oneOf } from "../forms/typed-values.ts";
import { refuseChoice } from "./answer-form.ts";
import { outlookOver, typedYears } from "./offer-years.ts";
import { qrCode } from "./qr-code.ts";

/** The customer's page, `/q/:token`: it opens one quote, and nothing else. */
export function offerRoutes(deps: Deps) {
  return new Hono<AppEnv>()
    .get("/q/:token", async (c) => {
      const offered = await offeredOf(c, deps);
      if (offered === null) return answerUnknown(c, deps);
      return answerOffer(c, deps, offered, { years: c.req.query("years") });
    })
    .post("/q/:token", async (c) => {
      const offered = await offeredOf(c, deps);
      if (offered === null) return answerUnknown(c, deps);
      const form = await formOf(c);
      const answer = { choice: form.get("choice") ?? "", name: (form.get("name") ?? "").trim() };
      const years = form.get("years") ?? undefined;
      const errors = answerErrors(answer, offered.snapshot);
      if (errors.length > 0 && stateOf(offered, deps).state === "sent")
        return answerOffer(c, deps, offered, { years, answer, errors });
      const { keep_years } = typedYears(years, offered.snapshot, saidOf(offered.snapshot));
      const decision = { option: answer.choice === "no" ? null : answer.choice, name: answer.name, keep_years };
      const edge = { sql: deps.sql(c), now: deps.now };
      const said = await decideQuote(edge, c.req.param("token"), decision, todayAt(offered, deps));
      if (said === null) return answerUnknown(c, deps);
      if (said.decided) return c.redirect(c.req.path, 303);
      return answerOffer(c, deps, said.offered, { years, too_late: true });
    });
}

function offeredOf(c: Context<AppEnv>, deps: Deps): Promise<OfferedQuote | null> {
  keepPrivate(c);
  const token = c.req.param("token") ?? "";
  return rateLimited(c, deps, () => offeredQuote({ sql: deps.sql(c) }, token));
}

/** Keeps search engines and caches on the way from storing the page. */
function keepPrivate(c: Context<AppEnv>): void {
  c.header("X-Robots-Tag", "noindex, nofollow, noarchive");
  c.header("Cache-Control", "private, no-store");
}

/** Whose customer it is stays unknown here, so the language is the browser's. */
function answerUnknown(c: Context<AppEnv>, deps: Deps) {
  const language = accepts(c, {
    header: "Accept-Language",
    supports: [...LANGUAGES],
    default: "en",
    match: (wanted) =>
      wanted
        .toSorted((a, b) => b.q - a.q)
        .map(({ type }) => type.slice(0, 2).toLowerCase())
        .find((known) => oneOf(LANGUAGES, known) !== undefined) ?? "en",
  });
  const manner = { language: oneOf(LANGUAGES, language) ?? "en", currency: "USD", number_format: PAGE_FORMAT } as const;
  const said = new CustomerSaid({ ...manner, units: "us" });
  if (wantsFragment(c)) return c.html(UnknownQuote({ said }), 404);
  return answerPage(c, UnknownQuotePage({ said, asset: deps.asset }), 404);
}

function answerErrors(answer: AnswerFields, snapshot: QuoteSnapshot): FieldError[] {
  const refusals = new Refusals();
  refuseChoice(refusals, answer, snapshot, saidOf(snapshot));
  return refusals.all();
}

function todayAt({ time_zone }: OfferedQuote, deps: Deps): string {
  return calendarDay(deps.now(), time_zone);
}

function stateOf(offered: OfferedQuote, deps: Deps): OfferState {
  const { status, snapshot, decided_at, decided_name, decided_option, time_zone } = offered;
  const state = quoteState(status, snapshot.valid_until, todayAt(offered, deps));
  const name = decided_name ?? "";
  const at = decided_at === null ? "" : saidOf(snapshot).instant(decided_at, time_zone);
  switch (state) {
    case "accepted":
      return { state, name, at, option: decided_option ?? "", agreement: agreementOf(offered.agreed) };
    case "declined":
      return { state, name, at };
    case "expired":
    case "withdrawn":
      return { state, newer: offered.newer_number };
    case "sent":
    case "draft":
      return { state: "sent" };
  }
}

interface Shown {
  years?: string | undefined;
  answer?: AnswerFields;
  errors?: FieldError[];
  too_late?: boolean;
}

function answerOffer(c: Context<AppEnv>, deps: Deps, offered: OfferedQuote, shown: Shown) {
  const { snapshot } = offered;
  const said = saidOf(snapshot);
  const asked = typedYears(shown.years, snapshot, said);
  const errors = [...(shown.errors ?? []), ...asked.errors];
  const too_late = shown.too_late ?? false;
  const props = {
    snapshot,
    said,
    logo: offered.logo,
    outlook: outlookOver(snapshot, asked.keep_years),
    offer: stateOf(offered, deps),
    path: c.req.path,
    code: wantsFragment(c) ? null : qrCode(`${deps.origin(c)}${c.req.path}`),
    years: asked.typed,
    answer: shown.answer ?? { choice: "", name: "" },
    errors,
    too_late,
    asset: deps.asset,
  };
  const status = too_late ? 409 : errors.length > 0 ? 422 : 200;
  if (wantsFragment(c)) return c.html(OfferSums(props), status);
  return answerPage(c, OfferPage(props), status);
}
