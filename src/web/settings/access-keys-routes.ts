import { type Context, Hono } from "hono";
import { AccessPage, type AccessPageProps, NewKeyPage, type ShownKey } from "../../../views/settings/access-page.tsx";
import { localTime } from "../../core/quantities/local-time.ts";
import { MAX_LABEL_CHARS } from "../../core/question/record.ts";
import { type AccessKey, PURPOSES, type Purpose } from "../../store/access.ts";
import { newId } from "../../store/ids.ts";
import { ROLES, type Role } from "../../store/roles.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import type { Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { Refusals } from "../forms/form-reading.ts";
import { formOf, typedFields } from "../forms/posted-form.ts";
import { oneOf } from "../forms/typed-values.ts";

/** `/settings/access`: access links, keys for programs, calendar links; for owners only. */
export function accessKeysRoutes(deps: Deps) {
  return new Hono<GrantedEnv>()
    .get("/settings/access", requireRole("owner"), (c) => answer(c, deps, 200, null))
    .post("/settings/access", requireRole("owner"), async (c) => {
      const form = await formOf(c);
      const read = readNewKey(form);
      if (!read.ok) return answer(c, deps, 422, read.typed);
      const { purpose, role, label } = read;
      const { key } = await c.var.store.accessKeys.create(purpose, role, label, form.get("submit_key"));
      c.header("Cache-Control", "no-store");
      const secret = secretOf(purpose, key, deps.origin(c));
      return answerPage(c, NewKeyPage({ purpose, label, secret, asset: deps.asset }));
    })
    .post("/settings/access/:id/revocation", requireRole("owner"), async (c) => {
      await c.var.store.accessKeys.revoke(c.req.param("id"));
      return c.redirect("/settings/access", 303);
    });
}

/** What the owner copies: a link, or the key itself. */
function secretOf(purpose: Purpose, key: string, origin: string): string {
  switch (purpose) {
    case "link":
      return `${origin}/access/${key}`;
    case "feed":
      return `${origin}/feed/${key}.ics`;
    case "api":
      return key;
  }
}

type Typed = NonNullable<AccessPageProps["typed"]>;

function readNewKey(
  form: URLSearchParams,
): { ok: true; purpose: Purpose; role: Role; label: string } | { ok: false; typed: Typed } {
  const fields = typedFields(form, ["purpose", "label", "role"]);
  const refusals = new Refusals();
  const { refuse } = refusals;
  const purpose = oneOf(PURPOSES, fields.purpose) ?? "link";
  const label = fields.label.trim();
  if (label === "" || [...label].length > MAX_LABEL_CHARS)
    refuse(`${purpose}-label`, `Enter who or what it is for, in 1 to ${MAX_LABEL_CHARS} characters`);
  const role =
    purpose === "feed" ? "viewer" : (oneOf(ROLES, fields.role) ?? refuse(`${purpose}-role`, "Choose what it may do"));
  const errors = refusals.all();
  if (role === undefined || errors.length > 0)
    return { ok: false, typed: { purpose, label, role: fields.role, errors } };
  return { ok: true, purpose, role, label };
}

async function answer(c: Context<GrantedEnv>, deps: Deps, status: 200 | 422, typed: Typed | null) {
  const { store, access } = c.var;
  const [keys, { time_zone }] = await Promise.all([store.accessKeys.list(), store.settings.get()]);
  const page = AccessPage({
    keys: keys.map((key) => shownKey(key, time_zone, access.actor)),
    typed,
    local: deps.access_mode === "local",
    origin: deps.origin(c),
    submit_key: newId(deps.random),
    asset: deps.asset,
  });
  return answerPage(c, page, status);
}

function shownKey(key: AccessKey, time_zone: string, actor: string): ShownKey {
  const { id, purpose, role, label, created_at, last_used_at, revoked_at } = key;
  const said = (instant: string | null) => (instant === null ? null : localTime(instant, time_zone));
  return {
    id,
    purpose,
    role,
    label,
    made: localTime(created_at, time_zone),
    last_used: said(last_used_at),
    revoked: said(revoked_at),
    mine: id === actor,
  };
}
