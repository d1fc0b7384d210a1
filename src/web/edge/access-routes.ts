import { Hono } from "hono";
import { LinkPage } from "../../../views/access/link.tsx";
import { SignInPage } from "../../../views/access/sign-in.tsx";
import { formOf } from "../forms/posted-form.ts";
import { lookAtLink, signIn, signOut } from "./access.ts";
import type { AppEnv, Deps } from "./deps.ts";
import { answerPage } from "./page.ts";

/** Where an access link leads, and the way out. */
export function accessRoutes(deps: Deps) {
  return (
    new Hono<AppEnv>()
      .get("/access", async (c) => {
        if (deps.access_mode === "local") return c.redirect("/vehicles", 303);
        return answerPage(c, SignInPage({ link: "", error: null, asset: deps.asset }));
      })
      // A copied link opens the same place as the original.
      .post("/access", async (c) => {
        const link = (await formOf(c)).get("link")?.trim() ?? "";
        const key = /(?:^|\/)((?:[\w-]{43}){1,2})$/.exec(link)?.[1];
        if (key !== undefined) return c.redirect(`/access/${key}`, 303);
        const error = "Paste the whole link, up to its last letter";
        return answerPage(c, SignInPage({ link, error, asset: deps.asset }), 422);
      })
      // A GET must not use the link up: mail programs and previews fetch it, too.
      .get("/access/:key", async (c) => {
        const preview = await lookAtLink(c, deps, c.req.param("key"));
        c.header("Cache-Control", "no-store");
        return answerPage(c, LinkPage({ ...preview, path: c.req.path, asset: deps.asset }));
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
