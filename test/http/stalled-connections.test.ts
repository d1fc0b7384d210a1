import { once } from "node:events";
import type { Server } from "node:http";
import { type AddressInfo, connect, type Socket } from "node:net";
import { afterAll, beforeAll, expect, test } from "vitest";
import { createApp } from "../../src/app.ts";
import { listen } from "../../src/listen.ts";
import { testDeps } from "../support/deps.ts";

/** Long beside any pause of a busy machine, short beside the 130 s of a server. */
const STALLED_MS = 500;
/** More than the buffers between two sockets of one machine hold, so that it does not arrive unread. */
const BIG_BYTES = 64 * 1024 * 1024;

const unexpected: unknown[] = [];
const ended = new Set<number>();
let server: Server;

beforeAll(async () => {
  const app = createApp(testDeps({ reportError: (error) => unexpected.push(error) }));
  app.get("/big", (c) => c.body(new Uint8Array(BIG_BYTES)));
  server = listen({ fetch: app.fetch, hostname: "127.0.0.1", port: 0, stalled_ms: STALLED_MS });
  server.on("connection", (socket: Socket) => {
    const from = socket.remotePort!;
    socket.on("close", () => ended.add(from));
  });
  await once(server, "listening");
});

afterAll(() => {
  server.closeAllConnections();
  server.close();
});

/** A connection of its own on which `text` was sent; the server has not ended it as long as `open` says so. */
async function sent(text: string) {
  const socket = connect((server.address() as AddressInfo).port, "127.0.0.1");
  socket.on("error", () => {});
  await once(socket, "connect");
  const from = socket.localPort!;
  socket.write(text);
  return { socket, open: () => !ended.has(from) };
}

const head = (lines: string[]) => [...lines, "Host: localhost", "", ""].join("\r\n");
const POST = ["POST /api/assess HTTP/1.1", "Content-Type: application/json"];
const BODY = JSON.stringify({ as_of: "2026-05-01", vehicle: { refrigerant: "R-134a", nameplate_g: 500 }, log: [] });
const chunk = (text: string) => `${text.length.toString(16)}\r\n${text}\r\n`;

test("a connection on which nothing moves ends; one on which a body comes slowly goes on to its answer", async () => {
  const stalled = {
    "said nothing": await sent(""),
    "stopped within the head": await sent("GET /healthz HTTP/1.1\r\nHost: local"),
    "stopped within the body": await sent(head([...POST, `Content-Length: ${BODY.length}`]) + BODY.slice(0, 10)),
    "does not read its answer": await sent(head(["GET /big HTTP/1.1"])),
  };
  const open = () => Object.keys(stalled).filter((name) => stalled[name as keyof typeof stalled].open());
  expect(open()).toEqual(Object.keys(stalled));

  const slow = await sent(head([...POST, "Transfer-Encoding: chunked", "Connection: close"]));
  const answer: Buffer[] = [];
  slow.socket.on("data", (bytes: Buffer) => answer.push(bytes));
  // One sign after the other until all others are over, and then for half as long again.
  let signs = 0;
  const send = async () => {
    slow.socket.write(chunk(" "));
    signs += 1;
    await new Promise((resume) => setTimeout(resume, STALLED_MS / 20));
  };
  while (open().length > 0 && signs < 200) await send();
  expect(open()).toEqual([]);
  for (let more = signs / 2; more > 0; more -= 1) await send();
  expect(slow.open()).toBe(true);
  slow.socket.write(`${chunk(BODY)}${chunk("")}`);
  await once(slow.socket, "close");
  expect(Buffer.concat(answer).toString()).toMatch(/^HTTP\/1\.1 200 /);
  expect(unexpected).toEqual([]);
});
