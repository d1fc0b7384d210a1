import { Hono } from "hono";
import { html } from "hono/html";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import type { Deps } from "../edge/deps.ts";
import { aboutVehicle } from "./about.ts";
import { readBackOfEntry } from "./entry-form.ts";

/**
 * `GET /vehicles/:id/log/read-back?when=…`: how a field of the entry form is read, or what would be right; a few words.
 */
export function readBackRoutes(deps: Deps) {
  return new Hono<GrantedEnv>().get("/vehicles/:id/log/read-back", requireRole("editor"), async (c) => {
    const { about } = await aboutVehicle(c.var.store, c.req.param("id"), deps.now());
    const { when, added, recovered } = readBackOfEntry(c.req.query(), about);
    return c.html(html`${when ?? added ?? recovered ?? ""}`);
  });
}
