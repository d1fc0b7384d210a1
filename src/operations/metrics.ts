import { timingSafeEqual } from "node:crypto";
import type { MiddlewareHandler } from "hono";
import { collectDefaultMetrics, Gauge, Histogram, Registry } from "prom-client";
import type { App, AppEnv } from "../web/edge/deps.ts";
import { routeOf } from "../web/edge/errors.ts";

/** From what is answered from memory to what the model works on. */
const SECONDS = [0.001, 0.005, 0.02, 0.1, 0.5, 2, 10];

interface MetricsOptions {
  /** Whoever sends it as a bearer key reads the figures. */
  key: string;
  /** Bytes that the records take. */
  recordsBytes: () => number;
}

/** `/metrics`, in the text format of Prometheus: requests by pattern, process, records. Elsewhere it is not found. */
export function addMetrics(edge: App, { key, recordsBytes }: MetricsOptions): void {
  const register = new Registry();
  collectDefaultMetrics({ register });
  const duration = new Histogram({
    name: "http_request_duration_seconds",
    help: "Requests by method, pattern of the address and status",
    labelNames: ["method", "route", "status"],
    buckets: SECONDS,
    registers: [register],
  });
  new Gauge({
    name: "records_bytes",
    help: "Bytes that the records take",
    registers: [register],
    collect() {
      this.set(recordsBytes());
    },
  });
  edge.get("/metrics", async (c) => {
    if (!isKey(c.req.header("Authorization") ?? "", key)) return c.notFound();
    return c.body(await register.metrics(), 200, { "Content-Type": register.contentType, "Cache-Control": "no-store" });
  });
  edge.use(timed(duration));
}

function timed(duration: Histogram<"method" | "route" | "status">): MiddlewareHandler<AppEnv> {
  return async function timed(c, next) {
    const start = performance.now();
    await next();
    const labels = { method: c.req.method, route: routeOf(c), status: String(c.res.status) };
    duration.observe(labels, (performance.now() - start) / 1000);
  };
}

function isKey(authorization: string, key: string): boolean {
  const [said, expected] = [authorization, `Bearer ${key}`].map((text) => Buffer.from(text));
  return said!.length === expected!.length && timingSafeEqual(said!, expected!);
}
