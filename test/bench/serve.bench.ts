/**
 * What is answered from memory, asked for over HTTP from the built server on this machine: each beside a bare Hono page
 * of the same size, which a process of its own serves in the same rounds.
 *
 *     npm run build && npm run bench -- serve
 *
 * Fifty visitors ask as soon as they are answered. Budget: three times the processor time of the bare page for each
 * answer. Linux only, as it reads that from `/proc`.
 */
import { startServer } from "../support/server.ts";
import { besideBarePage } from "./load.ts";
import { lineOf, type Measurement } from "./measurement.ts";

const PATHS = ["/healthz", "/", "/method", "/rules", "/readings", "/vehicles", "/fleet"];

export async function serveBench({ paths = PATHS, requests = 6000, rounds = 7 } = {}): Promise<Measurement[]> {
  const server = await startServer();
  try {
    const found: Measurement[] = [];
    for (const path of paths) {
      const page = await fetch(server.url + path, { headers: { "Accept-Encoding": "identity" } });
      const { byteLength } = await page.arrayBuffer();
      const { percent, beside } = await besideBarePage(server, path, byteLength, { requests, rounds });
      const name = `${path}, processor time of a bare Hono page of ${byteLength} bytes`;
      found.push({ name, value: percent, unit: "%", most: 300, digest: null, beside });
    }
    return found;
  } finally {
    await server.stop();
  }
}

if (import.meta.main) for (const measurement of await serveBench()) console.log(lineOf(measurement));
