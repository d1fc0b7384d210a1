import type { Deps } from "../edge/deps.ts";
import { addAssess } from "./assess.ts";
import { addFleet } from "./fleet.ts";
import { addLedgers } from "./ledger.ts";
import { addDescription } from "./openapi.ts";
import { Api } from "./operation.ts";
import { addReadings } from "./readings.ts";
import { addShop } from "./shop.ts";
import { addVehicles } from "./vehicles.ts";

/** Everything below `/api/`, and its description. */
export function apiRoutes(deps: Deps) {
  const api = new Api();
  addAssess(api, deps);
  addReadings(api);
  addVehicles(api, deps);
  addLedgers(api, deps);
  addFleet(api, deps);
  addShop(api, deps);
  addDescription(api);
  return api.app;
}
