import { type Context, Hono } from "hono";
import { z } from "zod";
import { ChangePage, type ChangePageProps } from "../../../views/fleet/change-page.tsx";
import { vehicles } from "../../../views/fleet/shown.ts";
import { vehicleInputOf } from "../../store/vehicles.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { formOf } from "../forms/posted-form.ts";
import { todayIn } from "../workspace.ts";

/** As many as can be ticked. */
const MOST = 300;
const MOST_CHARS = 120;

/** Group and depot of vehicles as they were, so that a change of them can be undone. */
const placesBefore = z
  .array(
    z.object({
      id: z.string().max(64),
      fleet_group: z.string().min(1).max(MOST_CHARS).nullable(),
      depot: z.string().min(1).max(MOST_CHARS).nullable(),
    }),
  )
  .max(MOST);
type Place = z.infer<typeof placesBefore>[number];

/** What is done with all ticked vehicles at once, and undone. */
export function fleetChangeRoutes(deps: Deps) {
  async function show(
    c: Context<AppEnv & GrantedEnv>,
    ids: readonly string[],
    shown: Partial<Pick<ChangePageProps, "done" | "error">> = {},
  ) {
    const { store } = c.var;
    const labels = await store.fleet.labels(ids);
    const chosen = [...labels].map(([id, label]) => ({ id, label }));
    const today = todayIn(await store.settings.get(), deps.now());
    if (shown.error != null) c.status(422);
    return answerPage(c, ChangePage({ chosen, done: null, error: null, ...shown, today, asset: deps.asset }));
  }

  return new Hono<AppEnv>()
    .get("/fleet/change", requireRole("editor"), (c) => show(c, idsOf(c.req.queries("v") ?? [])))
    .post("/fleet/change", requireRole("editor"), async (c) => {
      const { store } = c.var;
      const form = await formOf(c);
      const ids = idsOf(form.getAll("v"));
      const what = form.get("what");
      if (what === "archive" || what === "restore") {
        const count = await archived(store, ids, what === "archive");
        const done =
          what === "archive"
            ? { said: `${vehicles(count)} archived`, undo: { what: "restore", was: "" } }
            : { said: `${vehicles(count)} in use again`, undo: null };
        return show(c, ids, { done });
      }
      if (what === "back") {
        const before = placesBefore.safeParse(jsonOf(form.get("was") ?? ""));
        if (!before.success) return show(c, ids, { error: "This change can no longer be undone." });
        const was = await placed(store, before.data);
        return show(c, ids, { done: { said: `${vehicles(was.length)} as before`, undo: null } });
      }
      const [group, depot] = ["group", "depot"].map((name) => (form.get(name) ?? "").trim());
      if (!group && !depot) return show(c, ids, { error: "Enter a group, a depot, or both." });
      if (Math.max(group?.length ?? 0, depot?.length ?? 0) > MOST_CHARS)
        return show(c, ids, { error: `Enter at most ${MOST_CHARS} characters.` });
      const wanted = ids.map((id) => ({ id, ...(group ? { fleet_group: group } : {}), ...(depot ? { depot } : {}) }));
      const was = await placed(store, wanted);
      const said = `${vehicles(was.length)} changed`;
      return show(c, ids, { done: { said, undo: { what: "back", was: JSON.stringify(was) } } });
    });
}

function idsOf(said: readonly string[]): string[] {
  return [...new Set(said)].filter((id) => id !== "").slice(0, MOST);
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

/** Sets group and depot; gives them as they were. Vehicles that are not here are left out. */
async function placed(store: WorkspaceStore, wanted: readonly (Pick<Place, "id"> & Partial<Place>)[]) {
  const known = new Set((await store.fleet.labels(wanted.map(({ id }) => id))).keys());
  const was: Place[] = [];
  for (const { id, ...place } of wanted.filter((one) => known.has(one.id))) {
    const vehicle = await store.vehicles.get(id);
    was.push({ id, fleet_group: vehicle.fleet_group, depot: vehicle.depot });
    await store.vehicles.update(id, vehicle.version, { ...vehicleInputOf(vehicle), ...place });
  }
  return was;
}

/** Archives vehicles or takes them out again; how many changed. */
async function archived(store: WorkspaceStore, ids: readonly string[], archive: boolean): Promise<number> {
  let count = 0;
  for (const id of (await store.fleet.labels(ids)).keys()) {
    const vehicle = await store.vehicles.get(id);
    if ((vehicle.archived_at !== null) === archive) continue;
    await (archive ? store.vehicles.archive(id, vehicle.version) : store.vehicles.unarchive(id, vehicle.version));
    count++;
  }
  return count;
}
