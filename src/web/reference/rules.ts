import { Hono } from "hono";
import { RulesPage } from "../../../views/rules/page.tsx";
import { parseDate } from "../../core/quantities/parse-date.ts";
import { barsIn, endedRules, isPlace, rulesFor } from "../../core/rules/rules.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { FOR_ALL, sharedPages } from "../edge/kept-pages.ts";
import { Refusals } from "../forms/form-reading.ts";

/** `GET /rules?place=us-wi&date=2026-05-01`: what the law says there on that day. */
export function rulesRoutes(deps: Deps) {
  const shared = sharedPages(deps);
  return new Hono<AppEnv>().get("/rules", (c) =>
    shared(c, FOR_ALL, () => {
      const place = c.req.query("place") ?? "us";
      const date = c.req.query("date") ?? deps.today(c);
      const refusals = new Refusals();
      if (!isPlace(place)) refusals.refuse("place", "Choose where the vehicle is");
      const day = parseDate(date, LATEST);
      if (!day.ok) refusals.refuse("date", day.message);
      const shown =
        isPlace(place) && day.ok
          ? {
              place,
              date: day.iso,
              rules: rulesFor(place, day.iso),
              ended: endedRules(place, day.iso),
              bars: barsIn(place, day.iso),
            }
          : null;
      const errors = refusals.all();
      const page = RulesPage({ place, date, errors, shown, asset: deps.asset });
      return { view: page, status: errors.length > 0 ? 422 : 200 };
    }),
  );
}

/** Work may be planned ahead. */
const LATEST = "2100-01-01";
