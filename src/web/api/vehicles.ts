import type { Deps } from "../edge/deps.ts";
import { jsonBody } from "../edge/json-body.ts";
import { readNewVehicle, readVehicle } from "../schemas/record-input.ts";
import { pricesUsed, vehicleAnswer } from "../vehicle-answer.ts";
import { dayAsked, param, tagged, today, uncachedJson, vehicleQuery } from "./asked.ts";
import { submitKeyOf, versionOf } from "./conditions.ts";
import type { Api } from "./operation.ts";

const VEHICLE = "/api/vehicles/:id";

/**
 * Vehicles as JSON. What is stored carries its version as ETag; whoever changes it names that version in If-Match.
 */
export function addVehicles(api: Api, deps: Deps): void {
  addRecords(api, deps);
  addChanges(api, deps);
  addAssessment(api, deps);
}

function addRecords(api: Api, deps: Deps): void {
  api.add(
    {
      method: "get",
      path: "/api/vehicles",
      id: "listVehicles",
      summary: "Vehicles by label.",
      role: "viewer",
      query: ["search", "fleet_group", "depot", "archived", "limit", "after"],
      gives: "VehiclePage",
    },
    async (c) => uncachedJson(c, await c.var.store.vehicles.list(vehicleQuery(c))),
  );
  api.add(
    {
      method: "post",
      path: "/api/vehicles",
      id: "addVehicle",
      summary: "Add a vehicle, with what is known about it: all or nothing.",
      role: "editor",
      takes: "NewVehicle",
      gives: "Vehicle",
      status: 201,
      tagged: true,
    },
    async (c) => {
      const { vehicle, first } = readNewVehicle(await jsonBody(c), await today(c, deps));
      const created = await c.var.store.vehicles.create(vehicle, first, submitKeyOf(c));
      c.header("Location", `/api/vehicles/${created.id}`);
      return tagged(c, created, 201);
    },
  );
  api.add(
    {
      method: "get",
      path: VEHICLE,
      id: "readVehicle",
      summary: "One vehicle.",
      role: "viewer",
      gives: "Vehicle",
      tagged: true,
    },
    async (c) => tagged(c, await c.var.store.vehicles.get(param(c, "id"))),
  );
}

function addChanges(api: Api, deps: Deps): void {
  const changed = { role: "editor", gives: "Vehicle", versioned: true, tagged: true } as const;
  api.add(
    {
      method: "put",
      path: VEHICLE,
      id: "replaceVehicle",
      summary: "Put this in place of all that was said about a vehicle. Its records stay.",
      takes: "VehicleInput",
      ...changed,
    },
    async (c) => {
      const [version, vehicle] = [versionOf(c), readVehicle(await jsonBody(c), await today(c, deps))];
      return tagged(c, await c.var.store.vehicles.update(param(c, "id"), version, vehicle, submitKeyOf(c)));
    },
  );
  api.add(
    {
      method: "put",
      path: `${VEHICLE}/archival`,
      id: "archiveVehicle",
      summary: "Take a vehicle out of the lists, with all its records kept.",
      ...changed,
    },
    async (c) => tagged(c, await c.var.store.vehicles.archive(param(c, "id"), versionOf(c), submitKeyOf(c))),
  );
  api.add(
    {
      method: "delete",
      path: `${VEHICLE}/archival`,
      id: "unarchiveVehicle",
      summary: "Put an archived vehicle back into the lists.",
      ...changed,
    },
    async (c) => tagged(c, await c.var.store.vehicles.unarchive(param(c, "id"), versionOf(c), submitKeyOf(c))),
  );
}

function addAssessment(api: Api, deps: Deps): void {
  api.add(
    {
      method: "get",
      path: `${VEHICLE}/assessment`,
      id: "assessVehicle",
      summary:
        "The model's answer about a vehicle, from its records, the workspace's numbers and the rules of its place.",
      role: "viewer",
      query: ["as_of"],
      gives: "VehicleAssessment",
    },
    async (c) => {
      const { record, answer } = await vehicleAnswer(deps, c.var.store, param(c, "id"), dayAsked(c));
      const { currency, book, wanted, left_out = null } = pricesUsed(record);
      return uncachedJson(c, { ...answer, prices_used: { currency, book, wanted, left_out } });
    },
  );
}
