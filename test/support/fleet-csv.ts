import { csvOf } from "../../src/web/edge/csv.ts";
import { type FleetOptions, inventedFleet } from "./fleet-generator.ts";

/** An invented fleet as a file: a row for each entry, its vehicle's particulars beside it. */
export function fleetCsv(options: FleetOptions): string {
  const rows = inventedFleet(options).flatMap(({ label, refrigerant, nameplate_g, fleet_group, depot, log }) =>
    log.map((entry) => [
      label,
      refrigerant,
      nameplate_g,
      fleet_group,
      depot,
      entry.date,
      entry.cooling ?? null,
      entry.added_g ?? null,
      entry.added_by ?? null,
      entry.finish ?? null,
    ]),
  );
  const header = [
    "vehicle",
    "refrigerant",
    "nameplate_g",
    "group",
    "depot",
    "date",
    "cooling",
    "added_g",
    "added_by",
    "finish",
  ];
  return csvOf(header, rows);
}
