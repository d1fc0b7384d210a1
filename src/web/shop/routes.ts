import { Hono } from "hono";
import { PERSON_PLACES, PERSONS } from "../../../views/navigation.tsx";
import { ShopTodayPage } from "../../../views/shop/today-page.tsx";
import { requireRole } from "../edge/access.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { keepPerson } from "../edge/person.ts";
import { oneOf } from "../forms/typed-values.ts";
import { listedQuotes } from "../quotes/listed.ts";
import { followUpList } from "../reminders/follow-ups.ts";

/** Quotes that wait, or are accepted and not logged, on one page; the list of quotes has them all. */
const MOST_OPEN = 500;

/**
 * `GET /shop`: what waits for a shop today. `GET /person?is=shop`: who the pages are for, kept in the browser; it
 * changes nothing else, and a link to it works on pages of those who may only look.
 */
export function shopRoutes(deps: Deps) {
  const app = new Hono<AppEnv>();
  app.get("/shop", requireRole("viewer"), async (c) => {
    const { store } = c.var;
    const [recent, open, workspace] = await Promise.all([
      store.quotes.recent(),
      store.quotes.open(MOST_OPEN),
      store.settings.get(),
    ]);
    const { today, due } = await followUpList(deps, store);
    const listed = (quotes: typeof recent) => listedQuotes(quotes, today, workspace.time_zone);
    const quotes = listed(open);
    const page = ShopTodayPage({
      today,
      waiting: quotes.filter(({ state }) => state === "sent"),
      to_log: quotes.filter(({ state, worked }) => state === "accepted" && !worked),
      drafts: listed(recent).filter(({ state }) => state === "draft"),
      // Accepted work stands in a list of its own above them.
      follow_ups: due.filter(({ what }) => what.kind !== "not-logged"),
      asset: deps.asset,
    });
    return answerPage(c, page);
  });
  app.get("/person", (c) => {
    const person = oneOf(PERSONS, c.req.query("is") ?? null);
    if (person === undefined) return c.redirect("/", 303);
    keepPerson(c, person, { secure: deps.access_mode !== "local" });
    return c.redirect(PERSON_PLACES[person].home, 303);
  });
  return app;
}
