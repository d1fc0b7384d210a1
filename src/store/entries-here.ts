import type { ChargeEntry, Line, Vehicle } from "../core/question/record.ts";
import { chargeLogTable } from "./charge-log.ts";
import { type Columns, columnsOf, namesOf, nullable, number, rowReader, text } from "./columns.ts";
import type { VehicleChange } from "./imported-vehicle.ts";
import { contentOf, lineReader, select } from "./ledger.ts";
import type { Scope } from "./scope.ts";
import type { Statement } from "./sql.ts";
import { VEHICLE } from "./vehicles.ts";

/** What is here of some vehicles, for those who bring in many events at once: files, and other programs. */

/** Particulars that files change. */
export const CHANGING: Columns<Required<VehicleChange>> = columnsOf(VEHICLE, [
  "fleet_group",
  "depot",
  "kind",
  "model_year",
  "odometer",
]);

export type VehicleNow = Pick<Vehicle, "id" | "version" | "label"> & Required<VehicleChange>;

const VEHICLE_NOW: Columns<VehicleNow> = { id: text, version: number, label: text, ...CHANGING };
export const vehicleNowOf = rowReader(VEHICLE_NOW);

/** Some vehicles as they are now. */
export function readingNow(ids: readonly string[]): Statement {
  return {
    sql: `SELECT ${namesOf(VEHICLE_NOW).join(", ")} FROM vehicles
      WHERE workspace_id = :workspace AND id IN (SELECT value FROM json_each(?))`,
    params: [JSON.stringify(ids)],
  };
}

const lineOf = lineReader(chargeLogTable);
const orderOf = rowReader<{ order_key: string | null }>({ order_key: nullable(text) });
const countOf = rowReader<{ n: number }>({ n: number });

export interface EntryHere {
  id: string;
  number: number;
  order_key: string | null;
  /** Every version of it, oldest first. */
  lines: Line<ChargeEntry>[];
  /** What any of them says. */
  contents: Set<string>;
  /** Whether an event that comes in is this entry. */
  matched: boolean;
}

export interface VehicleHere {
  vehicle: VehicleNow | null;
  entries: EntryHere[];
  last_number: number;
}

/** Every line that an entry of these vehicles ever had, by vehicle; and the state that this was read in. */
export async function readHere(
  scope: Scope,
  ids: readonly string[],
): Promise<{ here: Map<string, VehicleHere>; seen: { vehicles: number; lines: number } }> {
  const here = new Map<string, VehicleHere>();
  const [vehicle_count, line_count, vehicles, lines] = await scope.batch([
    { sql: "SELECT count(*) AS n FROM vehicles WHERE workspace_id = :workspace" },
    { sql: "SELECT count(*) AS n FROM charge_log WHERE workspace_id = :workspace" },
    readingNow(ids),
    {
      sql: `${select(chargeLogTable).replace(" FROM ", ", o.order_key FROM ")}
        LEFT JOIN entry_orders AS o ON o.workspace_id = line.workspace_id AND o.entry_id = line.id
        WHERE line.workspace_id = :workspace AND line.vehicle_id IN (SELECT value FROM json_each(?))
        ORDER BY line.vehicle_id, line.number, line.id, line.version`,
      params: [JSON.stringify(ids)],
    },
  ]);
  for (const row of vehicles!) {
    const vehicle = vehicleNowOf(row);
    here.set(vehicle.id, { vehicle, entries: [], last_number: 0 });
  }
  for (const row of lines!) {
    const line = lineOf(row);
    const { order_key } = orderOf(row);
    const of_vehicle = here.get(line.vehicle_id)!;
    of_vehicle.last_number = Math.max(of_vehicle.last_number, line.number);
    let entry = of_vehicle.entries.at(-1);
    if (entry?.id !== line.id) {
      entry = { id: line.id, number: line.number, order_key, lines: [], contents: new Set(), matched: false };
      of_vehicle.entries.push(entry);
    }
    entry.lines.push(line);
    entry.contents.add(JSON.stringify(contentOf(chargeLogTable, line)));
  }
  return { here, seen: { vehicles: countOf(vehicle_count![0]!).n, lines: countOf(line_count![0]!).n } };
}
