/** Load for benches: how many answers a second a server gives, beside one that does nothing else. */
import { spawn } from "node:child_process";
import { once } from "node:events";
import { connect } from "node:net";
import { ROOT } from "../support/paths.ts";
import { medianOf } from "./measurement.ts";

const CONNECTIONS = 16;

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
export async function besideBarePage(url: string, bytes: number, seconds: number, rounds: number) {
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
