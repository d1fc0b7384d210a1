/**
 * What is answered from memory, asked for over HTTP from the built server on this machine: each beside a bare Hono page
 * of the same size, which a process of its own serves in the same rounds.
 *
 *     npm run build && npm run bench -- serve
 *
 * Budget: a third of the throughput of the bare page.
 */
import { startServer } from "../support/server.ts";
import { besideBarePage } from "./load.ts";
import { lineOf, type Measurement } from "./measurement.ts";

const PATHS = ["/healthz", "/", "/method", "/rules", "/readings", "/vehicles", "/fleet"];

export async function serveBench({ paths = PATHS, seconds = 1, rounds = 5 } = {}): Promise<Measurement[]> {
  const server = await startServer();
  try {
    const found: Measurement[] = [];
    for (const path of paths) {
      const page = await fetch(server.url + path, { headers: { "Accept-Encoding": "identity" } });
      const { byteLength } = await page.arrayBuffer();
      const { kept, bare } = await besideBarePage(server.url + path, byteLength, seconds, rounds);
      found.push({
        name: `${path}, time of a bare Hono page of ${byteLength} bytes`,
        value: (bare / kept) * 100,
        unit: "%",
        most: 300,
        digest: null,
        beside: `${Math.round(kept)} a second against ${Math.round(bare)}`,
      });
    }
    return found;
  } finally {
    await server.stop();
  }
}

if (import.meta.main) for (const measurement of await serveBench()) console.log(lineOf(measurement));
