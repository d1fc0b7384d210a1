import { Problem } from "../../core/problem.ts";
import { judgeReadings } from "../../core/readings/judge.ts";
import { jsonBody } from "../edge/json-body.ts";
import { issuesOf } from "../schemas/assess-request.ts";
import { readingsSchema } from "../schemas/readings-schema.ts";
import type { Api } from "./operation.ts";

/**
 * `POST /api/readings`: readings in °C, kPa absolute, % and rpm in, ranked findings out. Without `ambient_c` the answer
 * is `{ "kind": "question", "asks": "ambient_c" }`.
 */
export function addReadings(api: Api): void {
  api.open(
    {
      method: "post",
      path: "/api/readings",
      id: "judgeReadings",
      summary: "Gauge and vent readings in, ranked findings out. Nothing is kept.",
      takes: "Readings",
      gives: "ReadingsAnswer",
    },
    async (c) => {
      const parsed = readingsSchema.safeParse(await jsonBody(c));
      if (!parsed.success) {
        const issues = parsed.error.issues.flatMap(issuesOf);
        throw new Problem("invalid", "The readings need correcting; each issue says where and how.", issues);
      }
      c.header("Cache-Control", "no-store");
      return c.json(judgeReadings(parsed.data));
    },
  );
}
