import { requestBounds } from "../../data/parameters.ts";
import {
  type AssessRequest,
  LOCATION_IDS,
  type LocationId,
  type LocationPrices,
  type PricesInput,
} from "../core/contract.ts";
import type { ChargeEntry, ChargeLine } from "./charge-log.ts";
import type { FindingLine } from "./findings.ts";
import type { NoteLine } from "./notes.ts";
import type { Vehicle } from "./vehicles.ts";
import type { Workspace } from "./workspaces.ts";

/** All that holds now about one vehicle, read in one moment. */
export interface VehicleRecord {
  workspace: Workspace;
  vehicle: Vehicle;
  charge_log: ChargeLine[];
  findings: FindingLine[];
  notes: NoteLine[];
}

/** What the model's question is made of. */
export type AssessedRecord = Omit<VehicleRecord, "notes">;

/**
 * The question that a record puts to the model on the day `as_of`: the vehicle's own numbers before those of the
 * workspace, and of the log what the model takes (nothing later than that day, nothing too old, the newest when there
 * is too much). `climateMeans` gives the twelve monthly means of a preset climate, or null for one it does not know.
 */
export function assessRequestOf(
  { workspace, vehicle, charge_log, findings }: AssessedRecord,
  as_of: string,
  climateMeans: (climate: string) => readonly number[] | null,
): AssessRequest {
  const { log, findings: finding_bounds } = requestBounds;
  const meansOf = ({ monthly_mean_c, climate }: Vehicle | Workspace) =>
    monthly_mean_c ?? (climate === null ? null : climateMeans(climate));
  const taken = <T extends { date: string }>(lines: readonly T[], max: number) =>
    lines.filter(({ date }) => date <= as_of && date >= earliestDate(as_of)).slice(-max);
  return {
    as_of,
    vehicle: {
      refrigerant: vehicle.refrigerant,
      nameplate_g: vehicle.nameplate_g,
      monthly_mean_c: meansOf(vehicle) ?? meansOf(workspace),
    },
    log: taken(charge_log, log.max_entries).map(entryOf),
    findings: taken(findings, finding_bounds.max_entries).map(({ date, test, location, result }) => ({
      date,
      test,
      location,
      result,
    })),
    plan: { ...workspace.plan, ...vehicle.plan },
    prices: mergedPrices(workspace.prices, vehicle.prices),
    assumptions: { ...workspace.assumptions, ...vehicle.assumptions },
  };
}

function entryOf({
  date,
  cooling,
  recovered_g,
  added_g,
  added_by,
  finish,
  repair,
}: ChargeLine): Omit<ChargeEntry, "dye" | "note"> {
  return { date, cooling, recovered_g, added_g, added_by, finish, repair };
}

/** The first date that the model takes in a question of the day `as_of`. */
function earliestDate(as_of: string): string {
  const { first_date, years_before } = requestBounds.log;
  const years_ago = `${Number(as_of.slice(0, 4)) - years_before}${as_of.slice(4)}`;
  return years_ago > first_date ? years_ago : first_date;
}

function mergedPrices(general: PricesInput, own: PricesInput): PricesInput {
  const locations: Partial<Record<LocationId, LocationPrices>> = {};
  for (const id of LOCATION_IDS) {
    const merged = { ...general.locations?.[id], ...own.locations?.[id] };
    if (Object.keys(merged).length > 0) locations[id] = merged;
  }
  return { ...general, ...own, locations };
}
