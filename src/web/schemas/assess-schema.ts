import * as z from "zod";
import {
  assumptionParameters,
  locationColumns,
  loggedParameters,
  planParameters,
  priceParameters,
  requestBounds,
} from "../../../data/parameters.ts";
import { isIsoDate } from "../../core/quantities/dates.ts";
import { pageNumber } from "../../core/quantities/number-text.ts";
import {
  ADDED_BY,
  CAN_SEALS,
  COOLING,
  FINISHES,
  GWP_SETS,
  LOCATION_IDS,
  OPTION_IDS,
  OTHER_TROUBLE,
  READINGS_SAY,
  REFRIGERANTS,
  SERVICES,
  TESTS,
  VEHICLE_KINDS,
} from "../../core/question/contract.ts";

interface Range {
  readonly min: number;
  readonly max: number;
  readonly unit: string;
}

/** A number as a message shows it: `20 000`, `0.25`. */
function plainNumber(value: number): string {
  return pageNumber(value, 6).replaceAll(",", " ");
}

export function rangeMessage({ min, max, unit }: Range): string {
  return `Enter a number from ${plainNumber(min)} to ${plainNumber(max)} (${unit}).`;
}

export function quantity(range: Range) {
  const error = rangeMessage(range);
  return z.number({ error }).min(range.min, { error }).max(range.max, { error });
}

/** One optional quantity for every row of a table of `data/parameters.ts`. */
function quantities<const T extends Readonly<Record<string, Range>>>(table: T) {
  type Shape = { [K in keyof T]: z.ZodOptional<z.ZodNullable<z.ZodNumber>> };
  return Object.fromEntries(Object.entries(table).map(([name, range]) => [name, quantity(range).nullish()])) as Shape;
}

export function oneOf<const T extends readonly string[]>(choices: T) {
  return z.enum(choices, { error: `Give one of ${choices.map((choice) => `"${choice}"`).join(", ")}.` });
}

export function fields<T extends z.core.$ZodLooseShape>(shape: T) {
  const known = Object.keys(shape).join(", ");
  return z.strictObject(shape, {
    error: ({ code }) =>
      code === "unrecognized_keys"
        ? `There is no such field. The fields here are: ${known}.`
        : `Give an object with the fields ${known}.`,
  });
}

function list<T extends z.core.SomeType>(entry: T, max_entries: number) {
  const error = `Give a list of at most ${max_entries} entries.`;
  return z.array(entry, { error }).max(max_entries, { error });
}

const WHEN = "Give a date that exists, as YYYY-MM-DD, like 2026-05-01.";
const date = z.string({ error: WHEN }).refine(isIsoDate, { error: WHEN }).meta({ format: "date" });
const { as_of, nameplate_g, leak_prior, monthly_mean_c, log, findings } = requestBounds;
const nameplate = { ...nameplate_g, unit: "g" };
/** A wide limit; the limit of three nameplate charges needs the rest of the request: `assess-request.ts`. */
const amount = quantity({ min: 0, max: log.amount_nameplates * nameplate_g.max, unit: "g" });

const vehicle = fields({
  refrigerant: oneOf(REFRIGERANTS),
  nameplate_g: quantity(nameplate),
  kind: oneOf(VEHICLE_KINDS).nullish(),
  leak_prior: fields({
    ln_x_mean: quantity({ ...leak_prior.ln_x_mean, unit: "ln of the share of the charge a year" }),
    ln_x_sd: quantity({ ...leak_prior.ln_x_sd, unit: "of that logarithm" }),
  }).nullish(),
  monthly_mean_c: z
    .array(quantity({ ...monthly_mean_c, unit: "°C" }), { error: "Give twelve temperatures, January first." })
    .length(12, { error: "Give twelve temperatures, January first." })
    .nullish(),
});

const DAYS = `Give a whole number of days from 1 to ${log.most_within_days}.`;
const date_within_days = z.int({ error: DAYS }).min(1, { error: DAYS }).max(log.most_within_days, { error: DAYS });

const logEntry = fields({
  date,
  date_within_days: date_within_days.nullish(),
  cooling: oneOf(COOLING).nullish(),
  recovered_g: amount.nullish(),
  added_g: amount.nullish(),
  added_by: oneOf(ADDED_BY).nullish(),
  finish: oneOf(FINISHES).nullish(),
  repair: oneOf(LOCATION_IDS).nullish(),
});

const finding = fields({
  date,
  test: oneOf(TESTS),
  location: oneOf([...LOCATION_IDS, "anywhere"]),
  result: oneOf(["leak", "clean"]),
});

const plan = fields({
  ...quantities(planParameters),
  service: oneOf(SERVICES).nullish(),
  other_trouble: oneOf(OTHER_TROUBLE).nullish(),
  gwp: oneOf(GWP_SETS).nullish(),
  tools_owned: z.boolean({ error: "Give true or false." }).nullish(),
  barred: list(oneOf(OPTION_IDS), OPTION_IDS.length).nullish(),
  readings: oneOf(READINGS_SAY).nullish(),
});

const locationPrices = fields(quantities(locationColumns)).nullish();

const prices = fields({
  ...quantities(priceParameters),
  can_seal: oneOf(CAN_SEALS).nullish(),
  locations: fields(
    Object.fromEntries(LOCATION_IDS.map((id) => [id, locationPrices])) as Record<
      (typeof LOCATION_IDS)[number],
      typeof locationPrices
    >,
  ).nullish(),
});

/** The shape and the ranges of a request that hold whatever else it says. */
export const assessSchema = fields({
  as_of: date
    .refine((day) => day >= as_of.min && day <= as_of.max, { error: `Give a date from ${as_of.min} to ${as_of.max}.` })
    .nullish(),
  vehicle,
  log: list(logEntry, log.max_entries).nullish(),
  findings: list(finding, findings.max_entries).nullish(),
  logged: fields({ from: date.nullish(), until: date, ...quantities(loggedParameters) }).nullish(),
  plan: plan.nullish(),
  prices: prices.nullish(),
  assumptions: fields(quantities(assumptionParameters)).nullish(),
});
