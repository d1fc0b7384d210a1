import { type Context, Hono } from "hono";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import { type ShownMessage, WebhookPage } from "../../../views/webhook/webhook-page.tsx";
import { localTime } from "../../core/quantities/local-time.ts";
import type { WebhookMessage } from "../../store/webhooks.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import type { Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { formOf, newSubmitKey, submitKeyOf, versionOf } from "../forms/posted-form.ts";
import { addressFault } from "./address.ts";

/** Messages in the list. */
const LATELY = 30;

/** `/settings/webhook`: where the workspace reports what has happened, and what it reported; for owners only. */
export function webhookRoutes(deps: Deps) {
  return new Hono<GrantedEnv>()
    .get("/settings/webhook", requireRole("owner"), (c) => answer(c, deps, {}))
    .post("/settings/webhook", requireRole("owner"), async (c) => {
      const form = await formOf(c);
      const url = (form.get("url") ?? "").trim();
      const fault = addressFault(url);
      if (fault !== null) return answer(c, deps, { url, errors: [{ field: "url", message: fault }] });
      const { secret } = await c.var.store.webhooks.save(url, versionOf(form), { submit_key: submitKeyOf(form) });
      return secret === null ? c.redirect(`${c.req.path}?saved=1`, 303) : answer(c, deps, { secret });
    })
    .post("/settings/webhook/secret", requireRole("owner"), async (c) => {
      const { webhooks } = c.var.store;
      const form = await formOf(c);
      const [{ url }, submit_key] = [await webhooks.get(), submitKeyOf(form)];
      const { secret } = await webhooks.save(url, versionOf(form), { new_secret: true, submit_key });
      return answer(c, deps, { secret });
    })
    .post("/settings/webhook/removal", requireRole("owner"), async (c) => {
      await c.var.store.webhooks.remove();
      return c.redirect("/settings/webhook", 303);
    })
    .post("/settings/webhook/test", requireRole("owner"), async (c) => {
      await c.var.store.webhooks.sendTest();
      return c.redirect("/settings/webhook#messages", 303);
    })
    .post("/settings/webhook/messages/:id/sending", requireRole("owner"), async (c) => {
      await c.var.store.webhooks.sendAgain(c.req.param("id"));
      return c.redirect("/settings/webhook#messages", 303);
    });
}

interface Shown {
  url?: string;
  errors?: readonly FieldError[];
  /** A new one, shown this once. */
  secret?: string | null;
}

async function answer(c: Context<GrantedEnv>, deps: Deps, { url, errors = [], secret = null }: Shown) {
  const { webhooks, settings } = c.var.store;
  const [webhook, messages, { time_zone }] = await Promise.all([
    webhooks.get(),
    webhooks.messages(LATELY),
    settings.get(),
  ]);
  if (secret !== null) c.header("Cache-Control", "no-store");
  const page = WebhookPage({
    webhook,
    url: url ?? webhook.url,
    errors,
    secret,
    saved: errors.length === 0 && c.req.query("saved") !== undefined,
    messages: messages.map((message) => shownMessage(message, time_zone)),
    submit_key: newSubmitKey(deps.random),
    asset: deps.asset,
  });
  return answerPage(c, page, errors.length > 0 ? 422 : 200);
}

function shownMessage(message: WebhookMessage, time_zone: string): ShownMessage {
  const { id, event, state, attempts, due_at, outcome, created_at } = message;
  const at = localTime(created_at, time_zone);
  return { id, event, state, attempts, outcome, at, due: due_at === null ? null : localTime(due_at, time_zone) };
}
