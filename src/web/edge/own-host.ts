import type { MiddlewareHandler } from "hono";

/**
 * Lets through only requests that name this server as their host. A page elsewhere can point its own name at 127.0.0.1
 * and would then be same-origin with a server that answers to any name; this one does not (DNS rebinding).
 *
 * `hosts` are as in the Host header, `127.0.0.1:8787`; read at each request, because the port is known only once it
 * listens.
 */
export function ownHost(hosts: readonly string[]): MiddlewareHandler {
  return async function ownHost(c, next) {
    if (hosts.includes((c.req.header("host") ?? "").toLowerCase())) return next();
    return c.text(`This server answers to ${hosts.join(", ")} only.\n`, 421);
  };
}
