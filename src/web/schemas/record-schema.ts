import * as z from "zod";
import { CLIMATES } from "../../../data/climates.ts";
import { planParameters } from "../../../data/parameters.ts";
import { readingBounds } from "../../../data/readings-table.ts";
import { MOST_MINOR } from "../../core/quantities/money.ts";
import {
  CHANGES,
  DYE,
  MAX_LABEL_CHARS,
  MAX_NOTE_CHARS,
  MAX_REMARK_CHARS,
  recordBounds,
} from "../../core/question/record.ts";
import { keptText } from "../../store/text.ts";
import { assessSchema, quantity } from "./assess-schema.ts";
import { ambient_c, read_shape } from "./readings-schema.ts";

/**
 * The shapes of records, as they come in (`…Input`, where absent and null mean the same) and as they are stored and
 * told (every field there, null where nothing was said). What they share with a question to the model is taken from
 * there.
 */

const shape = assessSchema.shape;
const vehicle_shape = shape.vehicle.shape;
const entry_shape = listed(shape.log).shape;
const finding_shape = listed(shape.findings).shape;

/** The element type of an optional, nullable list. */
export function listed<T extends z.ZodType>(list: z.ZodOptional<z.ZodNullable<z.ZodArray<T>>>): T {
  return list.unwrap().unwrap().element;
}

/** The same field where it must be given and not null. */
export function required<T extends z.ZodType>(optional: z.ZodOptional<z.ZodNullable<T>>): T {
  return optional.unwrap().unwrap();
}

/** Whether a text is not empty and has at most so many characters; one too long to pass is not counted. */
function fitsIn(kept: string, max_chars: number): boolean {
  return kept !== "" && kept.length <= 2 * max_chars && [...kept].length <= max_chars;
}

/** Text of so many characters, counted as code points, like the tables do. */
export function text(max_chars: number) {
  const error = `Give a text of 1 to ${max_chars} characters.`;
  return z
    .string({ error })
    .refine((value) => fitsIn(keptText(value), max_chars), { error })
    .meta({ minLength: 1, maxLength: max_chars });
}

/** The same, or "". */
export function textOrNone(max_chars: number) {
  const error = `Give a text of at most ${max_chars} characters, or "".`;
  return z
    .string({ error })
    .refine((value) => value === "" || fitsIn(keptText(value), max_chars), { error })
    .meta({ maxLength: max_chars });
}

const INSTANT = "Give an instant in UTC, like 2026-05-01T12:00:00.000Z.";
/** Beyond it no figure of ours is true, and a sum of many could not be shown. */
const MOST_FIGURE = 1e12;
/** A figure that was worked out: money in its main unit, g, kg, years. */
export const figure = z.number().min(-MOST_FIGURE).max(MOST_FIGURE);
/** The same of what cannot be less than nothing. */
export const amount = z.number().min(0).max(MOST_FIGURE);
/** How long a vehicle is kept, as the model takes it. */
export const keepYears = z.number().min(planParameters.keep_years.min).max(planParameters.keep_years.max);
export const minorAmount = z.int().min(0).max(MOST_MINOR);

export const instant = z.iso.datetime({ error: INSTANT });
export const recordId = z.string().regex(/^[0-9A-Za-z_-]{1,64}$/, {
  error: "Give an id of 1 to 64 letters, digits, - or _.",
});
const COUNT = "Give a whole number from 1.";
export const version = z.int({ error: COUNT }).min(1, { error: COUNT });
export const actor = text(64);

export const currencyCode = z
  .string()
  .regex(/^[A-Z]{3}$/, { error: "Give a currency by its three letters, like USD." });
/** What they are in, where that is not the currency of the workspace. */
const own_prices = required(shape.prices).extend({ currency: currencyCode.nullish() });

const own_numbers = {
  plan: required(shape.plan),
  prices: own_prices,
  assumptions: required(shape.assumptions),
};
const monthly_mean_c = vehicle_shape.monthly_mean_c.unwrap();

/** What holds for a whole workspace as well as for a vehicle. */
export const general = { climate: text(64).nullable(), monthly_mean_c, ...own_numbers };

const label = text(MAX_LABEL_CHARS)
  .refine((value) => value.trim() !== "", { error: "Give the vehicle a name." })
  .meta({ minLength: 1, maxLength: MAX_LABEL_CHARS });

export const odometer = z.strictObject({
  km: quantity(recordBounds.odometer_km),
  on: entry_shape.date,
});
const MODEL_YEAR = `Give a year from ${recordBounds.model_year.min} to ${recordBounds.model_year.max}.`;
export const modelYear = z
  .int({ error: MODEL_YEAR })
  .min(recordBounds.model_year.min, { error: MODEL_YEAR })
  .max(recordBounds.model_year.max, { error: MODEL_YEAR });

const vehicle_input = {
  label,
  refrigerant: vehicle_shape.refrigerant,
  nameplate_g: vehicle_shape.nameplate_g,
  system_volume_ml: quantity(readingBounds.system_volume_ml).nullish(),
  electric_compressor: z.boolean().nullish(),
  dye_in_own_oil: z.boolean().nullish(),
  kind: vehicle_shape.kind,
  climate: z.enum(CLIMATES.map(({ id }) => id)).nullish(),
  monthly_mean_c: vehicle_shape.monthly_mean_c,
  fleet_group: text(MAX_LABEL_CHARS).nullish(),
  depot: text(MAX_LABEL_CHARS).nullish(),
  model_year: modelYear.nullish(),
  odometer: odometer.nullish().describe("The latest known reading, with its day."),
  plan: shape.plan,
  prices: own_prices.nullish(),
  assumptions: shape.assumptions,
};

const note = text(MAX_REMARK_CHARS);

const CANS = "Give a whole number of cans.";
const returned = {
  cans_opened: z
    .int({ error: CANS })
    .min(recordBounds.cans_opened.min, { error: CANS })
    .max(recordBounds.cans_opened.max, { error: CANS }),
  deposit: quantity(recordBounds.deposit),
  deposit_return_by: entry_shape.date,
};

export const chargeEntryInput = z.strictObject({
  ...entry_shape,
  dye: z.enum(DYE).nullish(),
  cooling_after: entry_shape.cooling,
  cans_opened: returned.cans_opened.nullish(),
  deposit: returned.deposit.nullish(),
  deposit_return_by: returned.deposit_return_by.nullish(),
  note: note.nullish(),
});
export const findingInput = anywhereIsClean(z.strictObject({ ...finding_shape, note: note.nullish() }));
export const readingsInput = z.strictObject({ date: entry_shape.date, ambient_c, ...read_shape, note: note.nullish() });
export const noteInput = z.strictObject({ body: text(MAX_NOTE_CHARS) });

/** What another program calls itself, and a thing of its own. */
const SOURCE_CHARS = 60;
export const EXTERNAL_ID_CHARS = 120;
const externalId = text(EXTERNAL_ID_CHARS);
const EITHER = "Say which vehicle by vehicle, its external id, or by vehicle_id, not by both.";

/** A vehicle of another program: what is absent stays as it is, null says nothing of it any more. */
export const sentVehicle = z.strictObject({
  external_id: externalId,
  id: recordId.nullish(),
  ...vehicle_input,
  label: label.optional(),
  refrigerant: vehicle_input.refrigerant.optional(),
  nameplate_g: vehicle_input.nameplate_g.optional(),
});

/** An event of another program, replaced as a whole. */
export const sentEvent = z
  .strictObject({
    external_id: externalId,
    vehicle: externalId.nullish(),
    vehicle_id: recordId.nullish(),
    ...chargeEntryInput.shape,
  })
  .refine(({ vehicle, vehicle_id }) => (vehicle == null) !== (vehicle_id == null), {
    path: ["vehicle"],
    error: EITHER,
  });

/** Items of one call, of both kinds together. */
export const MOST_ITEMS = 1000;
const ITEMS = `Give a list of at most ${MOST_ITEMS} items; vehicles and events count together.`;
const itemsOf = <Item extends z.ZodType>(item: Item) =>
  z.array(item, { error: ITEMS }).max(MOST_ITEMS, { error: ITEMS }).nullish();

/** What another program sends at once: as it is described, and with its items still to be read one by one. */
export const fleetUpsert = z.strictObject({
  source: text(SOURCE_CHARS),
  vehicles: itemsOf(sentVehicle),
  events: itemsOf(sentEvent),
});
export const fleetUpsertUnread = z.strictObject({
  source: text(SOURCE_CHARS),
  vehicles: itemsOf(z.unknown()),
  events: itemsOf(z.unknown()),
});

/** A vehicle, replaced as a whole. */
export const vehicleInput = z.strictObject(vehicle_input);

/** A new vehicle, with what is known about it already. */
export const newVehicleInput = z.strictObject({
  ...vehicle_input,
  charge_log: z.array(chargeEntryInput).max(200).nullish(),
  findings: z.array(findingInput).max(100).nullish(),
  readings: z.array(readingsInput).max(100).nullish(),
  notes: z.array(noteInput).max(100).nullish(),
});

export const vehicleStored = z.strictObject({
  id: recordId,
  label: text(MAX_LABEL_CHARS),
  refrigerant: vehicle_shape.refrigerant,
  nameplate_g: vehicle_shape.nameplate_g,
  system_volume_ml: amount.positive().nullable(),
  electric_compressor: z.boolean(),
  dye_in_own_oil: z.boolean().nullable(),
  kind: vehicle_shape.kind.unwrap(),
  ...general,
  fleet_group: text(MAX_LABEL_CHARS).nullable(),
  depot: text(MAX_LABEL_CHARS).nullable(),
  model_year: modelYear.nullable(),
  odometer: odometer.nullable(),
  example: z.boolean(),
  archived_at: instant.nullable(),
  version,
  created_at: instant,
  created_by: actor,
  updated_at: instant,
  updated_by: actor,
});

const head = {
  id: recordId,
  version,
  change: z.enum(CHANGES),
  vehicle_id: recordId,
  number: version,
  recorded_at: instant,
  recorded_by: actor,
};

export const chargeLine = z.strictObject({
  ...head,
  date: entry_shape.date,
  date_within_days: entry_shape.date_within_days.unwrap(),
  cooling: entry_shape.cooling.unwrap(),
  recovered_g: entry_shape.recovered_g.unwrap(),
  added_g: entry_shape.added_g.unwrap(),
  added_by: entry_shape.added_by.unwrap(),
  finish: entry_shape.finish.unwrap(),
  repair: entry_shape.repair.unwrap(),
  dye: z.enum(DYE).nullable(),
  cooling_after: entry_shape.cooling.unwrap(),
  cans_opened: returned.cans_opened.nullable(),
  deposit: returned.deposit.nullable(),
  deposit_return_by: returned.deposit_return_by.nullable(),
  note: note.nullable(),
});

export const findingLine = anywhereIsClean(z.strictObject({ ...head, ...finding_shape, note: note.nullable() }));

export const readingsLine = z.strictObject({
  ...head,
  date: entry_shape.date,
  ambient_c,
  humidity_percent: read_shape.humidity_percent.unwrap(),
  altitude_m: read_shape.altitude_m.unwrap(),
  static_kpa: read_shape.static_kpa.unwrap(),
  low_kpa: read_shape.low_kpa.unwrap(),
  high_kpa: read_shape.high_kpa.unwrap(),
  engine_rpm: read_shape.engine_rpm.unwrap(),
  vent_c: read_shape.vent_c.unwrap(),
  clutch: read_shape.clutch.unwrap(),
  fan: read_shape.fan.unwrap(),
  condenser: read_shape.condenser.unwrap(),
  more_air: read_shape.more_air.unwrap(),
  // Older documents lack these.
  suction_line_c: read_shape.suction_line_c.unwrap().default(null),
  liquid_line_c: read_shape.liquid_line_c.unwrap().default(null),
  equalizing_s: read_shape.equalizing_s.unwrap().default(null),
  sight_glass: read_shape.sight_glass.unwrap().default(null),
  metering: read_shape.metering.unwrap().default(null),
  compressor: read_shape.compressor.unwrap().default(null),
  note: note.nullable(),
});

export const noteLine = z.strictObject({ ...head, body: text(MAX_NOTE_CHARS) });

function anywhereIsClean<T extends z.ZodType<{ location: string; result: string }>>(schema: T): T {
  return schema.refine(({ location, result }) => location !== "anywhere" || result === "clean", {
    path: ["location"],
    error: '"anywhere" goes with "clean" only: say where the leak was seen.',
  });
}
