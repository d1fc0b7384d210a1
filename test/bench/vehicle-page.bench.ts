/**
 * A vehicle's page with 200 entries in its log, asked for over HTTP from the built server on this machine: computed and
 * rendered for the first time, rendered from an answer that is kept, and the page as it is kept in memory. The
 * throughput of the last is compared with a bare Hono page of the same size, measured beside it.
 *
 *     npm run build && npm run bench -- vehicle-page
 *
 * Budgets: 50 ms rendered the first time, 5 ms kept, and a third of the throughput of the bare page.
 */
import { spawn } from "node:child_process";
import { once } from "node:events";
import { connect } from "node:net";
import { ROOT } from "../support/paths.ts";
import { startServer } from "../support/server.ts";
import { digestOf, lineOf, type Measurement, medianOf } from "./measurement.ts";

const DAY_MS = 86_400_000;
const CONNECTIONS = 16;

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
  seconds = 1,
  rounds = 5,
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

    const { kept, bare } = await besideBarePage(server.url + paths[0]!, Buffer.byteLength(page), seconds, rounds);
    const digest = digestOf(page.replaceAll(/[0-9a-hjkmnp-tv-z]{20}/g, "").match(/<(?:td|th|data)[\s\S]*?>/g)?.length);
    const beside = `median of ${vehicles} pages of ${Math.round(Buffer.byteLength(page) / 1024)} KiB`;
    return [
      { name: "first time", value: medianOf(first_ms.slice(1)), unit: "ms", most: 50, digest, beside },
      { name: "answer kept", value: medianOf(answered_ms), unit: "ms", most: null, digest: null, beside },
      { name: "page kept", value: medianOf(kept_ms), unit: "ms", most: 5, digest: null, beside },
      {
        name: "kept page, time of a bare Hono page of the same size",
        value: (bare / kept) * 100,
        unit: "%",
        most: 300,
        digest: null,
        beside: `${Math.round(kept)} pages a second against ${Math.round(bare)}`,
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

/** Requests a second, over connections that are kept and ask again as soon as they are answered. */
async function throughput(url: string, seconds: number): Promise<number> {
  const until = performance.now() + seconds * 1000;
  const counts = await Promise.all(Array.from({ length: CONNECTIONS }, () => askAgain(new URL(url), until)));
  return counts.reduce((sum, count) => sum + count, 0) / seconds;
}

/** How often one connection was answered. A plain socket, so that the client is not what is measured. */
function askAgain({ hostname, port, host, pathname }: URL, until: number): Promise<number> {
  const request = `GET ${pathname} HTTP/1.1\r\nHost: ${host}\r\n\r\n`;
  return new Promise((resolve, reject) => {
    const socket = connect(Number(port), hostname, () => socket.write(request));
    let answered = 0;
    let left = 0;
    socket.on("error", reject);
    socket.on("data", (chunk: Buffer) => {
      left = left === 0 ? bodyLeft(chunk) : left - chunk.length;
      if (left > 0) return;
      answered++;
      if (performance.now() < until) socket.write(request);
      else {
        socket.end();
        resolve(answered);
      }
    });
  });
}

/** What of the body is still to come after the first piece of an answer, head and all. */
function bodyLeft(chunk: Buffer): number {
  const end = chunk.indexOf("\r\n\r\n");
  const head = chunk.toString("latin1", 0, end);
  const length = Number(/^content-length: (\d+)/im.exec(head)?.[1]);
  if (!head.startsWith("HTTP/1.1 200") || !Number.isFinite(length)) throw new Error(`Not a page: ${head}`);
  return length - (chunk.length - end - 4);
}

/**
 * Pages a second of `url`, and of a page of `bytes` with nothing around it, which a process of its own serves: medians
 * of rounds, one and the other in turn.
 */
async function besideBarePage(url: string, bytes: number, seconds: number, rounds: number) {
  const code = `
    import { serve } from "@hono/node-server";
    import { Hono } from "hono";
    const page = "x".repeat(${bytes});
    const app = new Hono().get("/", (c) => c.html(page));
    serve({ fetch: app.fetch, hostname: "127.0.0.1", port: 0 }, ({ port }) => console.log(port));`;
  const child = spawn(process.execPath, ["--input-type=module", "-e", code], {
    cwd: ROOT,
    stdio: ["ignore", "pipe", "inherit"],
  });
  try {
    const [port] = (await once(child.stdout, "data")) as [Buffer];
    const bare_url = `http://127.0.0.1:${port.toString().trim()}/`;
    const per_s = { kept: [] as number[], bare: [] as number[] };
    for (let round = 0; round < rounds; round++) {
      per_s.kept.push(await throughput(url, seconds));
      per_s.bare.push(await throughput(bare_url, seconds));
    }
    return { kept: medianOf(per_s.kept), bare: medianOf(per_s.bare) };
  } finally {
    child.kill();
    await once(child, "exit");
  }
}

if (import.meta.main) for (const measurement of await vehiclePageBench()) console.log(lineOf(measurement));
