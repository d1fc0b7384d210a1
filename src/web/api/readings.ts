import { Problem } from "../../core/problem.ts";
import { judgeReadings } from "../../core/readings/judge.ts";
import { jsonBody } from "../edge/json-body.ts";
import { readingsSchema } from "../schemas/readings-schema.ts";
import { checked } from "../schemas/sentences.ts";
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
      const read = checked(readingsSchema, await jsonBody(c));
      if (!read.ok)
        throw new Problem("invalid", "The readings need correcting; each issue says where and how.", read.issues);
      c.header("Cache-Control", "no-store");
      return c.json(judgeReadings(read.value));
    },
  );
}
