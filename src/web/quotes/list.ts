import type { Context } from "hono";
import { QuotesPage } from "../../../views/quotes/quotes-page.tsx";
import { localTime } from "../../core/quantities/local-time.ts";
import { QUOTE_STATES } from "../../core/quotes/quote.ts";
import type { GrantedEnv } from "../edge/access.ts";
import { calendarDay } from "../edge/calendar-day.ts";
import { csvFile } from "../edge/csv-file.ts";
import type { Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { oneOf } from "../forms/typed-values.ts";
import { todayIn } from "../workspace.ts";
import { listedQuotes } from "./listed.ts";
import { quotesCsv } from "./quotes-csv.ts";

const QUOTES_ON_PAGE = 50;
const QUOTES_IN_FILE = 10_000;

/** GET `/quotes`: all quotes of the shop, newest first, searched and narrowed by state. */
export async function answerQuotes(c: Context<GrantedEnv>, deps: Deps): Promise<Response> {
  const { quotes, search, workspace, today } = await searchedQuotes(c, deps, QUOTES_ON_PAGE + 1);
  const { quoteVisits } = c.var.store;
  const since = await quoteVisits.visit();
  const from = calendarDay(new Date(since), workspace.time_zone);
  const news = await quoteVisits.news(since, { from, today });
  const { number_format } = (await c.var.store.letterheads.get()).letterhead;
  const more = quotes.length > QUOTES_ON_PAGE;
  const shown = quotes.slice(0, QUOTES_ON_PAGE);
  const older = more ? (shown.at(-1)?.number ?? null) : null;
  const page = QuotesPage({
    quotes: shown.map((quote) => ({ ...quote, is_new: news.has(quote.id) })),
    search,
    news: { kinds: [...news.values()], since: localTime(since, workspace.time_zone) },
    older,
    number_format,
    asset: deps.asset,
  });
  return answerPage(c, page);
}

/** GET `/quotes.csv`: the same quotes as a file. */
export async function answerQuotesFile(c: Context<GrantedEnv>, deps: Deps): Promise<Response> {
  const { quotes } = await searchedQuotes(c, deps, QUOTES_IN_FILE);
  return csvFile(c, "quotes", quotesCsv(quotes));
}

/** The quotes that the address looks for: `?q=ames&state=sent&before=120`. */
async function searchedQuotes(c: Context<GrantedEnv>, deps: Deps, limit: number) {
  const workspace = await c.var.store.settings.get();
  const today = todayIn(workspace, deps.now());
  const text = (c.req.query("q") ?? "").trim().slice(0, 120);
  const state = oneOf(QUOTE_STATES, c.req.query("state") ?? null) ?? null;
  const number = c.req.query("before") ?? "";
  const before = /^\d{1,9}$/.test(number) ? Number(number) : null;
  const found = await c.var.store.quotes.search({ text, state, today, before, limit });
  const search = { text, state: state ?? ("" as const) };
  return { quotes: listedQuotes(found, today, workspace.time_zone), search, workspace, today };
}
