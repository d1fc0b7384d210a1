import { Hono } from "hono";
import { ForEntryPage } from "../../../views/vehicles/for-entry-page.tsx";
import { vehiclePath } from "../../../views/vehicles/record/record.ts";
import { FOR_ENTRY_PATH } from "../../../views/words/on-device.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import type { Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { searchedFor } from "../forms/posted-form.ts";

const VEHICLES_SHOWN = 50;

/**
 * `GET /vehicles/for-entry?when=…&q=…`: which vehicle an entry is for that was written where there was no connection;
 * each leads to its form with what the address brings along. With one vehicle only, its form is next.
 */
export function forEntryRoutes(deps: Deps) {
  return new Hono<GrantedEnv>().get(FOR_ENTRY_PATH, requireRole("editor"), async (c) => {
    const { vehicles } = c.var.store;
    const { q, ...entry } = c.req.query();
    const search = searchedFor(q);
    const [{ items }, found] = await Promise.all([
      vehicles.list({ search, archived: false, limit: VEHICLES_SHOWN, after: null }),
      vehicles.count({ search, archived: false }),
    ]);
    const formOf = (id: string) => `${vehiclePath(id, "log", "new")}?${new URLSearchParams(entry)}`;
    if (found === 1 && search === "") return c.redirect(formOf(items[0]!.id), 303);
    const shown = items.map((vehicle) => ({ vehicle, form: formOf(vehicle.id) }));
    return answerPage(c, ForEntryPage({ shown, found, search, entry, asset: deps.asset }));
  });
}
