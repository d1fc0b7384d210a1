import { Hono } from "hono";
import { LeakTestsPage } from "../../../views/leak-tests/page.tsx";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";

/** `GET /leak-tests`: how to do each leak test, and where to look. */
export function leakTestRoutes(deps: Deps) {
  return new Hono<AppEnv>().get("/leak-tests", (c) => answerPage(c, LeakTestsPage({ asset: deps.asset })));
}
