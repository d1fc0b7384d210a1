import { Hono } from "hono";
import { LeakTestsPage } from "../../../views/leak-tests/page.tsx";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { FOR_ALL, sharedPages } from "../edge/kept-pages.ts";

/** `GET /leak-tests`: how to do each leak test, and where to look. */
export function leakTestRoutes(deps: Deps) {
  const shared = sharedPages(deps);
  return new Hono<AppEnv>().get("/leak-tests", (c) =>
    shared(c, FOR_ALL, () => ({ view: LeakTestsPage({ asset: deps.asset }), status: 200 })),
  );
}
