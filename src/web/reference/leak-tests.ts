import { Hono } from "hono";
import { html } from "hono/html";
import { LeakTestsPage } from "../../../views/leak-tests/page.tsx";
import type { AppEnv, Deps } from "../edge/deps.ts";

/** `GET /leak-tests`: how to do each leak test, and where to look. */
export function leakTestRoutes(deps: Deps) {
  return new Hono<AppEnv>().get("/leak-tests", (c) =>
    c.html(html`<!DOCTYPE html>${LeakTestsPage({ asset: deps.asset })}`),
  );
}
