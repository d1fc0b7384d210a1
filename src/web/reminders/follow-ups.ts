import type { DueFollowUp } from "../../../views/reminders/follow-up-item.ts";
import { dayNumber, isoFromDay } from "../../core/quantities/dates.ts";
import { followUpKey } from "../../core/reminders.ts";
import { closedKey, type Reachable } from "../../store/follow-ups.ts";
import type { QuoteSummary } from "../../store/quote-lists.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import { calendarDay } from "../edge/calendar-day.ts";
import type { Deps } from "../edge/deps.ts";
import { pathOf } from "../quotes/address.ts";
import { todayIn } from "../workspace.ts";
import { followUpsOfAll } from "./reminded.ts";

/** Follow-ups of the coming fortnight are due: time to call the customer. A quote runs out within a week. */
const DUE_DAYS = 14;
const QUOTE_DUE_DAYS = 7;
/** Answers that are computed for one look at the list; the others are there from a look before, or from the next. */
const MOST_NEW_ANSWERS = 500;
/** Quotes that are looked through, the oldest first. */
const MOST_QUOTES = 10_000;

/** All that a shop has to follow up, as of a day where it is. */
export interface FollowUpList {
  today: string;
  time_zone: string;
  /** The longest overdue first. */
  due: DueFollowUp[];
  /** Vehicles of which the model is still to be asked: what their records alone say is in the list. */
  waiting: number;
}

/** One list for the shop: looks, repairs, watch dates, quotes without an answer, accepted work that is not logged. */
export async function followUpList(
  { model, now }: Pick<Deps, "model" | "now">,
  store: WorkspaceStore,
): Promise<FollowUpList> {
  const [{ time_zone }, closed, owners] = await Promise.all([
    store.settings.get(),
    store.followUps.closedKeys(),
    store.followUps.reachable(),
  ]);
  const today = todayIn({ time_zone }, now());
  const owner_of = new Map(owners.map((owner) => [owner.vehicle_id, owner]));
  const followed = await followUpsOfAll(model, store, today, MOST_NEW_ANSWERS);
  const until = isoFromDay(dayNumber(today) + DUE_DAYS);
  const of_vehicles = followed.flatMap(({ vehicle, follow_ups }) =>
    follow_ups
      .filter(({ date }) => date <= until)
      .map(
        (reminder): DueFollowUp => ({
          ...about(vehicle.id, vehicle.label, reminder.date, followUpKey(reminder), today),
          ...customerOf(owner_of.get(vehicle.id)),
          what: { kind: "reminder", reminder },
        }),
      ),
  );
  const quotes = await store.quotes.open(MOST_QUOTES);
  const of_quotes = quotes
    .flatMap((quote) => quoteFollowUp(quote, owner_of.get(quote.vehicle_id), today, time_zone))
    .filter(({ vehicle, key }) => !closed.has(closedKey(vehicle.id, key)));
  const due = [...of_vehicles, ...of_quotes].toSorted((a, b) => (a.due < b.due ? -1 : a.due > b.due ? 1 : 0));
  return { today, time_zone, due, waiting: followed.filter(({ waits }) => waits).length };
}

/** Those of the list whose vehicle, plate or customer a text is part of. */
export function searchedFollowUps(due: readonly DueFollowUp[], text: string): DueFollowUp[] {
  const looked_for = text.toLocaleLowerCase();
  return due.filter(({ vehicle, customer, plate }) =>
    [vehicle.label, customer?.name ?? "", plate].some((part) => part.toLocaleLowerCase().includes(looked_for)),
  );
}

function about(id: string, label: string, due: string, key: string, today: string) {
  return { vehicle: { id, label }, due, key, overdue: due < today };
}

function customerOf(owner: Reachable | undefined): Pick<DueFollowUp, "customer" | "plate"> {
  if (owner === undefined) return { customer: null, plate: "" };
  const { customer_id, name, phone, plate } = owner;
  return { customer: { id: customer_id, name, phone }, plate };
}

function quoteFollowUp(
  quote: QuoteSummary,
  owner: Reachable | undefined,
  today: string,
  time_zone: string,
): DueFollowUp[] {
  const { id, number, vehicle_id, vehicle_label, customer, status, valid_until, decided_at, decided_title } = quote;
  const of = (kind: "quote-expiring" | "not-logged", due: string): DueFollowUp[] => [
    {
      ...about(vehicle_id, vehicle_label, due, `${kind}-${id}.${due}`, today),
      ...customerOf(owner),
      what: { kind, quote: { path: pathOf(quote), number, customer, title: decided_title } },
    },
  ];
  if (status === "accepted" && decided_at !== null)
    return of("not-logged", calendarDay(new Date(decided_at), time_zone));
  if (status !== "sent" || valid_until === null) return [];
  return valid_until <= isoFromDay(dayNumber(today) + QUOTE_DUE_DAYS) ? of("quote-expiring", valid_until) : [];
}
