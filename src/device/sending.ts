import { dayNumber, formatDate, isoFromDay } from "../core/quantities/dates.ts";
import { parseWhen } from "../core/quantities/parse-when.ts";
import type { WaitingEntry, WaitingProblem } from "../core/question/waiting-entry.ts";
import type { WaitingEntries } from "./waiting.ts";

/** How forms reach the server: `fetch`, or what a test puts in its place. It throws where the server is not reached. */
export type Send = (request: Request) => Promise<Response>;

interface Post {
  entries: WaitingEntries;
  send: Send;
  now(): Date;
  /** The day where the device is, `YYYY-MM-DD`. */
  today: string;
}

/**
 * Sends a form of a new line. Where the server is not reached, the line waits on this device, and the answer is null.
 * A line that waited and is taken now waits no more.
 */
export async function postOrWait(request: Request, { entries, send, now, today }: Post): Promise<Response | null> {
  const form = await request.clone().text();
  const key = new URLSearchParams(form).get("submit_key");
  const answer = await reached(send, request);
  if (answer === null) {
    // Without a key it could be stored twice.
    if (key === null) throw new TypeError("The server was not reached");
    const path = new URL(request.url).pathname;
    await entries.put({
      key,
      path,
      vehicle: "",
      form: withPlainDay(form, today),
      written_at: now().toISOString(),
      problem: null,
    });
    return null;
  }
  if (key !== null && isTaken(answer)) await entries.remove(key);
  return answer;
}

/**
 * Sends what waits and has a vehicle. What the server refuses stays, with why, and is sent again the next time unless
 * it has to be put right first. Ends at the first that does not arrive.
 */
export async function sendWaiting(entries: WaitingEntries, origin: string, send: Send): Promise<void> {
  for (const entry of await entries.all()) {
    if (entry.path === null || entry.problem === "to-put-right") continue;
    const answer = await reached(send, requestOf(entry, origin + entry.path));
    if (answer === null || answer.status === 429) return;
    if (isTaken(answer)) await entries.remove(entry.key);
    else await entries.put({ ...entry, problem: problemOf(answer.status) });
  }
}

function requestOf({ form, key }: WaitingEntry, address: string): Request {
  const fields = new URLSearchParams(form);
  fields.set("submit_key", key);
  return new Request(address, { method: "POST", body: fields, redirect: "manual" });
}

/** What did not get through to the program is no answer of it. */
const NOT_REACHED = [502, 503, 504];

async function reached(send: Send, request: Request): Promise<Response | null> {
  const answer = await send(request).catch(() => null);
  return answer === null || NOT_REACHED.includes(answer.status) ? null : answer;
}

/** A form that was stored leads to another page. */
function isTaken({ type, status }: Response): boolean {
  return type === "opaqueredirect" || (status >= 200 && status < 400);
}

function problemOf(status: number): WaitingProblem {
  if (status === 401 || status === 403) return "no-access";
  return status === 404 ? "no-vehicle" : "to-put-right";
}

/**
 * "Today" is another day by the time it is sent: what means another day then is sent as it is read now, as vague as it
 * was. What cannot be read is left for the server to ask about.
 */
export function withPlainDay(form: string, today: string): string {
  const fields = new URLSearchParams(form);
  const typed = fields.get("when") ?? "";
  const when = parseWhen(typed, { as_of: today });
  const tomorrow = parseWhen(typed, { as_of: isoFromDay(dayNumber(today) + 1) });
  if (!when.ok || !tomorrow.ok || when.iso === tomorrow.iso) return fields.toString();
  const plain = when.earliest === when.latest ? formatDate(when.iso) : when.said;
  if (parseWhen(plain, { as_of: today }).ok) fields.set("when", plain);
  return fields.toString();
}
