import type { Context, MiddlewareHandler } from "hono";

/** What a proxy before this server says about a request; only to be believed where there is one. */
export const forwarded = {
  /** The address that the proxy saw: the last one, as those before it came from outside. */
  address(c: Context): string | null {
    return c.req.header("X-Forwarded-For")?.split(",").at(-1)?.trim() || null;
  },
  /** How the browser names this server. */
  origin(c: Context): string {
    const { host } = new URL(c.req.url);
    const scheme = c.req.header("X-Forwarded-Proto") === "http" ? "http" : "https";
    return `${scheme}://${c.req.header("X-Forwarded-Host") ?? c.req.header("Host") ?? host}`;
  },
};

const SIGNS = ["Forwarded", "X-Forwarded-For", "X-Forwarded-Host", "X-Forwarded-Proto", "Via"];

/**
 * Refuses what came through a proxy. A server without sign-in believes that only this machine reaches it; behind a
 * proxy it would let everybody in as the owner.
 */
export function noProxy(): MiddlewareHandler {
  return async function noProxy(c, next) {
    if (SIGNS.every((name) => c.req.header(name) === undefined)) return next();
    return c.text(
      "This server is for this machine alone. To reach it through a proxy, start it with BEHIND_PROXY=yes.\n",
      421,
    );
  };
}
