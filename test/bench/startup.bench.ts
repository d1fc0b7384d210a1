/**
 * From `npm start` to the first page: a fresh process each time, on a free port, with an empty data folder.
 *
 *     npm run bench -- startup
 *
 * Budget: 2 s, after install. `npm start` builds before it serves, so the files it builds are new afterwards.
 */
import { spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { ROOT } from "../support/paths.ts";
import { lineOf, type Measurement, medianOf } from "./measurement.ts";

const GIVE_UP_MS = 60_000;
const NPM_START = ["npm", "start"];

/** Seconds until the page was there; the process and what it started end before this returns. */
async function secondsToFirstPage(command: readonly string[]): Promise<number> {
  const data_dir = await mkdtemp(join(tmpdir(), "startup-bench-"));
  const start = performance.now();
  const [program, ...args] = command;
  // A group of its own, so that what npm starts can be ended with it.
  const child = spawn(program!, args, {
    cwd: ROOT,
    detached: true,
    env: { ...process.env, PORT: "0", HOST: "127.0.0.1", DATA_DIR: data_dir },
    stdio: ["ignore", "pipe", "pipe"],
  });
  const exited = once(child, "exit");
  try {
    const url = await addressOf(child.stdout, child.stderr, exited);
    const response = await fetch(url);
    const page = await response.text();
    const seconds = (performance.now() - start) / 1000;
    if (!response.ok || !page.includes("</html>")) throw new Error(`No page at ${url}: ${response.status}`);
    return seconds;
  } finally {
    if (child.exitCode === null && child.signalCode === null) process.kill(-child.pid!, "SIGTERM");
    await exited;
    await rm(data_dir, { recursive: true, force: true });
  }
}

/** The address that the server prints when it is ready. */
function addressOf(out: NodeJS.ReadableStream, err: NodeJS.ReadableStream, exited: Promise<unknown>): Promise<string> {
  let printed = "";
  return new Promise((resolve, reject) => {
    const fail = (why: string) => reject(new Error(`${why}:\n${printed}`));
    const read = (chunk: Buffer) => {
      printed += chunk.toString();
      const ready = /ready at (http:\S+)/.exec(printed);
      if (ready !== null) resolve(ready[1]!);
    };
    out.on("data", read);
    err.on("data", read);
    exited.then(() => fail("It ended before it was ready"), reject);
    setTimeout(() => fail("It is not ready yet"), GIVE_UP_MS).unref();
  });
}

/** `rounds` starts of `command`, one after the other. */
export async function startupBench({ rounds = 5, command = NPM_START } = {}): Promise<Measurement[]> {
  const seconds: number[] = [];
  for (let round = 0; round < rounds; round++) seconds.push(await secondsToFirstPage(command));
  const each = seconds.map((one) => one.toFixed(2)).join(", ");
  return [
    {
      name: `${command.join(" ")} to the first page`,
      value: medianOf(seconds),
      unit: "s",
      most: 2,
      digest: null,
      beside: `median of ${each}`,
    },
  ];
}

if (import.meta.main) for (const measurement of await startupBench()) console.log(lineOf(measurement));
