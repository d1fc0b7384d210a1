import { requestBounds } from "../../../../data/parameters.ts";
import { dayNumber } from "../../../core/quantities/dates.ts";
import { saidDistance } from "../../../core/quantities/distance.ts";
import { formatMass } from "../../../core/quantities/format.ts";
import type { RefrigerantId } from "../../../core/question/contract.ts";
import type { Odometer } from "../../../core/question/record.ts";
import { type KnownVehicle, type VehicleChange, vehicleKey } from "../../../store/imported-vehicle.ts";
import type {
  Agreement,
  FleetFile,
  FleetReading,
  Held,
  HeldVehicle,
  ParticularChange,
  ReadEntry,
} from "./reading-shapes.ts";
import { type CellFault, fieldLabel, type Mend, type ReadRow, type VehicleParticulars } from "./rows.ts";

/** What the rows of one vehicle say together: which hold, which contradict one another, and which are doubted. */

/** Rows that are shown as they were read. */
const SAMPLES = 10;

/** Names of groups and depots as they are written here, by how they are compared. */
export function spellingsOf(known: readonly KnownVehicle[]): Map<string, string> {
  const spellings = new Map<string, string>();
  for (const vehicle of known) {
    for (const name of NAMES) {
      const said = vehicle[name];
      if (said !== null && !spellings.has(name + vehicleKey(said))) spellings.set(name + vehicleKey(said), said);
    }
  }
  return spellings;
}

/** Particulars that are names of our users' own. */
const NAMES = ["fleet_group", "depot"] as const;
/** Particulars that may change over time: the latest holds. Another refrigerant is a contradiction. */
const CHANGING: ReadonlySet<keyof VehicleParticulars> = new Set([
  "fleet_group",
  "depot",
  "kind",
  "model_year",
  "odometer",
]);
/** Labels round to whole grams or tenths of an ounce. */
const SAME_NAMEPLATE = 0.01;

/** Assigns a row to its vehicle. A value that contradicts an earlier row about the vehicle is a fault. */
export function hold(
  vehicles: Map<string, HeldVehicle>,
  held: Held,
  files: readonly FleetFile[],
  spellings: Map<string, string>,
): void {
  const { read } = held;
  const key = vehicleKey(read.vehicle);
  let vehicle = vehicles.get(key);
  if (vehicle === undefined) {
    vehicle = { label: read.vehicle, particulars: { ...NOTHING_SAID }, said_in: {}, said_on: {}, held: [], moved: [] };
    vehicles.set(key, vehicle);
  }
  vehicle.held.push(held);
  if (read.faults.length > 0) return;
  for (const name of NAMES) {
    const said = read.particulars[name];
    if (said === null) continue;
    const usual = spellings.get(name + vehicleKey(said));
    if (usual === undefined) spellings.set(name + vehicleKey(said), said);
    else read.particulars[name] = usual;
  }
  for (const [name, field] of PARTICULARS) {
    const value = read.particulars[name];
    const before = vehicle.particulars[name];
    if (value === null || isSame(name, value, before)) continue;
    const day = isOdometer(value) ? value.on : (read.entry?.date ?? "");
    if (before === null || CHANGING.has(name)) {
      const earlier = before !== null && day !== "" && day < (vehicle.said_on[name] ?? "");
      if (earlier) continue;
      if (before !== null && name !== "odometer")
        vehicle.moved.push({
          label: vehicle.label,
          field,
          from: shown(name, before),
          to: shown(name, value),
          here: false,
        });
      Object.assign(vehicle.particulars, { [name]: value });
      vehicle.said_in[name] = rowName(held, files);
      vehicle.said_on[name] = day;
    } else {
      const cell = shown(name, value);
      const why = `${vehicle.said_in[name]} says ${shown(name, before)} for the same vehicle.`;
      read.faults.push({ field, cell, why });
    }
  }
}

type Particular = NonNullable<VehicleParticulars[keyof VehicleParticulars]>;

function isOdometer(value: Particular): value is Odometer {
  return typeof value === "object";
}

function isSame(name: keyof VehicleParticulars, value: Particular, before: Particular | null): boolean {
  if (before !== null && isOdometer(value) && isOdometer(before))
    return value.km === before.km && value.on === before.on;
  if (name !== "nameplate_g" || typeof value !== "number" || typeof before !== "number") return value === before;
  return Math.abs(value - before) <= SAME_NAMEPLATE * before;
}

const NOTHING_SAID: VehicleParticulars = {
  refrigerant: null,
  nameplate_g: null,
  fleet_group: null,
  depot: null,
  electric_compressor: null,
  dye_in_own_oil: null,
  kind: null,
  model_year: null,
  odometer: null,
};

const PARTICULARS = [
  ["refrigerant", "refrigerant"],
  ["nameplate_g", "nameplate"],
  ["fleet_group", "group"],
  ["depot", "depot"],
  ["electric_compressor", "electric"],
  ["dye_in_own_oil", "own_oil_dye"],
  ["kind", "kind"],
  ["model_year", "model_year"],
  ["odometer", "odometer"],
] as const;

function rowName({ file, read }: Held, files: readonly FleetFile[]): string {
  return files.length > 1 ? `Row ${read.row} of ${files[file]!.name}` : `Row ${read.row}`;
}

function shown(name: keyof VehicleParticulars, value: Particular): string {
  // Which unit the reader thinks in is not known here.
  if (isOdometer(value)) return `${saidDistance(value.km, "us")} (${saidDistance(value.km, "metric")}) on ${value.on}`;
  if (typeof value === "number" && name === "nameplate_g") return formatMass(value, "metric");
  return typeof value === "boolean" ? (value ? "yes" : "no") : String(value);
}

/** What a row says of the vehicle itself: `R-134a, 850 g, Large vans, North yard`. */
function saidParticulars(particulars: VehicleParticulars): string {
  return PARTICULARS.flatMap(([name, field]) => {
    const value = particulars[name];
    if (value === null) return [];
    return typeof value === "boolean" ? `${fieldLabel(field)}: ${shown(name, value)}` : shown(name, value);
  }).join(", ");
}

/** Sorts the rows of a vehicle into accepted and rejected, with the reason. */
export function settle(reading: FleetReading, vehicle: HeldVehicle, key: string, known: readonly KnownVehicle[]): void {
  const { particulars, held } = vehicle;
  const ours = known[0] ?? null;
  const refrigerant: RefrigerantId | null = particulars.refrigerant ?? ours?.refrigerant ?? null;
  const nameplate_g = ours?.nameplate_g ?? particulars.nameplate_g;
  const missing = vehicleFault(vehicle.label, known, refrigerant, nameplate_g);
  const entries: ReadEntry[] = [];
  let taken = 0;
  const seen = new Set<string>();
  const refused_rows = new Set<string>();
  const counted = new Set<string>();
  for (const { file, read, cells } of held) {
    const place = `${file} ${read.row}`;
    const faults = [...read.faults];
    if (faults.length === 0 && missing !== null) faults.push(missing);
    if (faults.length === 0 && nameplate_g !== null) faults.push(...amountFaults(read, nameplate_g));
    if (faults.length > 0) {
      if (!refused_rows.has(place)) reading.refused.push({ file, row: read.row, cells, faults });
      refused_rows.add(place);
      continue;
    }
    taken++;
    const mends = [...read.mends, ...keptParticulars(read, ours)];
    if (mends.length > 0) reading.mended.push({ file, row: read.row, mends });
    else if (!counted.has(place)) reading.good++;
    counted.add(place);
    if (reading.samples.length < SAMPLES)
      reading.samples.push({
        file,
        row: read.row,
        vehicle: vehicle.label,
        about: saidParticulars(read.particulars),
        entry: read.entry,
      });
    if (read.entry === null) continue;
    const content = JSON.stringify(read.entry);
    if (seen.has(content)) reading.repeated++;
    seen.add(content);
    const needs: Agreement[] = [];
    if (read.from_text.length > 0) {
      needs.push("text");
      reading.from_text.push({ file, row: read.row, mends: read.from_text });
    }
    entries.push({ file, row: read.row, entry: read.entry, order: read.order, needs });
  }
  if (taken === 0 || refrigerant === null || nameplate_g === null) return;
  for (const [i, doubt] of doubtsAbout(entries, nameplate_g)) {
    const { file, row, needs } = entries[i]!;
    needs.push("doubt");
    reading.doubted.push({ file, row, mends: [doubt] });
  }
  const { change, changes } = changeOf(vehicle, ours);
  reading.changes.push(...changes);
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
    model_year: particulars.model_year,
    odometer: particulars.odometer,
    change,
    entries,
  });
}

/** Less than this share of the nameplate charge is hard to weigh in, and often another unit. */
const SMALL_SHARE = 0.03;
/** From this share on, the same amount on two days running is likely one visit written twice. */
const LARGE_SHARE = 0.4;

/** Amounts that are hard to believe: which, and why. */
function doubtsAbout(entries: readonly ReadEntry[], nameplate_g: number): [at: number, doubt: Mend][] {
  const large_on = new Map<string, number[]>();
  return entries.flatMap(({ entry }, i): [number, Mend][] => {
    const field = (["added", "recovered"] as const).find((one) => {
      const amount = entry[`${one}_g`] ?? 0;
      return amount > 0 && amount < SMALL_SHARE * nameplate_g;
    });
    if (field !== undefined) {
      const cell = formatMass(entry[`${field}_g`]!, "metric");
      return [[i, { field, cell, how: `very little for ${formatMass(nameplate_g, "metric")}: is the unit right?` }]];
    }
    const added = entry.added_g ?? 0;
    if (added < LARGE_SHARE * nameplate_g) return [];
    const day = dayNumber(entry.date);
    const beside = large_on.get(String(Math.round(added)))?.some((other) => Math.abs(other - day) === 1) ?? false;
    large_on.set(String(Math.round(added)), [...(large_on.get(String(Math.round(added))) ?? []), day]);
    if (!beside) return [];
    return [
      [
        i,
        {
          field: "added",
          cell: formatMass(added, "metric"),
          how: "the same as a day before or after: one visit written twice?",
        },
      ],
    ];
  });
}

/** What differs about a vehicle: within the file, or from what is here. */
function changeOf({ particulars, said_on, moved, label }: HeldVehicle, ours: KnownVehicle | null) {
  if (ours === null) return { change: null, changes: moved };
  const change: VehicleChange = {};
  const changes: ParticularChange[] = [];
  for (const [name, field] of PARTICULARS) {
    const value = particulars[name];
    const here = ours[name];
    if (value === null || !CHANGING.has(name) || isSame(name, value, here)) continue;
    // A file from before the newest entry here does not say how things are now.
    const day = said_on[name] ?? "";
    if (day !== "" && day < (isOdometer(value) ? (ours.odometer?.on ?? "") : (ours.last_date ?? ""))) continue;
    Object.assign(change, { [name]: value });
    // That a vehicle has gone further is no news; that it has gone back is.
    if (isOdometer(value) && value.km >= (ours.odometer?.km ?? 0)) continue;
    changes.push({
      label,
      field,
      from: here === null ? "" : shown(name, here),
      to: shown(name, value),
      here: true,
    });
  }
  return { change: Object.keys(change).length === 0 ? null : change, changes };
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

/** A vehicle that is in the records already keeps its own values, but for those that change over time. */
function keptParticulars({ particulars }: ReadRow, ours: KnownVehicle | null): Mend[] {
  if (ours === null) return [];
  return PARTICULARS.flatMap(([name, field]) => {
    const value = particulars[name];
    const kept = ours[name];
    if (value === null || CHANGING.has(name) || isSame(name, value, kept)) return [];
    const how =
      kept === null
        ? "left out; the vehicle is here already and has none"
        : `left out; the vehicle here says ${shown(name, kept)}`;
    return [{ field, cell: shown(name, value), how }];
  });
}
