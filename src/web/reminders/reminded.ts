import { dayNumber } from "../../core/quantities/dates.ts";
import type { AssessAnswer, AssessRequest } from "../../core/question/contract.ts";
import { questionOf } from "../../core/question/question.ts";
import type { Vehicle } from "../../core/question/record.ts";
import { followUpKey, followUpsOf, type Reminder, type RepairCheck, remindersOf } from "../../core/reminders.ts";
import { isPlace } from "../../core/rules/rules.ts";
import { closedKey } from "../../store/follow-ups.ts";
import type { Page } from "../../store/page.ts";
import type { AssessedRecord } from "../../store/vehicle-record.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import type { Deps } from "../edge/deps.ts";
import type { Model } from "../edge/model.ts";
import { vehicleRequest } from "../vehicle-answer.ts";
import { briefAnswer, briefAnswers, someBriefAnswers } from "../vehicles/brief-answer.ts";
import { todayIn } from "../workspace.ts";

const PAGE = 100;

/** A vehicle's reminders on the day where its workspace is. */
export interface Reminded {
  vehicle: Vehicle;
  today: string;
  reminders: Reminder[];
}

/** What a vehicle's reminders are worked out from, before the model is asked. */
interface Asking {
  record: AssessedRecord;
  request: AssessRequest;
  /** The same question on the day of the last entry; null without one. */
  at_entry: AssessRequest | null;
}

/** Of one vehicle. Throws `Problem` not-found. */
export async function remindersOfVehicle(
  { model, now }: Pick<Deps, "model" | "now">,
  store: WorkspaceStore,
  vehicle_id: string,
): Promise<Reminded> {
  const record = await store.record(vehicle_id);
  const asking = askingOf(record, todayIn(record.workspace, now()));
  const { request, at_entry } = asking;
  const [answer, answer_then, kept] = [
    await briefAnswer(model, store, vehicle_id, request),
    at_entry === null ? null : await briefAnswer(model, store, vehicle_id, at_entry),
    await whatIsKept(store),
  ];
  return reminded(asking, answer, answer_then, kept);
}

/** Of the first `most` vehicles of the workspace, by name. */
export async function remindersOfAll(
  model: Model,
  store: WorkspaceStore,
  today: string,
  most: number,
): Promise<Reminded[]> {
  const kept = await whatIsKept(store);
  const all: Reminded[] = [];
  for await (const records of pagesOfRecords(store, most)) {
    const asking = records.map((record) => askingOf(record, today));
    const answers = await briefAnswers(model, store, asking.map(asked("request")));
    const answers_then = await answersThen(model, store, asking);
    all.push(...asking.map((one, i) => reminded(one, answers[i]!, answers_then[i] ?? null, kept)));
  }
  return all;
}

/** A vehicle's follow-ups, those of the records alone and those that the model speaks for. */
export interface FollowedUp {
  vehicle: Vehicle;
  follow_ups: Reminder[];
  /** What the model says is still to be computed: these are the follow-ups of the records alone. */
  waits: boolean;
}

/**
 * The open follow-ups of every vehicle. The model is asked about the day of the last entry, so that an answer is kept
 * until there is another entry; and not at all about an entry so recent that nothing of it is due. At most `most_new`
 * answers are computed at once: the next look goes on from there.
 */
export async function followUpsOfAll(
  model: Model,
  store: WorkspaceStore,
  today: string,
  most_new: number,
): Promise<FollowedUp[]> {
  const kept = await whatIsKept(store);
  const all: FollowedUp[] = [];
  let left = most_new;
  for await (const records of pagesOfRecords(store, Number.POSITIVE_INFINITY)) {
    const asking = records.map((record) => {
      const one = askingOf(record, today);
      return one.at_entry !== null && dayNumber(today) - dayNumber(one.at_entry.as_of) < RECENT_DAYS
        ? { ...one, at_entry: null }
        : one;
    });
    const with_entries = asking.filter(({ at_entry }) => at_entry !== null);
    const computed = { count: 0 };
    const answers = await someBriefAnswers(counted(model, computed), store, with_entries.map(asked("at_entry")), left);
    left -= computed.count;
    const answer_of = new Map(with_entries.map((one, i) => [one, answers[i] ?? null]));
    all.push(
      ...asking.map((one) => ({
        vehicle: one.record.vehicle,
        follow_ups: followUpsOf({
          at_entry: answer_of.get(one) ?? null,
          ...saidBy(one.record, today, kept),
        }).filter(isOpen(one.record.vehicle.id, kept)),
        waits: answer_of.get(one) === null,
      })),
    );
  }
  return all;
}

/** The model, with a count of the answers that it was asked for. */
function counted(model: Model, computed: { count: number }): Pick<Model, "pageAnswer"> {
  return {
    pageAnswer: (request, options) => {
      computed.count++;
      return model.pageAnswer(request, options);
    },
  };
}

/** No watch date and no settled repair comes sooner after an entry than this, and the list looks two weeks ahead. */
const RECENT_DAYS = 30;

/** What the workspace has said beside the records: which follow-ups are done with, and when quotes ask again. */
interface Kept {
  closed: ReadonlySet<string>;
  checks: ReadonlyMap<string, readonly RepairCheck[]>;
}

async function whatIsKept({ followUps, quotes }: WorkspaceStore): Promise<Kept> {
  const [closed, checks] = await Promise.all([followUps.closedKeys(), quotes.repairChecks()]);
  return { closed, checks: Map.groupBy(checks, ({ vehicle_id }) => vehicle_id) };
}

async function* pagesOfRecords(store: WorkspaceStore, most: number): AsyncGenerator<AssessedRecord[]> {
  let after: string | null = null;
  for (let read = 0; read < most; read += PAGE) {
    const page: Page<Vehicle> = await store.vehicles.list({ limit: Math.min(PAGE, most - read), after });
    yield await store.records(page.items.map(({ id }) => id));
    if (page.next === null) return;
    after = page.next;
  }
}

function askingOf(record: AssessedRecord, today: string): Asking {
  const last = record.charge_log.findLast(({ date }) => date <= today);
  const request = vehicleRequest(record, today);
  return { record, request, at_entry: last === undefined ? null : vehicleRequest(record, last.date) };
}

function asked(which: "request" | "at_entry") {
  return (asking: Asking) => ({ vehicle_id: asking.record.vehicle.id, request: asking[which] ?? asking.request });
}

/** The answers of the days of the last entries, by place; none for a vehicle without an entry. */
async function answersThen(
  model: Model,
  store: WorkspaceStore,
  asking: readonly Asking[],
): Promise<(AssessAnswer | undefined)[]> {
  const with_entries = asking.filter(({ at_entry }) => at_entry !== null);
  const answers = await briefAnswers(model, store, with_entries.map(asked("at_entry")));
  const of = new Map(with_entries.map((one, i) => [one, answers[i]!]));
  return asking.map((one) => of.get(one));
}

function saidBy({ vehicle, charge_log, findings }: AssessedRecord, today: string, { checks }: Kept) {
  return {
    checks: checks.get(vehicle.id) ?? [],
    log: charge_log.filter(({ date }) => date <= today),
    findings: findings.filter(({ date }) => date <= today),
  };
}

function isOpen(vehicle_id: string, { closed }: Kept) {
  return (reminder: Reminder) => !closed.has(closedKey(vehicle_id, followUpKey(reminder)));
}

function reminded(
  { record, request }: Asking,
  answer: AssessAnswer,
  at_entry: AssessAnswer | null,
  kept: Kept,
): Reminded {
  const { vehicle, workspace } = record;
  const { place } = workspace;
  const today = request.as_of;
  const reminders = remindersOf({
    answer,
    at_entry,
    ...saidBy(record, today, kept),
    place: place !== null && isPlace(place) ? place : null,
    can_net_g: questionOf(request).prices.can_net_g,
  }).filter(isOpen(vehicle.id, kept));
  return { vehicle, today, reminders };
}
