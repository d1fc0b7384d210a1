import { Hono } from "hono";
import { version } from "../../../package.json";
import { MODEL_VERSION } from "../../core/assess.ts";
import type { AppEnv, Deps } from "./deps.ts";

/** A health check for monitoring. */
export function healthRoutes(deps: Pick<Deps, "sql">) {
  return new Hono<AppEnv>()
    .get("/healthz", (c) => {
      c.header("Cache-Control", "no-store");
      return c.json({ status: "ok", version, model: MODEL_VERSION });
    })
    .get("/readyz", async (c) => {
      c.header("Cache-Control", "no-store");
      await deps.sql(c).all("SELECT 1 AS ready");
      return c.json({ status: "ready", version });
    });
}
