import { Hono } from "hono";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { fleetAuditRoutes } from "./audit.ts";
import { fleetBudgetRoutes } from "./budget.ts";
import { fleetCompareRoutes } from "./compare.ts";
import { fleetImportRoutes } from "./import/routes.ts";
import { fleetTableRoutes } from "./table.ts";

/** The fleet: its table, side by side, budget, yearly audit, files in. */
export function fleetRoutes(deps: Deps) {
  return new Hono<AppEnv>()
    .route("/", fleetTableRoutes(deps))
    .route("/", fleetCompareRoutes(deps))
    .route("/", fleetBudgetRoutes(deps))
    .route("/", fleetAuditRoutes(deps))
    .route("/", fleetImportRoutes(deps));
}
