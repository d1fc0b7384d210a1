import { createApp } from "../../src/app.ts";
import { testDeps } from "./deps.ts";
import { theWorker } from "./worker.ts";

/** A request that both runtimes' types agree on. */
export interface Ask {
  method?: string;
  headers?: Record<string, string>;
  body?: string | Uint8Array<ArrayBuffer>;
  /** Where the person is, as the edge tells a Worker: "Pacific/Kiritimati". On Node it is the server's own zone. */
  time_zone?: string;
}

/** The application on one runtime, to be asked over HTTP. */
export interface Runtime {
  /** `path` like "/healthz". Redirects are not followed. */
  request(path: string, ask?: Ask): Promise<Response>;
  close(): Promise<void>;
}

async function onNode(): Promise<Runtime> {
  const app = createApp(testDeps());
  return { request: async (path, ask) => app.request(path, ask), close: async () => {} };
}

let asked = 0;

/** Headers with an address of its own for each request, so that limits by address leave the tests alone. */
export function fromSomewhere(headers: Record<string, string> = {}): Record<string, string> {
  asked += 1;
  return {
    "CF-Connecting-IP": `2001:db8:${(asked >> 16).toString(16)}:${(asked & 0xffff).toString(16)}::1`,
    ...headers,
  };
}

/** The Worker as it is deployed, in the real runtime, with its own clock. */
async function onWorkers(): Promise<Runtime> {
  const { harness, url } = await theWorker();
  return {
    request: (path, { time_zone = "UTC", headers, ...ask } = {}) =>
      harness.fetch(new URL(path, url).href, {
        redirect: "manual",
        cf: { timezone: time_zone },
        headers: fromSomewhere(headers),
        ...ask,
      }),
    close: async () => {},
  };
}

/** For `describe.each(runtimes)("… on $name", ({ start }) => …)`. */
export const runtimes = [
  { name: "Node", start: onNode },
  { name: "Workers", start: onWorkers },
];
