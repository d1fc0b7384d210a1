import { Hono } from "hono";
import { ComparePage } from "../../../views/fleet/compare-page.tsx";
import { requireRole } from "../edge/access.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { moneyAndUnits } from "../workspace.ts";

const SIDE_BY_SIDE = 6;

/** `GET /fleet/compare?v=…&v=…`: up to six vehicles side by side. */
export function fleetCompareRoutes(deps: Deps) {
  return new Hono<AppEnv>().get("/fleet/compare", requireRole("viewer"), async (c) => {
    const { store } = c.var;
    const ids = [...new Set(c.req.queries("v") ?? [])];
    const [workspace, books, rows] = await Promise.all([
      store.settings.get(),
      store.priceBooks.own(),
      store.fleet.some(ids.slice(0, SIDE_BY_SIDE)),
    ]);
    const page = ComparePage({
      rows,
      cut: ids.length > SIDE_BY_SIDE,
      manner: moneyAndUnits(workspace, books),
      asset: deps.asset,
    });
    return answerPage(c, page);
  });
}
