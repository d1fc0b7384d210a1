import { Hono } from "hono";
import { PERSON_PLACES, PERSONS } from "../../../views/navigation.tsx";
import { type DueReminder, ShopTodayPage } from "../../../views/shop/today-page.tsx";
import { dayNumber, isoFromDay } from "../../core/quantities/dates.ts";
import type { Reminder } from "../../core/reminders.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import { requireRole } from "../edge/access.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import type { Model } from "../edge/model.ts";
import { answerPage } from "../edge/page.ts";
import { keepPerson } from "../edge/person.ts";
import { oneOf } from "../forms/typed-values.ts";
import { listedQuotes } from "../quotes/listed.ts";
import { remindersOfAll } from "../reminders/reminded.ts";
import { todayIn } from "../workspace.ts";

/** Follow-ups of the coming fortnight are due: time to call the customer. */
const DUE_DAYS = 14;
/** Vehicles that are looked through for them, by name. */
const MOST_VEHICLES = 200;

/**
 * `GET /shop`: what waits for a shop today. `GET /person?is=shop`: who the pages are for, kept in the browser; it
 * changes nothing else, and a link to it works on pages of those who may only look.
 */
export function shopRoutes(deps: Deps) {
  const app = new Hono<AppEnv>();
  app.get("/shop", requireRole("viewer"), async (c) => {
    const { store } = c.var;
    const [recent, workspace] = await Promise.all([store.quotes.recent(), store.settings.get()]);
    const today = todayIn(workspace, deps.now());
    const quotes = listedQuotes(recent, today, workspace.time_zone);
    const page = ShopTodayPage({
      today,
      waiting: quotes.filter(({ state }) => state === "sent"),
      to_log: quotes.filter(({ state, worked }) => state === "accepted" && !worked),
      drafts: quotes.filter(({ state }) => state === "draft"),
      follow_ups: await followUps(deps.model, store, today),
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

/** What a shop calls about: dye to look for, repairs to look at, watch dates. The earliest first. */
const FOLLOW_UPS: readonly Reminder["kind"][] = ["watch", "dye-inspection", "repair-look", "repair-held"];

async function followUps(model: Model, store: WorkspaceStore, today: string): Promise<DueReminder[]> {
  const until = isoFromDay(dayNumber(today) + DUE_DAYS);
  const all = await remindersOfAll(model, store, today, MOST_VEHICLES);
  return all
    .flatMap(({ vehicle, reminders }) =>
      reminders
        .filter(({ kind, date }) => FOLLOW_UPS.includes(kind) && date <= until)
        .map((reminder) => ({ vehicle: { id: vehicle.id, label: vehicle.label }, reminder })),
    )
    .toSorted((a, b) => a.reminder.date.localeCompare(b.reminder.date));
}
