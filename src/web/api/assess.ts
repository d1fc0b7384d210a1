import { Hono } from "hono";
import { Problem } from "../../core/problem.ts";
import { mayAsk } from "../edge/access.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { jsonBody } from "../edge/json-body.ts";
import { parseAssessRequest } from "../schemas/assess-request.ts";

/** `POST /api/assess`: a charge log in, the model's answer out. */
export function assessRoutes(deps: Deps) {
  return new Hono<AppEnv>().post("/api/assess", async (c) => {
    const parsed = parseAssessRequest(await jsonBody(c), deps.today(c));
    if (!parsed.ok)
      throw new Problem("invalid", "The request needs correcting; each issue says where and how.", parsed.issues);
    await mayAsk(c, deps);
    c.header("Cache-Control", "no-store");
    return c.json(await deps.model.assess(parsed.request));
  });
}
