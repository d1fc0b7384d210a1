import { type Context, Hono } from "hono";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import { SettingsPage } from "../../../views/settings/page.tsx";
import type { SettingsFields } from "../../../views/settings/settings-fields.ts";
import { Conflict } from "../../store/errors.ts";
import { newId } from "../../store/ids.ts";
import { mayAct } from "../../store/roles.ts";
import { settingsOf, type Workspace } from "../../store/workspaces.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import type { Deps } from "../edge/deps.ts";
import { unlessOvertaken } from "../edge/overtaken.ts";
import { answerPage } from "../edge/page.ts";
import { timeZones } from "../edge/time-zones.ts";
import { formOf, versionOf } from "../forms/posted-form.ts";
import { readSettings, settingsFields, settingsOfForm } from "./settings-form.ts";

/** `/settings`: units, currency, place, climate, time zone. */
export function settingsRoutes(deps: Deps) {
  return new Hono<GrantedEnv>()
    .get("/settings", requireRole("viewer"), async (c) => {
      const current = await c.var.store.settings.get();
      return answer(c, deps, 200, { current, fields: settingsFields(current) });
    })
    .post("/settings", requireRole("editor"), async (c) => {
      const form = await formOf(c);
      const fields = settingsOfForm(form);
      const current = await c.var.store.settings.get();
      const read = readSettings(fields, settingsOf(current));
      if (!read.ok) return answer(c, deps, 422, { current: { ...current, version: versionOf(form) }, fields, ...read });
      const { settings } = c.var.store;
      const saved = await unlessOvertaken(settings.update(read.input, versionOf(form), form.get("submit_key")));
      if (!(saved instanceof Conflict)) return c.redirect("/settings?saved=1", 303);
      return answer(c, deps, 409, { current: saved.current, fields, theirs: saved.current });
    });
}

interface Shown {
  current: Workspace;
  fields: SettingsFields;
  errors?: readonly FieldError[];
  /** The stored settings, when someone else saved them in the meantime. */
  theirs?: Workspace;
}

function answer(c: Context<GrantedEnv>, deps: Deps, status: 200 | 409 | 422, shown: Shown) {
  const { current, fields, errors = [], theirs } = shown;
  const { role } = c.var.access;
  const page = SettingsPage({
    fields,
    version: current.version,
    errors,
    theirs: theirs === undefined ? null : differences(settingsFields(theirs), fields),
    saved: status === 200 && c.req.query("saved") !== undefined,
    may_change: mayAct(role, "editor"),
    owner: mayAct(role, "owner"),
    can_leave: deps.access_mode === "links",
    time_zones: timeZones(current.time_zone),
    submit_key: newId(deps.random),
    asset: deps.asset,
  });
  return answerPage(c, page, status);
}

/** Stored values that differ from the typed ones. */
function differences(theirs: SettingsFields, typed: SettingsFields) {
  return Object.entries(theirs)
    .filter(([field, value]) => value !== typed[field as keyof SettingsFields])
    .map(([field, value]) => ({ field, value }));
}
