import type { Context, MiddlewareHandler } from "hono";

/** What a proxy in front of this server says about a request; only to be trusted where there is one. */
export const forwarded = {
  /** The address that the proxy saw: the last one, since the client can make up those before it. */
  address(c: Context): string | null {
    return c.req.header("X-Forwarded-For")?.split(",").at(-1)?.trim() || null;
  },
  /** The host name that the browser used. */
  origin(c: Context): string {
    const { host } = new URL(c.req.url);
    const scheme = c.req.header("X-Forwarded-Proto") === "http" ? "http" : "https";
    return `${scheme}://${c.req.header("X-Forwarded-Host") ?? c.req.header("Host") ?? host}`;
  },
};

const SIGNS = [
  ...["forwarded", "x-forwarded-for", "x-forwarded-host", "x-forwarded-proto", "via"],
  ...["x-real-ip", "cf-connecting-ip", "true-client-ip"],
];

/** Whether a request has a header, looked up where Node keeps them: this is asked of every request, of each sign. */
function isSent(c: Context, name: string): boolean {
  const headers: Readonly<Record<string, unknown>> | undefined = c.env?.incoming?.headers;
  return headers === undefined ? c.req.header(name) !== undefined : headers[name] !== undefined;
}

/** A proxy that adds no header often speaks HTTP/1.0 to the server behind it; no browser of today does. */
const speaksOldHttp = (c: Context): boolean => c.env?.incoming?.httpVersion === "1.0";

/**
 * Refuses proxied requests. A server without sign-in relies on being reachable from this machine only; behind a proxy
 * it would let everybody in as the owner.
 */
export function noProxy(): MiddlewareHandler {
  return async function noProxy(c, next) {
    if (!speaksOldHttp(c) && !SIGNS.some((name) => isSent(c, name))) return next();
    return c.text(
      "This server is for this machine alone. To reach it through a proxy, start it with BEHIND_PROXY=yes.\n",
      421,
    );
  };
}
