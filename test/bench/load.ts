/** Load for benches, by a general-purpose load generator: what a page costs, beside one with nothing around it. */
import { spawn } from "node:child_process";
import { once } from "node:events";
import autocannon from "autocannon";
import { SERVER_FLAGS } from "../../src/server-flags.ts";
import { ROOT } from "../support/paths.ts";
import type { RunningServer } from "../support/server.ts";
import { medianOf } from "./measurement.ts";
import { processorMs } from "./processor-time.ts";

/** Visitors who ask again as soon as they are answered. */
export const VISITORS = 50;
/** How often the load generator looks whether it is done: by itself once a second. */
export const LOOKS_EVERY_MS = 20;

/** How much is asked: `requests` at a time, of one and of the other, `rounds` times. */
export interface Load {
  requests: number;
  rounds: number;
}

interface Cost {
  /** Milliseconds of the server's processor for an answer: what the client takes is not in it. */
  ms: number;
  /** Answers a second, as far as this client can ask. */
  per_s: number;
}

async function costOf(server: Pick<RunningServer, "pid" | "url">, path: string, requests: number): Promise<Cost> {
  const [began, used] = [performance.now(), processorMs(server)];
  const connections = Math.min(VISITORS, requests);
  const asked = { url: server.url + path, connections, amount: requests, sampleInt: LOOKS_EVERY_MS };
  const { errors, timeouts, non2xx } = await autocannon(asked);
  const seconds = (performance.now() - began) / 1000;
  if (errors + timeouts + non2xx > 0)
    throw new Error(`${path}: ${errors} errors, ${timeouts} without an answer, ${non2xx} refused`);
  return { ms: (processorMs(server) - used) / requests, per_s: requests / seconds };
}

/**
 * What `path` costs beside a page of `bytes` with nothing around it, which a process of its own serves: the median of
 * rounds, one and the other in turn.
 */
export async function besideBarePage(server: RunningServer, path: string, bytes: number, { requests, rounds }: Load) {
  const bare = await barePage(bytes);
  try {
    // What is asked for the first times is not counted: it is the code's first times, too.
    await costOf(server, path, requests);
    await costOf(bare, "/", requests);
    const found: { kept: Cost; bare: Cost }[] = [];
    for (let round = 0; round < rounds; round++)
      found.push({ kept: await costOf(server, path, requests), bare: await costOf(bare, "/", requests) });
    const median = (of: (one: (typeof found)[number]) => number) => medianOf(found.map(of));
    return {
      percent: 100 * median((one) => one.kept.ms / Math.max(one.bare.ms, Number.EPSILON)),
      beside: [
        `${Math.round(median(({ kept }) => kept.ms * 1000))} µs against ${Math.round(median((one) => one.bare.ms * 1000))}`,
        `${Math.round(median(({ kept }) => kept.per_s))} a second against ${Math.round(median((one) => one.bare.per_s))}`,
      ].join("; "),
    };
  } finally {
    await bare.stop();
  }
}

/** A page of `bytes`, served by a process of its own with the flags of ours. */
async function barePage(bytes: number) {
  const code = `
    import { serve } from "@hono/node-server";
    import { Hono } from "hono";
    const page = "x".repeat(${bytes});
    const app = new Hono().get("/", (c) => c.html(page));
    serve({ fetch: app.fetch, hostname: "127.0.0.1", port: 0 }, ({ port }) => console.log(port));`;
  const child = spawn(process.execPath, [...SERVER_FLAGS, "--input-type=module", "-e", code], {
    cwd: ROOT,
    stdio: ["ignore", "pipe", "inherit"],
  });
  const [port] = (await once(child.stdout, "data")) as [Buffer];
  return {
    url: `http://127.0.0.1:${port.toString().trim()}`,
    pid: child.pid ?? 0,
    async stop() {
      child.kill();
      await once(child, "exit");
    },
  };
}
