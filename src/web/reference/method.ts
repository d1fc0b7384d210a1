import { Hono } from "hono";
import { MethodPage } from "../../../views/method/page.tsx";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { FOR_ALL, sharedPages } from "../edge/kept-pages.ts";

/** `GET /method`: how the numbers are made. */
export function methodRoutes(deps: Deps) {
  const shared = sharedPages(deps);
  return new Hono<AppEnv>().get("/method", (c) =>
    shared(c, FOR_ALL, () => ({ view: MethodPage({ asset: deps.asset }), status: 200 })),
  );
}
