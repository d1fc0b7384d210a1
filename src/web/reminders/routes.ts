import { type Context, Hono } from "hono";
import { etag } from "hono/etag";
import { type DueFollowUp, followUpWords } from "../../../views/reminders/follow-up-item.ts";
import { RemindersPage } from "../../../views/reminders/page.tsx";
import { reminderWords } from "../../../views/reminders/reminder-words.ts";
import { dayNumber } from "../../core/quantities/dates.ts";
import { isOverdue, type Reminder } from "../../core/reminders.ts";
import { mayAct } from "../../store/roles.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import { requireRole, storeOfFeed } from "../edge/access.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { todayIn } from "../workspace.ts";
import { followUpList } from "./follow-ups.ts";
import { type CalendarEvent, calendarText } from "./ics.ts";
import { type Reminded, remindersOfAll, remindersOfVehicle } from "./reminded.ts";

/**
 * The calendar of a workspace holds what is expected of its first vehicles by name, up to so many; of the others, what
 * is due.
 */
const FEED_VEHICLES = 500;

/** Reminders: a page and a file for each vehicle, and one calendar of all of them under a secret address. */
export function reminderRoutes(deps: Deps) {
  const app = new Hono<AppEnv>();

  app.get("/vehicles/:id/reminders", requireRole("viewer"), async (c) => {
    const { store, access } = c.var;
    const { vehicle, reminders, today } = await remindersOfVehicle(deps, store, c.req.param("id"));
    const may_share = mayAct(access.role, "owner");
    return answerPage(c, RemindersPage({ vehicle, reminders, today, may_share, asset: deps.asset }));
  });
  app.get("/vehicles/:id/reminders.ics", requireRole("viewer"), async (c) => {
    const reminded = await remindersOfVehicle(deps, c.var.store, c.req.param("id"));
    c.header("Content-Disposition", 'attachment; filename="reminders.ics"');
    return calendar(c, reminded.vehicle.label, reminded.today, eventsOf(reminded, deps.origin(c)));
  });
  app.get("/feed/:file{[\\w-]+\\.ics}", etag(), async (c) => {
    const store = await storeOfFeed(c, deps, c.req.param("file").replace(/\.ics$/, ""));
    const { name, time_zone } = await store.settings.get();
    const events = await feedEvents(deps, store, deps.origin(c));
    return calendar(c, name, todayIn({ time_zone }, deps.now()), events);
  });
  return app;
}

/**
 * All that stands in the calendar of a workspace.
 *
 * @internal Called from outside by tests alone.
 */
export async function feedEvents(
  deps: Pick<Deps, "model" | "now">,
  store: WorkspaceStore,
  origin: string,
): Promise<CalendarEvent[]> {
  const { due, today } = await followUpList(deps, store);
  const reminded = await remindersOfAll(deps.model, store, today, FEED_VEHICLES);
  const told = new Set(reminded.map(({ vehicle }) => vehicle.id));
  return [
    ...reminded.flatMap((one) => eventsOf(one, origin)),
    ...due.flatMap((one) =>
      one.what.kind === "reminder"
        ? eventsOf(
            { vehicle: one.vehicle, today, reminders: told.has(one.vehicle.id) ? [] : [one.what.reminder] },
            origin,
          )
        : quoteEvent(one, today, origin),
    ),
  ];
}

interface Told extends Pick<Reminded, "today" | "reminders"> {
  vehicle: Pick<Reminded["vehicle"], "id" | "label">;
}

function eventsOf({ vehicle, today, reminders }: Told, origin: string): CalendarEvent[] {
  return reminders.map((reminder) => {
    const { title, text } = reminderWords(reminder);
    return {
      uid: `${reminder.id}.${vehicle.id}@seepwise`,
      ...daysOf(reminder, today),
      summary: `${vehicle.label}: ${title}`,
      description: text,
      url: `${origin}/vehicles/${vehicle.id}`,
    };
  });
}

/** A quote that runs out, or whose work is not logged. What is due for the vehicle itself is among its reminders. */
function quoteEvent(one: DueFollowUp, today: string, origin: string): CalendarEvent[] {
  const { vehicle, due, overdue, key, what } = one;
  if (what.kind === "reminder") return [];
  const { title, text } = followUpWords(one);
  const day = overdue ? today : due;
  return [
    {
      uid: `${key}.${vehicle.id}@seepwise`,
      ...{ first_day: day, last_day: day, alarm_days_before: overdue ? null : 0 },
      summary: `${vehicle.label}: ${title}`,
      description: text,
      url: `${origin}${what.quote.path}`,
    },
  ];
}

/** A deadline is announced a week before; everything else in the morning of its day. */
const DEPOSIT_DAYS_BEFORE = 7;
/** A longer window would fill every day of the calendar for years. */
const LONGEST_SHOWN_DAYS = 92;

function daysOf(
  reminder: Reminder,
  today: string,
): Pick<CalendarEvent, "first_day" | "last_day" | "alarm_days_before"> {
  const { kind, date } = reminder;
  const on = (day: string, alarm_days_before: number | null) => ({ first_day: day, last_day: day, alarm_days_before });
  // Overdue: shown on each day until it is done, without an alarm.
  if (isOverdue(reminder, today)) return on(today, null);
  if (kind !== "next-low") return on(date, kind === "can-deposit" ? DEPOSIT_DAYS_BEFORE : 0);
  // An open window starts on today, every day: it must not ring every day.
  const alarm_days_before = date > today ? 0 : null;
  const { until, likely } = reminder;
  if (until !== null && dayNumber(until) - dayNumber(date) < LONGEST_SHOWN_DAYS)
    return { first_day: date, last_day: until, alarm_days_before };
  return date > today ? on(date, 0) : on(likely, 0);
}

/** Written at the beginning of the day, so that it stays the same while nothing changes. */
function calendar(c: Context, name: string, today: string, events: readonly CalendarEvent[]) {
  c.header("Cache-Control", "private, no-cache");
  const text = calendarText({ name, written_at: new Date(`${today}T00:00:00Z`), events });
  return c.body(text, 200, { "Content-Type": "text/calendar; charset=utf-8" });
}
