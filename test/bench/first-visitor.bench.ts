/**
 * What the first visitor after a start waits for, beside the tenth: a server of its own each round, left alone until
 * its warm-up is over, then asked twelve alike questions, by the interface and by the page.
 *
 *     npm run build && npm run bench -- first-visitor
 *
 * Milliseconds of the server's processor, which other work on the machine does not change much; the baseline is the
 * mean of the tenth to the twelfth of the same round. Linux only, as it reads the time from `/proc`.
 */
import { setTimeout as wait } from "node:timers/promises";
import type { AssessRequest } from "../../src/core/question/contract.ts";
import { type RunningServer, startServer } from "../support/server.ts";
import { lineOf, type Measurement } from "./measurement.ts";
import { processorMs } from "./processor-time.ts";

/** How many times as long as the tenth the first may take. */
const MOST_RATIO = 1.2;
const ASKED = 12;
const TENTH = 9;
const LOOK_EVERY_MS = 100;
/** So many looks without work: it is idle. */
const IDLE_LOOKS = 10;

/** An invented car with a repair in its log; `i` makes it another one. */
function question(i: number): AssessRequest {
  return {
    as_of: "2026-05-01",
    vehicle: { refrigerant: "R-134a", nameplate_g: 600 + i },
    log: [
      { date: "2021-05-03", finish: "weighed" },
      { date: "2022-06-20", cooling: "short-cycling", recovered_g: 210, finish: "weighed", repair: "hose" },
      { date: "2024-07-03", cooling: "weak", added_g: 227, finish: "low-side" },
      { date: "2026-04-28", cooling: "weak" },
    ],
    plan: { keep_years: 9, service: "shop", season_worth: 120 },
  };
}

const KINDS: Readonly<Record<string, (i: number) => [path: string, init?: RequestInit]>> = {
  "/api/assess": (i) => {
    const headers = { "Content-Type": "application/json" };
    return ["/api/assess", { method: "POST", headers, body: JSON.stringify(question(i)) }];
  },
  "the page with an answer": (i) => {
    const log = "when=2024-07-03&did=cans&amount=340+g&cooled=weak&when=2025-08-03&did=cans&amount=300+g&cooled=weak";
    return [`/?units=metric&refrigerant=R-134a&nameplate=${600 + i}+g&${log}&as_of=2026-04-28&go=yes`];
  },
};

/** Not the middle one: the kernel counts in steps of ten milliseconds, which only many together make finer. */
function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

async function untilIdle(server: RunningServer): Promise<void> {
  for (let alike = 0, last = -1; alike < IDLE_LOOKS; ) {
    const now = processorMs(server);
    alike = now === last ? alike + 1 : 0;
    last = now;
    await wait(LOOK_EVERY_MS);
  }
}

/** Processor time of each of the twelve, milliseconds. */
async function askAll(server: RunningServer, kind: string): Promise<number[]> {
  const each: number[] = [];
  for (let i = 0; i < ASKED; i++) {
    const before = processorMs(server);
    const [path, init] = KINDS[kind]!(i);
    const response = await fetch(server.url + path, init);
    await response.text();
    if (!response.ok) throw new Error(`${path}: ${response.status}`);
    await wait(LOOK_EVERY_MS);
    each.push(processorMs(server) - before);
  }
  return each;
}

/** `rounds` starts of the server for each kind of question. */
export async function firstVisitorBench({ rounds = 7 } = {}): Promise<Measurement[]> {
  const measurements: Measurement[] = [];
  for (const kind of Object.keys(KINDS)) {
    const first: number[] = [];
    const tenth: number[] = [];
    for (let round = 0; round < rounds; round++) {
      const server = await startServer({ WARM_UP: "yes" });
      await untilIdle(server);
      const each = await askAll(server, kind);
      await server.stop();
      first.push(each[0]!);
      tenth.push(meanOf(each.slice(TENTH)));
    }
    const value = meanOf(first);
    const baseline = meanOf(tenth);
    const beside = `${(value / baseline).toPrecision(2)} × the tenth (${baseline.toPrecision(2)} ms)`;
    measurements.push({ name: `first ${kind}`, value, unit: "ms", most: MOST_RATIO * baseline, digest: null, beside });
  }
  return measurements;
}

if (import.meta.main) for (const measurement of await firstVisitorBench()) console.log(lineOf(measurement));
