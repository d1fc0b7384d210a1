import { Problem } from "../../core/problem.ts";
import { mayAsk } from "../edge/access.ts";
import type { Deps } from "../edge/deps.ts";
import { jsonBody } from "../edge/json-body.ts";
import { parseAssessRequest } from "../schemas/assess-request.ts";
import type { Api } from "./operation.ts";

/** `POST /api/assess` */
export function addAssess(api: Api, deps: Deps): void {
  api.open(
    {
      method: "post",
      path: "/api/assess",
      id: "assess",
      summary: "A charge log in, the model's answer out. Nothing is kept.",
      takes: "AssessRequest",
      gives: "AssessAnswer",
    },
    async (c) => {
      const parsed = parseAssessRequest(await jsonBody(c), deps.today(c));
      if (!parsed.ok)
        throw new Problem("invalid", "The request needs correcting; each issue says where and how.", parsed.issues);
      await mayAsk(c, deps, parsed.request.log?.length ?? 0);
      c.header("Cache-Control", "no-store");
      return c.json(await deps.model.assess(parsed.request));
    },
  );
}
