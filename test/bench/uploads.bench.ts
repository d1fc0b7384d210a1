/**
 * What others notice of large uploads: while someone sends a file, a kept page is asked for every few milliseconds, and
 * the longest time that it took is printed, beside the same without an upload.
 *
 *     npm run build && npm run bench -- uploads
 *
 * Budget: 200 ms. The files are of the size that is taken (64 MiB) and of a fleet of ten thousand vehicles.
 */
import { once } from "node:events";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Worker } from "node:worker_threads";
import { fleetCsv } from "../support/fleet-csv.ts";
import { type RunningServer, startServer } from "../support/server.ts";
import { lineOf, type Measurement } from "./measurement.ts";

const UPLOAD_CHARS = 64 * 1024 * 1024 - 2000;
const MOST_MS = 200;
/** Between two looks at the page of somebody else. */
const PAUSE_MS = 5;

/** Sends a form in a thread of its own, so that only the server is measured, and says where it leads. */
const SEND = `
  const { readFileSync, writeFileSync } = require("node:fs");
  const { parentPort, workerData } = require("node:worker_threads");
  const { url, field, path, as_file } = workerData;
  (async () => {
    const body = as_file ? new FormData() : new URLSearchParams({ [field]: readFileSync(path, "utf8") });
    if (as_file) body.append(field, new Blob([readFileSync(path)]), path.split("/").at(-1));
    const headers = { "Sec-Fetch-Site": "same-origin" };
    const answer = await fetch(url, { method: "POST", body, redirect: "manual", headers });
    const packed = /name="packed" value="([^"]*)"/.exec(await answer.text())?.[1];
    if (packed !== undefined) writeFileSync(path + ".packed", packed);
    parentPort.postMessage({ status: answer.status, location: answer.headers.get("location") ?? "" });
  })();`;

export async function uploadsBench({ vehicles = 10_000, chars = UPLOAD_CHARS } = {}): Promise<Measurement[]> {
  const folder = await mkdtemp(join(tmpdir(), "seepwise-uploads-"));
  const server = await startServer();
  try {
    const found: Measurement[] = [];
    const kept = async (name: string, work: () => Promise<void>, at = server) => {
      const { longest, seconds } = await longestWait(at, work);
      found.push({
        name: `${name}, longest wait of another`,
        value: longest,
        unit: "ms",
        most: MOST_MS,
        digest: null,
        beside: `in ${seconds.toFixed(1)} s`,
      });
    };
    const file = async (name: string, text: string) => {
      await writeFile(join(folder, name), text);
      return join(folder, name);
    };
    await kept("nothing sent", () => new Promise((resume) => setTimeout(resume, 1000)));
    const noise = await file(
      "noise.csv",
      filled("vehicle,date,added,note\n", `V1,2025-05-04,12 oz,"${"cold again; ".repeat(40)}"\n`, chars),
    );
    await kept("a full file of rows", async () => {
      await sendFile(server, "/fleet/import", noise);
    });
    const words = await file("words.csv", filled("vehicle,date,added\n", '"a""b",T,1.250,x\n', chars));
    await kept("a full file of no use", async () => {
      await sendFile(server, "/fleet/import", words);
    });
    const zeros = await file(
      "zeros.json",
      filled('{"format":"seepwise-workspace","version":2,"vehicles":[0', ",0", chars, "]}"),
    );
    await kept("a full export of no use", async () => {
      await sendFile(server, "/settings/import", zeros);
    });
    const fleet = await file("fleet.csv", fleetCsv({ vehicles, entries: 6, seed: 7, as_of: "2026-05-01" }));
    let place = "";
    await kept(`${vehicles} vehicles: file`, async () => {
      place = await sendFile(server, "/fleet/import", fleet);
    });
    await kept(`${vehicles} vehicles: report`, () => page(server.url + place));
    const nothing = await file("nothing", "");
    await kept(`${vehicles} vehicles: taken`, async () => {
      await send(server, `${place}/take`, { field: "agreed", path: nothing, as_file: false });
    });
    let exported = "";
    await kept(`${vehicles} vehicles: export`, async () => {
      exported = await (await fetch(`${server.url}/settings/export.json`)).text();
    });
    const whole = await file("whole.json", exported);
    const empty = await startServer();
    try {
      const look = async () => {
        await sendFile(empty, "/settings/import", whole);
      };
      await kept(`${vehicles} vehicles: look at the export`, look, empty);
      const take = async () => {
        await send(empty, "/settings/import/confirm", { field: "packed", path: `${whole}.packed`, as_file: false });
      };
      await kept(`${vehicles} vehicles: import of the export`, take, empty);
    } finally {
      await empty.stop();
    }
    return found;
  } finally {
    await server.stop();
    await rm(folder, { recursive: true, force: true });
  }
}

/** `head`, as many of `piece` as fit, `end`. */
function filled(head: string, piece: string, chars: number, end = ""): string {
  return head + piece.repeat(Math.floor((chars - head.length - end.length) / piece.length)) + end;
}

/** Sends the file at `path` as a file, or as the text of a field; gives where the answer leads. */
async function send(server: RunningServer, to: string, sent: { field: string; path: string; as_file: boolean }) {
  const thread = new Worker(SEND, { eval: true, workerData: { ...sent, url: server.url + to } });
  const [{ status, location }] = (await once(thread, "message")) as [{ status: number; location: string }];
  if (status >= 500) throw new Error(`${to} of ${sent.path}: ${status} ${server.output()}`);
  return location;
}

function sendFile(server: RunningServer, to: string, path: string): Promise<string> {
  return send(server, to, { field: "file", path, as_file: true });
}

/** The longest time a kept page took while `work` went on, in ms. */
async function longestWait(server: RunningServer, work: () => Promise<void>) {
  // The first page of a server takes long by itself.
  await page(`${server.url}/method`);
  let longest = 0;
  let going = true;
  const began = performance.now();
  const looking = (async () => {
    while (going) {
      const asked = performance.now();
      await page(`${server.url}/method`);
      longest = Math.max(longest, performance.now() - asked);
      await new Promise((resume) => setTimeout(resume, PAUSE_MS));
    }
  })();
  try {
    await work();
  } finally {
    going = false;
    await looking;
  }
  return { longest, seconds: (performance.now() - began) / 1000 };
}

/** Asks until there is an answer: a server that stood still closes the connections that it kept. */
async function page(url: string): Promise<void> {
  try {
    await (await fetch(url)).arrayBuffer();
  } catch {
    await page(url);
  }
}

if (import.meta.main) for (const measurement of await uploadsBench()) console.log(lineOf(measurement));
