import type * as z from "zod";
import { type Issue, Problem } from "../../core/problem.ts";
import type { Finding } from "../../core/question/contract.ts";
import {
  type ChargeEntryInput,
  type FindingInput,
  modelledEntry,
  NEW_VEHICLE,
  type Note,
  type VehicleInput,
} from "../../core/question/record.ts";
import type { ReadingsInput } from "../../core/readings/record.ts";
import type { FirstRecords } from "../../store/vehicles.ts";
import { parseAssessRequest } from "./assess-request.ts";
import {
  chargeEntryInput,
  findingInput,
  newVehicleInput,
  noteInput,
  readingsInput,
  vehicleInput,
} from "./record-schema.ts";
import { checked, MAX_ISSUES } from "./sentences.ts";

/** What an entry is checked against. */
export interface EntryContext {
  vehicle: Pick<VehicleInput, "refrigerant" | "nameplate_g">;
  /** The day where the workspace is; nothing is recorded of later days. */
  today: string;
}

/*
 * Each of these checks what came in, whatever it is, and gives it typed. They throw `Problem` invalid with an issue for
 * everything that is wrong.
 */

/** A vehicle from a request's body. Throws Problem as all readers here. */
export function readVehicle(body: unknown, today: string): VehicleInput {
  const vehicle = vehicleOf(shaped(vehicleInput, body));
  refuse(odometerIssues(vehicle, today));
  return vehicle;
}

/** What is wrong with a reading of a day that has not come yet. */
export function odometerIssues({ odometer }: Pick<VehicleInput, "odometer">, today: string): Issue[] {
  if (odometer === null || odometer.on <= today) return [];
  return [{ path: "odometer.on", message: `Give a day up to today, ${today}.` }];
}

/** A new vehicle and its first records from a request's body. */
export function readNewVehicle(body: unknown, today: string): { vehicle: VehicleInput; first: FirstRecords } {
  const { charge_log, findings, readings, notes, ...rest } = shaped(newVehicleInput, body);
  const vehicle = vehicleOf(rest);
  const first = {
    charge_log: (charge_log ?? []).map(entryOf),
    findings: (findings ?? []).map(findingOf),
    readings: (readings ?? []).map(readingsOf),
    notes: notes ?? [],
  };
  refuse([
    ...odometerIssues(vehicle, today),
    ...contextIssues(first, { vehicle, today }),
    ...dateIssues(first.readings, { vehicle, today }),
  ]);
  return { vehicle, first };
}

/** A charge entry from a request's body. */
export function readChargeEntry(body: unknown, context: EntryContext): ChargeEntryInput {
  const entry = entryOf(shaped(chargeEntryInput, body));
  refuse(entryIssues(entry, context));
  return entry;
}

/** What is wrong with an entry of such a vehicle on such a day. */
export function entryIssues(entry: ChargeEntryInput, context: EntryContext): Issue[] {
  return withoutPath(contextIssues({ charge_log: [entry] }, context));
}

/** The result of a leak test from a request's body. */
export function readFinding(body: unknown, context: EntryContext): FindingInput {
  const finding = findingOf(shaped(findingInput, body));
  refuse(withoutPath(contextIssues({ findings: [finding] }, context)));
  return finding;
}

/** A set of readings from a request's body. */
export function readReadings(body: unknown, context: EntryContext): ReadingsInput {
  const readings = readingsOf(shaped(readingsInput, body));
  refuse(withoutPath(dateIssues([readings], context)));
  return readings;
}

/** A note from a request's body. */
export function readNote(body: unknown): Note {
  return shaped(noteInput, body);
}

/** Checks that involve the vehicle and the day, as for a request to the model. */
function contextIssues(
  { charge_log = [], findings = [] }: Pick<FirstRecords, "charge_log" | "findings">,
  { vehicle: { refrigerant, nameplate_g }, today }: EntryContext,
): Issue[] {
  const log = charge_log.map(modelledEntry);
  const found = findings.map(({ date, test, location, result }): Finding => ({ date, test, location, result }));
  const parsed = parseAssessRequest(
    { as_of: today, vehicle: { refrigerant, nameplate_g }, log, findings: found },
    today,
  );
  return parsed.ok
    ? []
    : parsed.issues.map(({ path, message }) => ({ path: path.replace(/^log\b/, "charge_log"), message }));
}

/** Readings are of the days that a log may be of. */
function dateIssues(readings: readonly ReadingsInput[], context: EntryContext): Issue[] {
  const issues = contextIssues({ charge_log: readings.map(({ date }) => ({ date })) }, context);
  return issues.map(({ path, message }) => ({ path: path.replace(/^charge_log\b/, "readings"), message }));
}

function withoutPath(issues: readonly Issue[]): Issue[] {
  return issues.map(({ path, message }) => ({ path: path.replace(/^\w+\.0\./, ""), message }));
}

/** The entry with every field there, null where nothing was said. */
export function entryOf(given: z.infer<typeof chargeEntryInput>): ChargeEntryInput {
  return {
    ...given,
    dye: given.dye ?? null,
    cooling_after: given.cooling_after ?? null,
    cans_opened: given.cans_opened ?? null,
    deposit: given.deposit ?? null,
    deposit_return_by: given.deposit_return_by ?? null,
    note: given.note ?? null,
  };
}

function readingsOf(given: z.infer<typeof readingsInput>): ReadingsInput {
  return { ...given, note: given.note ?? null };
}

function findingOf(given: z.infer<typeof findingInput>): FindingInput {
  return { ...given, note: given.note ?? null };
}

/** The vehicle with every field there, as it is stored. */
function vehicleOf(given: z.infer<typeof vehicleInput>): VehicleInput {
  return {
    label: given.label.trim(),
    refrigerant: given.refrigerant,
    nameplate_g: given.nameplate_g,
    system_volume_ml: given.system_volume_ml ?? NEW_VEHICLE.system_volume_ml,
    electric_compressor: given.electric_compressor ?? NEW_VEHICLE.electric_compressor,
    dye_in_own_oil: given.dye_in_own_oil ?? NEW_VEHICLE.dye_in_own_oil,
    kind: given.kind ?? NEW_VEHICLE.kind,
    climate: given.climate ?? NEW_VEHICLE.climate,
    monthly_mean_c: given.monthly_mean_c ?? NEW_VEHICLE.monthly_mean_c,
    fleet_group: given.fleet_group ?? NEW_VEHICLE.fleet_group,
    depot: given.depot ?? NEW_VEHICLE.depot,
    model_year: given.model_year ?? NEW_VEHICLE.model_year,
    odometer: given.odometer ?? NEW_VEHICLE.odometer,
    plan: given.plan ?? NEW_VEHICLE.plan,
    prices: given.prices ?? NEW_VEHICLE.prices,
    assumptions: given.assumptions ?? NEW_VEHICLE.assumptions,
  };
}

/** What came in, checked against `schema`. Throws Problem. */
export function shaped<T extends z.ZodType>(schema: T, body: unknown): z.infer<T> {
  const shape = checked(schema, body);
  if (!shape.ok) throw needsCorrecting(shape.issues);
  return shape.value;
}

function refuse(issues: readonly Issue[]): void {
  if (issues.length > 0) throw needsCorrecting(issues);
}

function needsCorrecting(issues: readonly Issue[]): Problem {
  return new Problem("invalid", "This needs correcting; each issue says where and how.", issues.slice(0, MAX_ISSUES));
}
