import { requestBounds } from "../../../../data/parameters.ts";
import { formatMass } from "../../../core/quantities/format.ts";
import type { RefrigerantId } from "../../../core/question/contract.ts";
import { type ImportedVehicle, type KnownVehicle, vehicleKey } from "../../../store/fleet-import.ts";
import { csvRows, type Delimiter } from "./csv-rows.ts";
import type { Text } from "./csv-text.ts";
import type { Mapping } from "./mapping.ts";
import { type CellFault, type Mend, type ReadRow, type RowContext, readRow, type VehicleParticulars } from "./rows.ts";

/** All rows of one or two files, grouped into vehicles with their events, and the outcome of each row. */

export interface FleetFile {
  name: string;
  text: Text;
  delimiter: Delimiter;
  mapping: Mapping;
}

export interface RefusedRow {
  /** Which of the files. */
  file: number;
  row: number;
  /** The row as it was. */
  cells: string[];
  faults: CellFault[];
}

export interface MendedRow {
  file: number;
  row: number;
  mends: Mend[];
}

export interface FleetReading {
  /** By file: its header, and how many rows it has. */
  files: { name: string; header: string[]; rows: number }[];
  /** What can be imported, in file order. */
  vehicles: ImportedVehicle[];
  good: number;
  mended: MendedRow[];
  refused: RefusedRow[];
  /** Rows identical to an earlier one. All are imported: two equal cans on one day are possible. */
  repeated: number;
}

/** What is kept of a row until all are read. */
interface Held {
  file: number;
  read: ReadRow;
  cells: string[];
}

interface HeldVehicle {
  label: string;
  particulars: VehicleParticulars;
  /** The row that each of its values comes from. */
  said_in: Partial<Record<keyof VehicleParticulars, string>>;
  held: Held[];
}

/** Reads the files; `known` are the vehicles that are here already. */
export async function readFleetFiles(
  files: readonly FleetFile[],
  known: readonly KnownVehicle[],
  context: Omit<RowContext, "mapping">,
): Promise<FleetReading> {
  const reading: FleetReading = { files: [], vehicles: [], good: 0, mended: [], refused: [], repeated: 0 };
  const vehicles = new Map<string, HeldVehicle>();
  for (const [file, { name, text, delimiter, mapping }] of files.entries()) {
    let header: string[] | null = null;
    let rows = 0;
    for await (const batch of csvRows(text, delimiter)) {
      for (const row of batch) {
        if (header === null) {
          header = row.cells;
          continue;
        }
        rows++;
        hold(vehicles, { file, read: readRow(row, { ...context, mapping }), cells: row.cells }, files);
      }
    }
    reading.files.push({ name, header: header ?? [], rows });
  }
  const known_by_key = Map.groupBy(known, ({ key }) => key);
  for (const [key, vehicle] of vehicles) settle(reading, vehicle, key, known_by_key.get(key) ?? []);
  reading.refused.sort((a, b) => a.file - b.file || a.row - b.row);
  reading.mended.sort((a, b) => a.file - b.file || a.row - b.row);
  return reading;
}

/** Assigns a row to its vehicle. A value that contradicts an earlier row about the vehicle is a fault. */
function hold(vehicles: Map<string, HeldVehicle>, held: Held, files: readonly FleetFile[]): void {
  const { read } = held;
  const key = vehicleKey(read.vehicle);
  let vehicle = vehicles.get(key);
  if (vehicle === undefined) {
    vehicle = { label: read.vehicle, particulars: { ...NOTHING_SAID }, said_in: {}, held: [] };
    vehicles.set(key, vehicle);
  }
  if (read.faults.length === 0) {
    for (const [name, field] of PARTICULARS) {
      const value = read.particulars[name];
      const before = vehicle.particulars[name];
      if (value === null || value === before) continue;
      if (before === null) {
        Object.assign(vehicle.particulars, { [name]: value });
        vehicle.said_in[name] = rowName(held, files);
      } else {
        const cell = shown(name, value);
        read.faults.push({
          field,
          cell,
          why: `${vehicle.said_in[name]} says ${shown(name, before)} for the same vehicle.`,
        });
      }
    }
  }
  vehicle.held.push(held);
}

const NOTHING_SAID: VehicleParticulars = {
  refrigerant: null,
  nameplate_g: null,
  fleet_group: null,
  depot: null,
  electric_compressor: null,
  dye_in_own_oil: null,
  kind: null,
};

const PARTICULARS = [
  ["refrigerant", "refrigerant"],
  ["nameplate_g", "nameplate"],
  ["fleet_group", "group"],
  ["depot", "depot"],
  ["electric_compressor", "electric"],
  ["dye_in_own_oil", "own_oil_dye"],
  ["kind", "kind"],
] as const;

function rowName({ file, read }: Held, files: readonly FleetFile[]): string {
  return files.length > 1 ? `Row ${read.row} of ${files[file]!.name}` : `Row ${read.row}`;
}

function shown(name: keyof VehicleParticulars, value: string | number | boolean): string {
  if (typeof value === "number" && name === "nameplate_g") return formatMass(value, "metric");
  return typeof value === "boolean" ? (value ? "yes" : "no") : String(value);
}

/** Sorts the rows of a vehicle into accepted and rejected, with the reason. */
function settle(reading: FleetReading, vehicle: HeldVehicle, key: string, known: readonly KnownVehicle[]): void {
  const { particulars, held } = vehicle;
  const ours = known[0] ?? null;
  const refrigerant: RefrigerantId | null = particulars.refrigerant ?? ours?.refrigerant ?? null;
  const nameplate_g = ours?.nameplate_g ?? particulars.nameplate_g;
  const missing = vehicleFault(vehicle.label, known, refrigerant, nameplate_g);
  const entries: ImportedVehicle["entries"] = [];
  let taken = 0;
  const seen = new Set<string>();
  for (const { file, read, cells } of held) {
    const faults = [...read.faults];
    if (faults.length === 0 && missing !== null) faults.push(missing);
    if (faults.length === 0 && nameplate_g !== null) faults.push(...amountFaults(read, nameplate_g));
    if (faults.length > 0) {
      reading.refused.push({ file, row: read.row, cells, faults });
      continue;
    }
    taken++;
    const mends = [...read.mends, ...keptParticulars(read, ours)];
    if (mends.length > 0) reading.mended.push({ file, row: read.row, mends });
    else reading.good++;
    if (read.entry === null) continue;
    const content = JSON.stringify(read.entry);
    if (seen.has(content)) reading.repeated++;
    seen.add(content);
    entries.push(read.entry);
  }
  if (taken === 0 || refrigerant === null || nameplate_g === null) return;
  reading.vehicles.push({
    key,
    id: ours?.id ?? null,
    label: vehicle.label,
    refrigerant,
    nameplate_g,
    fleet_group: particulars.fleet_group,
    depot: particulars.depot,
    electric_compressor: particulars.electric_compressor ?? false,
    dye_in_own_oil: particulars.dye_in_own_oil,
    kind: particulars.kind,
    entries,
  });
}

function vehicleFault(
  label: string,
  known: readonly KnownVehicle[],
  refrigerant: RefrigerantId | null,
  nameplate_g: number | null,
): CellFault | null {
  const fault = (why: string): CellFault => ({ field: "vehicle", cell: label, why });
  if (new Set(known.map(({ id }) => id)).size > 1)
    return fault("Several vehicles here are called so. Give them different names first.");
  if (known.length > 0) return null;
  if (refrigerant === null && nameplate_g === null) {
    return fault(
      "There is no such vehicle here yet. A new one needs its refrigerant and nameplate charge in one of its rows.",
    );
  }
  if (refrigerant === null) return fault("A new vehicle needs its refrigerant in one of its rows.");
  return nameplate_g === null ? fault("A new vehicle needs its nameplate charge in one of its rows.") : null;
}

function amountFaults({ entry }: ReadRow, nameplate_g: number): CellFault[] {
  const { amount_nameplates } = requestBounds.log;
  return (["recovered", "added"] as const).flatMap((field) => {
    const amount = entry?.[`${field}_g`] ?? 0;
    if (amount <= amount_nameplates * nameplate_g) return [];
    const why = `More than ${amount_nameplates} times the nameplate charge of ${formatMass(nameplate_g, "metric")}: is the unit right?`;
    return [{ field, cell: formatMass(amount, "metric"), why }];
  });
}

/** A vehicle that is in the records already keeps its own values. */
function keptParticulars({ particulars }: ReadRow, ours: KnownVehicle | null): Mend[] {
  if (ours === null) return [];
  return PARTICULARS.flatMap(([name, field]) => {
    const value = particulars[name];
    const kept = ours[name];
    if (value === null || value === kept) return [];
    const how =
      kept === null
        ? "left out; the vehicle is here already and has none"
        : `left out; the vehicle here says ${shown(name, kept)}`;
    return [{ field, cell: shown(name, value), how }];
  });
}
