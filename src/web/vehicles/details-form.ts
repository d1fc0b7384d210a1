import { CLIMATES } from "../../../data/climates.ts";
import { requestBounds } from "../../../data/parameters.ts";
import { readingBounds } from "../../../data/readings-table.ts";
import { CHOICES, type DetailsFields, NUMBERS } from "../../../views/vehicles/details-fields.ts";
import { distanceUnitIn, parseDistance, saidDistance, typedDistance } from "../../core/quantities/distance.ts";
import type { DateOrder } from "../../core/quantities/parse-when.ts";
import { typedMass } from "../../core/quantities/typed-mass.ts";
import type { UnitSystem } from "../../core/quantities/units.ts";
import { LOCATION_IDS, type PlanInput, REFRIGERANTS, VEHICLE_KINDS } from "../../core/question/contract.ts";
import type { Question } from "../../core/question/question.ts";
import { MAX_LABEL_CHARS, type Odometer, recordBounds, type VehicleInput } from "../../core/question/record.ts";
import type { AssessedRecord } from "../../store/vehicle-record.ts";
import { moneyIn, termsOf } from "../../store/vehicle-record.ts";
import { vehicleInputOf } from "../../store/vehicles.ts";
import { type Read, Refusals, readDay, readWords } from "../forms/form-reading.ts";
import { put, valueAt } from "../forms/paths.ts";
import { typedFields } from "../forms/posted-form.ts";
import { isEmpty, NAMEPLATE_NEEDED, oneOf, readMoney, readNameplate, readNumber } from "../forms/typed-values.ts";
import { parseAssessRequest } from "../schemas/assess-request.ts";
import { vehicleRequest } from "../vehicle-answer.ts";

const FIELDS = [
  "label",
  "refrigerant",
  "nameplate",
  "climate",
  "system_volume",
  "fleet_group",
  "depot",
  "model_year",
  "odometer",
  "odometer_on",
  "electric_compressor",
  "dye_in_own_oil",
  "kind",
  ...NUMBERS.map(({ name }) => name),
  ...CHOICES.map(({ name }) => name),
];

/** The posted fields as typed. */
export function detailsFieldsOf(form: URLSearchParams): DetailsFields {
  return typedFields(form, FIELDS);
}

/** A stored vehicle as form fields; defaults are empty. */
export function typedDetails(vehicle: VehicleInput, units: UnitSystem): DetailsFields {
  return {
    label: vehicle.label,
    refrigerant: vehicle.refrigerant,
    nameplate: typedMass(vehicle.nameplate_g, units),
    climate: vehicle.climate ?? "",
    system_volume: vehicle.system_volume_ml === null ? "" : String(vehicle.system_volume_ml),
    fleet_group: vehicle.fleet_group ?? "",
    depot: vehicle.depot ?? "",
    model_year: typed(vehicle.model_year),
    odometer: vehicle.odometer === null ? "" : typedDistance(vehicle.odometer.km, units),
    odometer_on: vehicle.odometer?.on ?? "",
    electric_compressor: vehicle.electric_compressor ? "yes" : "",
    dye_in_own_oil: typed(vehicle.dye_in_own_oil),
    kind: vehicle.kind ?? "",
    ...Object.fromEntries([...NUMBERS, ...CHOICES].map(({ name }) => [name, typed(valueAt(vehicle, name.split(".")))])),
  };
}

/** The defaults behind empty fields. */
export function usualDetails(usual: Question, usual_plan: PlanInput): DetailsFields {
  const { plan, prices, assumptions } = usual;
  const places = LOCATION_IDS.map((id, l): [string, { price: number }] => [id, { price: prices.price[l]! }]);
  const all = {
    plan: { ...plan, other_trouble: usual_plan.other_trouble ?? "none" },
    prices: { ...prices, locations: Object.fromEntries(places) },
    assumptions,
  };
  return Object.fromEntries(
    [...NUMBERS, ...CHOICES].map(({ name }) => [name, typed(valueAt(all, name.split("."))) || "none"]),
  );
}

/** The context for parsing the details. */
export interface DetailsContext {
  units: UnitSystem;
  today: string;
  date_order: DateOrder | null;
  /** All that is recorded of the vehicle; of a new one, an empty record. */
  record: AssessedRecord;
}

/** Reads the details. What the form does not ask for stays as it is recorded. */
export function readDetails(fields: DetailsFields, context: DetailsContext): Read<VehicleInput> {
  const { units, today, record } = context;
  const refusals = new Refusals();
  const { refuse } = refusals;
  const said = (name: string) => fields[name] ?? "";
  const words = (name: string) => {
    const read = readWords(said(name), MAX_LABEL_CHARS);
    return "message" in read ? refuse(name, read.message) : read.words;
  };
  const label = words("label");
  if (label === null) refuse("label", "Give it a name, like the blue van");
  const refrigerant = oneOf(REFRIGERANTS, said("refrigerant")) ?? refuse("refrigerant", REFRIGERANT);
  const nameplate_g = readNameplate(said("nameplate"), units) ?? refuse("nameplate", NAMEPLATE_NEEDED);
  const climate = CLIMATES.find(({ id }) => id === said("climate"))?.id ?? null;
  if (climate === null && said("climate") !== "") refuse("climate", "Choose the climate, or leave it not known");
  const system_volume_ml = isEmpty(said("system_volume"))
    ? null
    : (readVolume(said("system_volume")) ?? refuse("system_volume", VOLUME));

  if (!["", "yes", "no"].includes(said("dye_in_own_oil"))) refuse("dye_in_own_oil", "Choose yes or no, or not sure");
  if (said("kind") !== "" && oneOf(VEHICLE_KINDS, said("kind")) === undefined)
    refuse("kind", "Choose what it is, or leave it not said");

  const { plan, prices, assumptions } = readOwnNumbers(fields, record, refusals);
  const input = {
    ...record.vehicle,
    label: label ?? "",
    // Unreadable fields get placeholders, so that all other errors are reported at once.
    refrigerant: refrigerant ?? "R-134a",
    nameplate_g: nameplate_g ?? requestBounds.nameplate_g.max,
    system_volume_ml: system_volume_ml ?? null,
    electric_compressor: said("electric_compressor") !== "",
    dye_in_own_oil: said("dye_in_own_oil") === "" ? null : said("dye_in_own_oil") === "yes",
    kind: oneOf(VEHICLE_KINDS, said("kind")) ?? null,
    climate,
    fleet_group: words("fleet_group") ?? null,
    depot: words("depot") ?? null,
    model_year: readModelYear(said("model_year"), today, refusals),
    odometer: readOdometer(fields, context, refusals),
    plan,
    prices,
    assumptions,
  };
  refuseRanges({ ...record, vehicle: input }, today, refusals);
  const errors = refusals.inOrder(FIELDS);
  return errors.length > 0 ? { ok: false, errors } : { ok: true, input: vehicleInputOf(input) };
}

const REFRIGERANT = "Choose the refrigerant; it is on a label under the hood";
const VOLUME = "Enter the volume in mL, like 1700, or leave it empty";
const NUMBER = "Enter a number, or leave it empty";

function readVolume(typed: string): number | undefined {
  const volume_ml = readMoney(typed);
  const { min, max } = readingBounds.system_volume_ml;
  return volume_ml !== undefined && volume_ml >= min && volume_ml <= max ? volume_ml : undefined;
}

/** A model year: the makers begin the next one up to a year before it. */
function readModelYear(typed: string, today: string, { refuse }: Refusals): number | null {
  if (isEmpty(typed)) return null;
  const { min } = recordBounds.model_year;
  const most = Number(today.slice(0, 4)) + 1;
  const year = readNumber(typed);
  if (year !== undefined && Number.isInteger(year) && year >= min && year <= most) return year;
  return refuse("model_year", `Enter the model year, ${min} to ${most}, or leave it empty`) ?? null;
}

/** The reading with its day; today where none is said beside a new one. */
function readOdometer(fields: DetailsFields, context: DetailsContext, { refuse }: Refusals): Odometer | null {
  const { units, today, record } = context;
  const [figures, day] = [fields.odometer ?? "", fields.odometer_on ?? ""];
  if (isEmpty(figures)) {
    if (!isEmpty(day)) refuse("odometer", "Enter the reading of that day, or leave both empty");
    return null;
  }
  const read = parseDistance(figures, distanceUnitIn(units));
  const { max } = recordBounds.odometer_km;
  if (!read.ok) refuse("odometer", read.message);
  else if (read.km > max) refuse("odometer", `Enter at most ${saidDistance(max, units)}`);
  const on = isEmpty(day) ? { iso: today } : readDay(day, context);
  if ("message" in on) refuse("odometer_on", on.message);
  if (!read.ok || "message" in on) return null;
  const before = record.vehicle.odometer;
  // As it stood in the form: nobody has changed it.
  const same = before !== null && figures === typedDistance(before.km, units);
  return same ? { km: before.km, on: isEmpty(day) ? before.on : on.iso } : { km: read.km, on: on.iso };
}

type OwnNumbers = Pick<VehicleInput, "plan" | "prices" | "assumptions">;

function readOwnNumbers(fields: DetailsFields, record: AssessedRecord, { refuse }: Refusals): OwnNumbers {
  const { vehicle, workspace } = record;
  const { currency } = termsOf(record);
  const { assumptions } = structuredClone(vehicle);
  const { plan, prices } = structuredClone(moneyIn(vehicle, workspace.currency, currency));
  const own: OwnNumbers = { plan, prices, assumptions };
  for (const { name } of NUMBERS) {
    const typed = fields[name] ?? "";
    put(own, name.split("."), isEmpty(typed) ? undefined : (readMoney(typed, currency) ?? refuse(name, NUMBER)));
  }
  for (const { name, choices } of CHOICES) {
    const typed = fields[name] ?? "";
    if (typed !== "" && !choices.some(({ value }) => value === typed)) refuse(name, "Choose one, or as usual");
    put(own, name.split("."), typed === "" ? undefined : name === TOOLS ? typed === "yes" : typed);
  }
  // These prices were just reviewed in this currency.
  const of_money = currency === workspace.currency ? {} : { currency };
  return { ...own, prices: { ...own.prices, ...of_money } };
}

const TOOLS = "plan.tools_owned";

/** The request's own check, with issues at the fields of the form. */
function refuseRanges(record: AssessedRecord, today: string, { refuse }: Refusals): void {
  const parsed = parseAssessRequest(vehicleRequest(record, today), today);
  if (parsed.ok) return;
  for (const { path, message } of parsed.issues) {
    if (path.startsWith("log.")) refuse("nameplate", "The log has an entry of more than three of these charges");
    else if (FIELDS.includes(path)) refuse(path, message);
  }
}

function typed(value: unknown): string {
  if (value === true) return "yes";
  if (value === false) return "no";
  return value == null ? "" : String(value);
}
