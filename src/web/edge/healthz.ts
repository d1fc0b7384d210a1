import { Hono } from "hono";
import { version } from "../../../package.json";
import { MODEL_VERSION } from "../../core/assess.ts";
import type { AppEnv } from "./deps.ts";

/** Whether the server answers, for whoever watches it. */
export function healthRoutes() {
  return new Hono<AppEnv>().get("/healthz", (c) => {
    c.header("Cache-Control", "no-store");
    return c.json({ status: "ok", version, model: MODEL_VERSION });
  });
}
