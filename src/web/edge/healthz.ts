import { Hono } from "hono";
import { version } from "../../../package.json";
import { MODEL_VERSION } from "../../core/assess.ts";
import type { AppEnv, Deps } from "./deps.ts";
import { wholeAnswer } from "./whole-answer.ts";

const HEALTHY = JSON.stringify({ status: "ok", version, model: MODEL_VERSION });
const UNKEPT_JSON = { "Content-Type": "application/json", "Cache-Control": "no-store" };

/** A health check for monitoring. */
export function healthRoutes(deps: Pick<Deps, "sql">) {
  return new Hono<AppEnv>()
    .get("/healthz", (c) => wholeAnswer(c, HEALTHY, 200, UNKEPT_JSON))
    .get("/readyz", async (c) => {
      c.header("Cache-Control", "no-store");
      await deps.sql(c).all("SELECT 1 AS ready");
      return c.json({ status: "ready", version });
    });
}
