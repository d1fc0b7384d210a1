import type { MiddlewareHandler } from "hono";
import type { AppEnv } from "../web/edge/deps.ts";
import { routeOf } from "../web/edge/errors.ts";
import { logLine } from "./log.ts";

/** A line for each request: the id that its answer carries, method, pattern, status, time. No keys, no names. */
export function requestLog(write: (line: string) => void): MiddlewareHandler<AppEnv> {
  return async function requestLog(c, next) {
    const start = performance.now();
    await next();
    const ms = Math.round(10 * (performance.now() - start)) / 10;
    const { method } = c.req;
    write(logLine("info", "request", { id: c.get("requestId"), method, route: routeOf(c), status: c.res.status, ms }));
  };
}
