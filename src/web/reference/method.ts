import { Hono } from "hono";
import { etag } from "hono/etag";
import { MethodPage } from "../../../views/method/page.tsx";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";

/** `GET /method`: how the numbers are made. */
export function methodRoutes(deps: Deps) {
  return new Hono<AppEnv>().get("/method", etag(), (c) => answerPage(c, MethodPage({ asset: deps.asset })));
}
