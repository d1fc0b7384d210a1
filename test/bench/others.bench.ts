/**
 * What somebody else waits for a page that is kept, their vehicle's, while others take all they can get: fifty
 * connections that ask new questions at `/` without a pause, from one address or each time from another, and a calendar
 * and a list of follow-ups for which five hundred answers have to be worked out first.
 *
 *     npm run build && npm run bench -- others
 *
 * Budgets: 100 ms for 99 of 100 pages beside the questions; 200 ms at the longest beside calendar and list.
 */
import { once } from "node:events";
import { Worker } from "node:worker_threads";
import autocannon, { type Result } from "autocannon";
import { fleetCsv } from "../support/fleet-csv.ts";
import { type RunningServer, startServer } from "../support/server.ts";
import type { Hammering } from "./hammer.worker.ts";
import { LOOKS_EVERY_MS, VISITORS } from "./load.ts";
import { lineOf, type Measurement } from "./measurement.ts";

const MOST_MS_OF_99 = 100;
const MOST_MS = 200;
/** Like a person with a program: so many pages a second, over one connection. */
const PAGES_PER_S = 50;

/** Somebody with records, as their browser asks through a proxy. */
interface Somebody {
  server: RunningServer;
  headers: Record<string, string>;
  page: string;
}

export async function othersBench({ vehicles = 500, pages = 500 } = {}): Promise<Measurement[]> {
  const server = await startServer({ BEHIND_PROXY: "yes" });
  try {
    const somebody = await somebodyAt(server);
    await importFleet(somebody, vehicles);
    const waits = async (name: string, work: (() => Promise<unknown>) | null, while_pages = pages) => {
      const { of_99, longest, asked } = await waitsOf(somebody, while_pages, work);
      return { name: `${name}: another's page`, of_99, longest, asked };
    };
    const quiet = await waits("nothing else", null);
    const found: Measurement[] = [of99(quiet, `${quiet.asked} pages`)];
    for (const from_everywhere of [false, true]) {
      const name = `${VISITORS} ask new questions, ${from_everywhere ? "each from an address of its own" : "from one address"}`;
      const stop = hammer({ url: server.url, connections: VISITORS, from_everywhere });
      const waited = await waits(name, null);
      found.push(of99(waited, `beside ${said(await stop())}`));
    }
    const calendar = await calendarOf(somebody);
    for (const [name, path] of [
      ["a list of follow-ups is worked out", "/follow-ups"],
      ["a calendar is worked out", calendar],
    ] as const) {
      const waited = await waits(`${name} for ${vehicles} vehicles`, () => get(somebody, path));
      found.push({ ...of99(waited, `${waited.asked} pages`), value: waited.longest, most: MOST_MS });
    }
    return found;
  } finally {
    await server.stop();
  }
}

function of99({ name, of_99 }: { name: string; of_99: number }, beside: string): Measurement {
  return { name, value: of_99, unit: "ms", most: MOST_MS_OF_99, digest: null, beside };
}

function said(statuses: Record<string, number>): string {
  return Object.entries(statuses)
    .map(([status, count]) => `${count} × ${status}`)
    .join(", ");
}

/** Begins to ask new questions; what is given back stops it and says how often it was answered, by status. */
function hammer(hammering: Hammering): () => Promise<Record<string, number>> {
  const thread = new Worker(new URL("./hammer.worker.ts", import.meta.url), { workerData: hammering });
  const done = once(thread, "message");
  return async () => {
    thread.postMessage("stop");
    const [statuses] = (await done) as [Record<string, number>];
    await thread.terminate();
    return statuses;
  };
}

/** Waits for pages, ms; with `work` for as many as are asked for until it is done. */
async function waitsOf({ server, headers, page }: Somebody, pages: number, work: (() => Promise<unknown>) | null) {
  const { promise, resolve, reject } = Promise.withResolvers<Result>();
  const asking = autocannon(
    {
      url: server.url + page,
      headers,
      connections: 1,
      overallRate: PAGES_PER_S,
      sampleInt: LOOKS_EVERY_MS,
      ...(work === null ? { amount: pages } : { duration: 600 }),
    },
    (error, result) => (error ? reject(error) : resolve(result)),
  );
  await work?.().finally(() => asking.stop());
  const { latency, errors, timeouts, non2xx, requests } = await promise;
  if (errors + timeouts + non2xx > 0) throw new Error(`${page}: ${errors} errors, ${timeouts} late, ${non2xx} refused`);
  return { of_99: latency.p99, longest: latency.max, asked: requests.total };
}

/** Opens the owner's link that the server printed, and keeps a vehicle. */
async function somebodyAt(server: RunningServer): Promise<Somebody> {
  const from_here = {
    "X-Forwarded-For": "198.51.100.7",
    "X-Forwarded-Proto": "https",
    "Sec-Fetch-Site": "same-origin",
  };
  let key: string | undefined;
  while (key === undefined) {
    key = /\/access\/(\S+)/.exec(server.output())?.[1];
    await new Promise((resume) => setTimeout(resume, 20));
  }
  const opened = await fetch(`${server.url}/access/${key}`, { method: "POST", headers: from_here, redirect: "manual" });
  const headers = { ...from_here, Cookie: opened.headers.get("Set-Cookie")!.split(";")[0]! };
  const vehicle = { label: "Van", refrigerant: "R-134a", nameplate_g: 650, charge_log: [] };
  const kept = await fetch(`${server.url}/api/vehicles`, {
    method: "POST",
    headers: { ...headers, "Content-Type": "application/json" },
    body: JSON.stringify(vehicle),
  });
  if (kept.status !== 201) throw new Error(`No vehicle: ${kept.status} ${await kept.text()}`);
  const { id } = (await kept.json()) as { id: string };
  const somebody = { server, headers, page: `/vehicles/${id}` };
  await get(somebody, somebody.page);
  return somebody;
}

async function get({ server, headers }: Somebody, path: string): Promise<string> {
  const answer = await fetch(server.url + path, { headers });
  const text = await answer.text();
  if (!answer.ok) throw new Error(`${path}: ${answer.status} ${text}`);
  return text;
}

async function post({ server, headers }: Somebody, path: string, body: FormData | URLSearchParams) {
  const answer = await fetch(server.url + path, { method: "POST", headers, body, redirect: "manual" });
  const text = await answer.text();
  if (answer.status >= 400) throw new Error(`${path}: ${answer.status} ${text}`);
  return { text, location: answer.headers.get("Location") ?? "" };
}

/** Takes in a fleet, and waits until its own run is over. */
async function importFleet(somebody: Somebody, vehicles: number): Promise<void> {
  const body = new FormData();
  const csv = fleetCsv({ vehicles, entries: 6, seed: 7, as_of: "2026-05-01" });
  body.append("file", new Blob([csv]), "fleet.csv");
  const { location } = await post(somebody, "/fleet/import", body);
  await post(somebody, `${location}/take`, new URLSearchParams({ doubt: "yes" }));
  for (;;) {
    const page = await get(somebody, "/fleet");
    if (!page.includes("fleet/progress")) return;
    await new Promise((resume) => setTimeout(resume, 500));
  }
}

/** The path of a new calendar. */
async function calendarOf(somebody: Somebody): Promise<string> {
  const { text } = await post(somebody, "/settings/access", new URLSearchParams({ purpose: "feed", label: "Mine" }));
  const path = /\/feed\/[\w-]+\.ics/.exec(text)?.[0];
  if (path === undefined) throw new Error(`No calendar: ${text}`);
  return path;
}

if (import.meta.main) for (const measurement of await othersBench()) console.log(lineOf(measurement));
