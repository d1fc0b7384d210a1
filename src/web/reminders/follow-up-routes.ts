import { type Context, Hono } from "hono";
import { type FollowUpResultId, resultsOf } from "../../../views/reminders/follow-up-item.ts";
import { FollowUpsPage, type RefusedReason, reasonInput } from "../../../views/reminders/follow-ups-page.tsx";
import { isLookOnly } from "../../core/leak/looks.ts";
import { Problem } from "../../core/problem.ts";
import { localTime } from "../../core/quantities/local-time.ts";
import type { LocationId } from "../../core/question/contract.ts";
import { leakFoundAt } from "../../core/quotes/quote-options.ts";
import type { Reminder } from "../../core/reminders.ts";
import { closedKey, type FollowUpResult, REASON_CHARS } from "../../store/follow-ups.ts";
import { mayAct } from "../../store/roles.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import type { Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { readWords } from "../forms/form-reading.ts";
import { formOf, newSubmitKey, submitKeyOf } from "../forms/posted-form.ts";
import { followUpList, searchedFollowUps } from "./follow-ups.ts";

type Granted = Context<GrantedEnv>;

const ON_PAGE = 50;
const CLOSED_SHOWN = 20;

const SAID: Readonly<Record<string, string>> = {
  recorded: "Recorded.",
  dismissed: "Dismissed. It stands under “Done lately”.",
  reopened: "It is open again.",
};

/** `/follow-ups`: the list, a press for each result, dismissing with a reason, and taking that back. */
export function followUpRoutes(deps: Deps) {
  const viewer = requireRole("viewer");
  const editor = requireRole("editor");
  return new Hono<GrantedEnv>()
    .get("/follow-ups", viewer, (c) => answerList(c, deps))
    .post("/follow-ups", editor, (c) => record(c, deps))
    .post("/follow-ups/dismissals", editor, (c) => dismiss(c, deps))
    .post("/follow-ups/reopenings", editor, async (c) => {
      const form = await formOf(c);
      await c.var.store.followUps.reopen(form.get("vehicle") ?? "", form.get("key") ?? "");
      return c.redirect("/follow-ups?said=reopened", 303);
    });
}

async function answerList(c: Granted, deps: Deps, refused: RefusedReason | null = null): Promise<Response> {
  const { store } = c.var;
  const { today, time_zone, due, waiting } = await followUpList(deps, store);
  const search = (c.req.query("q") ?? "").trim().slice(0, 120);
  const found = search === "" ? due : searchedFollowUps(due, search);
  const number = c.req.query("page") ?? "1";
  const pages = Math.max(1, Math.ceil(found.length / ON_PAGE));
  const at = found.findIndex(({ vehicle, key }) => vehicle.id === refused?.vehicle_id && key === refused.key);
  const asked = at >= 0 ? Math.floor(at / ON_PAGE) + 1 : /^[1-9]\d{0,3}$/.test(number) ? Number(number) : 1;
  const page = Math.min(pages, asked);
  const address = (of: number) =>
    of < 1 || of > pages
      ? null
      : `/follow-ups?${new URLSearchParams({ ...(search === "" ? {} : { q: search }), page: String(of) })}`;
  const lately = await store.followUps.closedLately(CLOSED_SHOWN);
  const labels = new Map(
    (await store.records(lately.map(({ vehicle_id }) => vehicle_id))).map(({ vehicle }) => [vehicle.id, vehicle.label]),
  );
  const body = FollowUpsPage({
    due: found.slice((page - 1) * ON_PAGE, page * ON_PAGE),
    count: due.length,
    overdue: due.filter((one) => one.due < today).length,
    search,
    before: address(page - 1),
    next: address(page + 1),
    said: SAID[c.req.query("said") ?? ""] ?? "",
    leak_at: await leakOf(c),
    closed: lately.map(({ vehicle_id, follow_up, outcome, words, closed_at, closed_by }) => ({
      vehicle: { id: vehicle_id, label: labels.get(vehicle_id) ?? "Vehicle" },
      key: follow_up,
      outcome,
      words,
      closed: `${localTime(closed_at, time_zone)}, by ${closed_by}`,
    })),
    refused,
    waiting,
    may_change: mayAct(c.var.access.role, "editor"),
    submit_key: newSubmitKey(deps.random).slice(0, 16),
    asset: deps.asset,
  });
  return answerPage(c, body, refused === null ? 200 : 422);
}

/** Where the leak was found of which a follow-up was just recorded; null where none was. */
async function leakOf(c: Granted) {
  const { vehicles, findings, chargeLog } = c.var.store;
  const id = c.req.query("leak") ?? "";
  const vehicle = id === "" ? null : await vehicles.get(id).catch(() => null);
  if (vehicle === null) return null;
  const [found, charge_log] = await Promise.all([findings.list(id), chargeLog.list(id)]);
  const place = leakFoundAt({ findings: found, charge_log });
  return place === null ? null : { vehicle_id: id, place };
}

/** The open follow-up that a form is about; null when it is done with. Throws `Problem` changed when it is not due. */
async function openFollowUp(c: Granted, deps: Deps, form: URLSearchParams) {
  const { due, today } = await followUpList(deps, c.var.store);
  const [vehicle_id, key] = [form.get("vehicle") ?? "", form.get("key") ?? ""];
  const one = due.find((other) => other.vehicle.id === vehicle_id && other.key === key);
  if (one === undefined && (await c.var.store.followUps.closedKeys()).has(closedKey(vehicle_id, key))) return null;
  if (one === undefined)
    throw new Problem("changed", "This follow-up is done with already. Open the list of follow-ups again.");
  return { one, today };
}

async function record(c: Granted, deps: Deps): Promise<Response> {
  const form = await formOf(c);
  const open = await openFollowUp(c, deps, form);
  if (open === null) return c.redirect("/follow-ups?said=recorded", 303);
  const { one, today } = open;
  const result = resultsOf(one).find(({ id }) => id === form.get("result"));
  if (result === undefined || one.what.kind !== "reminder")
    throw new Problem("unreadable", "Choose one of the results that the follow-up offers.");
  const { charge_log } = await c.var.store.record(one.vehicle.id);
  const seen = resultOf(one.what.reminder, result.id, today);
  // A day has one look: the same again adds nothing.
  const entries = (seen.charge_log ?? []).filter(
    ({ cooling }) => !charge_log.some((e) => e.date === today && isLookOnly(e) && e.cooling === cooling),
  );
  const closed = { outcome: "done", words: result.words, ...seen, charge_log: entries } as const;
  await c.var.store.followUps.close(one.vehicle.id, one.key, closed, submitKeyOf(form));
  const leaks = closed.findings?.some(({ result: seen_as }) => seen_as === "leak") === true;
  return c.redirect(`/follow-ups?said=recorded${leaks ? `&leak=${one.vehicle.id}` : ""}`, 303);
}

/** What goes into the record with a result: a test result, or a look. */
function resultOf(
  reminder: Reminder,
  result: FollowUpResultId,
  date: string,
): Pick<FollowUpResult, "charge_log" | "findings"> {
  if (result === "cools-well") return { charge_log: [{ date, cooling: "ok" }] };
  if (result === "cools-poorly") return { charge_log: [{ date, cooling: "weak" }] };
  if (reminder.kind === "repair-look") {
    const found = result === "nothing-seen" ? "clean" : "leak";
    return { findings: [{ date, test: "visual", location: reminder.location, result: found }] };
  }
  if (result.startsWith("dye-")) {
    const location = result.slice("dye-".length) as LocationId;
    return { findings: [{ date, test: "dye", location, result: "leak" }] };
  }
  return { findings: [{ date, test: "dye", location: "anywhere", result: "clean" }] };
}

async function dismiss(c: Granted, deps: Deps): Promise<Response> {
  const form = await formOf(c);
  const open = await openFollowUp(c, deps, form);
  if (open === null) return c.redirect("/follow-ups?said=dismissed", 303);
  const { one } = open;
  const typed = form.get("reason") ?? "";
  const read = readWords(typed, REASON_CHARS);
  const words = "words" in read ? read.words : null;
  if (words === null) {
    const message = "message" in read ? read.message : "Say why, like sold or goes elsewhere";
    const errors = [{ field: reasonInput(one), message }];
    return answerList(c, deps, { key: one.key, vehicle_id: one.vehicle.id, reason: typed, errors });
  }
  await c.var.store.followUps.close(one.vehicle.id, one.key, { outcome: "dismissed", words }, submitKeyOf(form));
  return c.redirect("/follow-ups?said=dismissed", 303);
}
