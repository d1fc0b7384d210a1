import { Hono } from "hono";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { detailsRoutes } from "./details.ts";
import { exampleRoutes } from "./example.ts";
import { forEntryRoutes } from "./for-entry.ts";
import { keepRoutes } from "./keep.ts";
import { chargeLogPages, findingsPages, notesPages } from "./ledger/ledgers.ts";
import { ledgerRoutes } from "./ledger/routes.ts";
import { listRoutes } from "./list.ts";
import { lookRoutes } from "./look.ts";
import { readBackRoutes } from "./read-back.ts";
import { readingsPages, vehicleReadingsRoutes } from "./readings.ts";
import { vehicleTopOffRoutes } from "./top-off.ts";
import { vehiclePageRoutes } from "./vehicle-page.ts";

/** Vehicles and their records as pages. Whoever may look gets the same pages without the forms. */
export function vehicleRoutes(deps: Deps) {
  const app = new Hono<AppEnv>();
  app.route("/", listRoutes(deps)); // every vehicle
  app.route("/", keepRoutes(deps)); // the quick question becomes one
  app.route("/", exampleRoutes(deps)); // invented ones, in and out
  app.route("/", detailsRoutes(deps)); // entered, edited, archived; before the page, which would take "new" for an id
  app.route("/", forEntryRoutes(deps)); // chosen for an entry that was written without a connection
  app.route("/", vehiclePageRoutes(deps)); // one of them
  app.route("/", vehicleTopOffRoutes(deps)); // how to top it off
  app.route("/", lookRoutes(deps)); // how it cools today, one press
  app.route("/", readBackRoutes(deps)); // how an entry is read, as it is typed
  app.route("/", ledgerRoutes(deps, chargeLogPages));
  app.route("/", ledgerRoutes(deps, findingsPages));
  app.route("/", vehicleReadingsRoutes(deps)); // is it low at all
  app.route("/", ledgerRoutes(deps, readingsPages));
  app.route("/", ledgerRoutes(deps, notesPages));
  return app;
}
