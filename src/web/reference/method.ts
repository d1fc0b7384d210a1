import { Hono } from "hono";
import { etag } from "hono/etag";
import { html } from "hono/html";
import { MethodPage } from "../../../views/method/page.tsx";
import type { AppEnv, Deps } from "../edge/deps.ts";

/** `GET /method`: how the numbers are made. */
export function methodRoutes(deps: Deps) {
  return new Hono<AppEnv>().get("/method", etag(), (c) =>
    c.html(html`<!DOCTYPE html>${MethodPage({ asset: deps.asset })}`),
  );
}
