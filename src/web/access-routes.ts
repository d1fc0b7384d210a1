import { Hono } from "hono";
import { html } from "hono/html";
import { LinkPage } from "../../views/access/link.tsx";
import { lookAtLink, signIn, signOut } from "./access.ts";
import type { AppEnv, Deps } from "./deps.ts";

/** Where an access link leads, and the way out. */
export function accessRoutes(deps: Deps) {
  return (
    new Hono<AppEnv>()
      // Looking does not use the link up: mail programs and previews look, too.
      .get("/access/:key", async (c) => {
        const preview = await lookAtLink(c, deps, c.req.param("key"));
        c.header("Cache-Control", "no-store");
        return c.html(html`<!DOCTYPE html>${LinkPage({ ...preview, path: c.req.path, asset: deps.asset })}`);
      })
      .post("/access/:key", async (c) => {
        await signIn(c, deps, c.req.param("key"));
        return c.redirect("/vehicles", 303);
      })
      .post("/leave", async (c) => {
        await signOut(c, deps);
        return c.redirect("/", 303);
      })
  );
}
