import { type Context, Hono } from "hono";
import { etag } from "hono/etag";
import { RemindersPage } from "../../../views/reminders/page.tsx";
import { reminderWords } from "../../../views/reminders/reminder-words.ts";
import { dayNumber } from "../../core/quantities/dates.ts";
import type { AssessAnswer, AssessRequest } from "../../core/question/contract.ts";
import { questionOf } from "../../core/question/question.ts";
import { type Reminder, remindersOf } from "../../core/reminders.ts";
import { isPlace } from "../../core/rules/rules.ts";
import type { Page } from "../../store/page.ts";
import { mayAct } from "../../store/roles.ts";
import type { AssessedRecord } from "../../store/vehicle-record.ts";
import type { Vehicle } from "../../store/vehicles.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import { requireRole, storeOfFeed } from "../edge/access.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { vehicleRequest } from "../vehicle-answer.ts";
import { briefAnswer, briefAnswers } from "../vehicles/brief-answer.ts";
import { todayIn } from "../workspace.ts";
import { type CalendarEvent, calendarText } from "./ics.ts";

/** The calendar of a workspace holds its first vehicles by name, up to so many. */
const FEED_VEHICLES = 500;
const FEED_PAGE = 100;

/** Reminders: a page and a file for each vehicle, and one calendar of all of them under a secret address. */
export function reminderRoutes(deps: Deps) {
  const app = new Hono<AppEnv>();

  app.get("/vehicles/:id/reminders", requireRole("viewer"), async (c) => {
    const { store, access } = c.var;
    const { vehicle, reminders } = await remindersOfVehicle(store, c.req.param("id"), deps.now());
    const may_share = mayAct(access.role, "owner");
    return answerPage(c, RemindersPage({ vehicle, reminders, may_share, asset: deps.asset }));
  });
  app.get("/vehicles/:id/reminders.ics", requireRole("viewer"), async (c) => {
    const reminded = await remindersOfVehicle(c.var.store, c.req.param("id"), deps.now());
    c.header("Content-Disposition", 'attachment; filename="reminders.ics"');
    return calendar(c, reminded.vehicle.label, reminded.today, eventsOf(reminded, deps.origin(c)));
  });
  app.get("/feed/:file{[\\w-]+\\.ics}", etag(), async (c) => {
    const store = await storeOfFeed(c, deps, c.req.param("file").replace(/\.ics$/, ""));
    const { name, time_zone } = await store.settings.get();
    const today = todayIn({ time_zone }, deps.now());
    const reminded = await remindersOfAll(store, today);
    const events = reminded.flatMap((one) => eventsOf(one, deps.origin(c)));
    return calendar(c, name, today, events);
  });
  return app;
}

/** A vehicle's reminders on the day where its workspace is. */
interface Reminded {
  vehicle: Vehicle;
  today: string;
  reminders: Reminder[];
}

async function remindersOfVehicle(store: WorkspaceStore, vehicle_id: string, now: Date): Promise<Reminded> {
  const record = await store.record(vehicle_id);
  const request = vehicleRequest(record, todayIn(record.workspace, now));
  return reminded(record, request, await briefAnswer(store, vehicle_id, request));
}

async function remindersOfAll(store: WorkspaceStore, today: string): Promise<Reminded[]> {
  const all: Reminded[] = [];
  let after: string | null = null;
  do {
    const page: Page<Vehicle> = await store.vehicles.list({ limit: FEED_PAGE, after });
    const records = await store.records(page.items.map(({ id }) => id));
    const asked = records.map((record) => ({
      record,
      vehicle_id: record.vehicle.id,
      request: vehicleRequest(record, today),
    }));
    const answers = await briefAnswers(store, asked);
    all.push(...asked.map(({ record, request }, i) => reminded(record, request, answers[i]!)));
    after = page.next;
  } while (after !== null && all.length < FEED_VEHICLES);
  return all;
}

function reminded(record: AssessedRecord, request: AssessRequest, answer: AssessAnswer): Reminded {
  const { vehicle, workspace, charge_log, findings } = record;
  const { place, currency } = workspace;
  const today = request.as_of;
  const reminders = remindersOf({
    answer,
    log: charge_log.filter(({ date }) => date <= today),
    findings: findings.filter(({ date }) => date <= today),
    place: place !== null && isPlace(place) ? place : null,
    can_net_g: questionOf(request).prices.can_net_g,
    currency,
  });
  return { vehicle, today, reminders };
}

function eventsOf({ vehicle, today, reminders }: Reminded, origin: string): CalendarEvent[] {
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

/** Something that must be done by a day is told a week before; everything else in the morning of its day. */
const DEPOSIT_DAYS_BEFORE = 7;
/** A longer window would stand over every day of the calendar for years. */
const LONGEST_SHOWN_DAYS = 92;

function daysOf(
  reminder: Reminder,
  today: string,
): Pick<CalendarEvent, "first_day" | "last_day" | "alarm_days_before"> {
  const { kind, date } = reminder;
  const on = (day: string, alarm_days_before: number | null) => ({ first_day: day, last_day: day, alarm_days_before });
  if (kind !== "next-low") return on(date, kind === "can-deposit" ? DEPOSIT_DAYS_BEFORE : 0);
  // A window that has begun begins anew each day: it must not ring each day.
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
