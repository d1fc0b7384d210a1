import type { Server } from "node:http";
import { type ServerType, serve } from "@hono/node-server";
import { STALLED_MS } from "./web/edge/limits.ts";

/**
 * A long charge log is in the address of the start page, and again in the header in which htmx names the current page.
 */
const MAX_HEADER_BYTES = 128 * 1024;

interface Listening {
  fetch: Parameters<typeof serve>[0]["fetch"];
  hostname: string;
  /** 0: one that is free. */
  port: number;
  /** A connection on which nothing moves for so long is closed, whoever of the two sides has stopped. */
  stalled_ms?: number;
}

/** Serves an application over HTTP; `ready` gets the port. */
export function listen(
  { stalled_ms = STALLED_MS, ...listening }: Listening,
  ready: (port: number) => void = () => {},
): Server {
  const serverOptions = { maxHeaderSize: MAX_HEADER_BYTES };
  const server = serve({ ...listening, serverOptions }, ({ port }) => ready(port)) as ServerType as Server;
  server.setTimeout(stalled_ms);
  return server;
}
