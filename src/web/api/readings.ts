import { Hono } from "hono";
import { Problem } from "../../core/problem.ts";
import { judgeReadings } from "../../core/readings/judge.ts";
import type { AppEnv } from "../edge/deps.ts";
import { jsonBody } from "../edge/json-body.ts";
import { issuesOf } from "../schemas/assess-request.ts";
import { readingsSchema } from "../schemas/readings-schema.ts";

/**
 * `POST /api/readings`: readings in °C, kPa absolute, % and rpm in, ranked findings out. Without `ambient_c` the answer is
 * `{ "kind": "question", "asks": "ambient_c" }`.
 */
export function apiReadingsRoutes() {
  return new Hono<AppEnv>().post("/api/readings", async (c) => {
    const parsed = readingsSchema.safeParse(await jsonBody(c));
    if (!parsed.success) {
      const issues = parsed.error.issues.flatMap(issuesOf);
      throw new Problem("invalid", "The readings need correcting; each issue says where and how.", issues);
    }
    c.header("Cache-Control", "no-store");
    return c.json(judgeReadings(parsed.data));
  });
}
