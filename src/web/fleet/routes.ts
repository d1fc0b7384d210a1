import { Hono } from "hono";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { fleetAuditRoutes } from "./audit.ts";
import { fleetBudgetRoutes } from "./budget.ts";
import { fleetChangeRoutes } from "./change.ts";
import { fleetCompareRoutes } from "./compare.ts";
import { fleetImportRoutes } from "./import/routes.ts";
import { fleetPlanRoutes } from "./plan.ts";
import { fleetPredictionsRoutes } from "./predictions.ts";
import { fleetTableRoutes } from "./table.ts";
import { fleetTermsRoutes } from "./terms.ts";

/** The fleet: its table, side by side, budget, yearly audit, files in, terms. */
export function fleetRoutes(deps: Deps) {
  return new Hono<AppEnv>()
    .route("/", fleetTableRoutes(deps))
    .route("/", fleetCompareRoutes(deps))
    .route("/", fleetChangeRoutes(deps))
    .route("/", fleetBudgetRoutes(deps))
    .route("/", fleetPlanRoutes(deps))
    .route("/", fleetAuditRoutes(deps))
    .route("/", fleetPredictionsRoutes(deps))
    .route("/", fleetImportRoutes(deps))
    .route("/", fleetTermsRoutes(deps));
}
