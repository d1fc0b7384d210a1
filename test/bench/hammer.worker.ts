/**
 * Asks one question after the other over many connections until it is told to stop, in a thread of its own: each
 * question is a new one, for which nothing is kept. Then says how often it was answered, by status.
 */
import { parentPort, workerData } from "node:worker_threads";
import autocannon, { type Request } from "autocannon";

/** What a hammering thread is told. */
export interface Hammering {
  url: string;
  connections: number;
  /** Whether each question seems to come from another address, as a proxy in front would say. */
  from_everywhere: boolean;
}

/** Nobody hammers longer, even if nobody says stop. */
const MOST_SECONDS = 120;

const { url, connections, from_everywhere } = workerData as Hammering;
let asked = 0;

function newQuestion(request: Request): Request {
  asked += 1;
  const grams = 400 + (asked % 4000) / 10;
  const added = 150 + Math.floor(asked / 4000) + (asked % 97);
  const log = `when=2024-07-03&did=cans&amount=${added}+g&cooled=weak&when=2025-08-03&did=cans&amount=300+g&cooled=weak`;
  const address = from_everywhere ? `10.${(asked >> 16) & 255}.${(asked >> 8) & 255}.${asked & 255}` : "10.0.0.1";
  return {
    ...request,
    path: `/?units=metric&refrigerant=R-134a&nameplate=${grams}+g&${log}&as_of=2026-04-28&go=yes`,
    headers: { "X-Forwarded-For": address },
  };
}

const hammering = autocannon(
  { url, connections, duration: MOST_SECONDS, sampleInt: 100, requests: [{ setupRequest: newQuestion }] },
  (error, result) => {
    if (error) throw error;
    const statuses = Object.entries(result.statusCodeStats ?? {}).map(([status, { count }]) => [status, count]);
    parentPort?.postMessage(Object.fromEntries(statuses));
  },
);
parentPort?.once("message", () => hammering.stop());
