/**
 * A vehicle's page with 200 entries in its log, asked for over HTTP from the built server on this machine: computed and
 * rendered for the first time, rendered from an answer that is kept, and the page as it is kept in memory. The
 * last is compared with a bare Hono page of the same size, measured beside it.
 *
 *     npm run build && npm run bench -- vehicle-page
 *
 * Budgets: 50 ms rendered the first time, 5 ms kept, and three times the processor time of the bare page.
 */
import { startServer } from "../support/server.ts";
import { besideBarePage } from "./load.ts";
import { digestOf, lineOf, type Measurement, medianOf } from "./measurement.ts";

const DAY_MS = 86_400_000;

/** A log that was kept for years: a look every month, a top-off now and then. */
function longLog(entries: number) {
  return Array.from({ length: entries }, (_, i) => {
    const date = new Date(Date.parse("2009-01-15") + i * 30 * DAY_MS).toISOString().slice(0, 10);
    return i % 12 === 0
      ? { date, cooling: "weak", added_g: 300, added_by: "cans", note: "Added." }
      : { date, cooling: "ok" };
  });
}

export async function vehiclePageBench({
  vehicles = 9,
  entries = 200,
  requests = 6000,
  rounds = 7,
} = {}): Promise<Measurement[]> {
  const server = await startServer();
  try {
    const paths: string[] = [];
    for (let i = 0; i < vehicles; i++) paths.push(await createVehicle(server.url, i, entries));
    // The first page of all warms the program up, and is not counted.
    const first_ms: number[] = [];
    for (const path of paths) first_ms.push((await timed(server.url + path)).ms);
    const answered_ms: number[] = [];
    for (const path of paths) {
      // A what-if that changes nothing: its page is not kept, its answer is.
      answered_ms.push((await timed(`${server.url}${path}?floor=6`)).ms);
    }
    const kept_ms: number[] = [];
    for (const path of paths) kept_ms.push((await timed(server.url + path)).ms);
    const page = (await timed(server.url + paths[0]!)).text;

    const load = { requests, rounds };
    const { percent, beside: costs } = await besideBarePage(server, paths[0]!, Buffer.byteLength(page), load);
    const digest = digestOf(page.replaceAll(/[0-9a-hjkmnp-tv-z]{20}/g, "").match(/<(?:td|th|data)[\s\S]*?>/g)?.length);
    const beside = `median of ${vehicles} pages of ${Math.round(Buffer.byteLength(page) / 1024)} KiB`;
    return [
      { name: "first time", value: medianOf(first_ms.slice(1)), unit: "ms", most: 50, digest, beside },
      { name: "answer kept", value: medianOf(answered_ms), unit: "ms", most: null, digest: null, beside },
      { name: "page kept", value: medianOf(kept_ms), unit: "ms", most: 5, digest: null, beside },
      {
        name: "kept page, processor time of a bare Hono page of the same size",
        value: percent,
        unit: "%",
        most: 300,
        digest: null,
        beside: costs,
      },
    ];
  } finally {
    await server.stop();
  }
}

async function createVehicle(url: string, i: number, entries: number): Promise<string> {
  const vehicle = { label: `Van ${i}`, refrigerant: "R-134a", nameplate_g: 650 + i, charge_log: longLog(entries) };
  const response = await fetch(`${url}/api/vehicles`, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify(vehicle),
  });
  if (response.status !== 201) throw new Error(`No vehicle: ${response.status} ${await response.text()}`);
  const { id } = (await response.json()) as { id: string };
  return `/vehicles/${id}`;
}

async function timed(url: string): Promise<{ ms: number; text: string }> {
  const start = performance.now();
  const response = await fetch(url, { headers: { "Accept-Encoding": "identity" } });
  const text = await response.text();
  const ms = performance.now() - start;
  if (!response.ok || !text.includes("</html>")) throw new Error(`No page at ${url}: ${response.status}`);
  return { ms, text };
}

if (import.meta.main) for (const measurement of await vehiclePageBench()) console.log(lineOf(measurement));
