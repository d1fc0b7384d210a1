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
import { type Range, rangeMessage } from "./sentences.ts";

/** A number within `range`. */
export function quantity(range: Range) {
  const error = rangeMessage(range);
  return z.number({ error }).min(range.min, { error }).max(range.max, { error });
}

/** One optional quantity for every row of a table of `data/parameters.ts`. */
function quantities<const T extends Readonly<Record<string, Range>>>(table: T) {
  type Shape = { [K in keyof T]: z.ZodOptional<z.ZodNullable<z.ZodNumber>> };
  return Object.fromEntries(Object.entries(table).map(([name, range]) => [name, quantity(range).nullish()])) as Shape;
}

function list<T extends z.core.SomeType>(entry: T, max_entries: number) {
  return z.array(entry).max(max_entries);
}

const WHEN = "Give a date that exists, as YYYY-MM-DD, like 2026-05-01.";
const date = z.string({ error: WHEN }).refine(isIsoDate, { error: WHEN }).meta({ format: "date" });
const { as_of, nameplate_g, leak_prior, monthly_mean_c, log, findings } = requestBounds;
const nameplate = { ...nameplate_g, unit: "g" };
/** A wide limit; the limit of three nameplate charges needs the rest of the request: `assess-request.ts`. */
const amount = quantity({ min: 0, max: log.amount_nameplates * nameplate_g.max, unit: "g" });

const vehicle = z.strictObject({
  refrigerant: z.enum(REFRIGERANTS),
  nameplate_g: quantity(nameplate),
  kind: z.enum(VEHICLE_KINDS).nullish(),
  leak_prior: z
    .strictObject({
      ln_x_mean: quantity({ ...leak_prior.ln_x_mean, unit: "ln of the share of the charge a year" }),
      ln_x_sd: quantity({ ...leak_prior.ln_x_sd, unit: "of that logarithm" }),
    })
    .nullish(),
  monthly_mean_c: z
    .array(quantity({ ...monthly_mean_c, unit: "°C" }), { error: "Give twelve temperatures, January first." })
    .length(12, { error: "Give twelve temperatures, January first." })
    .nullish(),
});

const DAYS = `Give a whole number of days from 1 to ${log.most_within_days}.`;
const date_within_days = z.int({ error: DAYS }).min(1, { error: DAYS }).max(log.most_within_days, { error: DAYS });

const logEntry = z.strictObject({
  date,
  date_within_days: date_within_days.nullish(),
  cooling: z.enum(COOLING).nullish(),
  recovered_g: amount.nullish(),
  added_g: amount.nullish(),
  added_by: z.enum(ADDED_BY).nullish(),
  finish: z.enum(FINISHES).nullish(),
  repair: z.enum(LOCATION_IDS).nullish(),
});

const finding = z.strictObject({
  date,
  test: z.enum(TESTS),
  location: z.enum([...LOCATION_IDS, "anywhere"]),
  result: z.enum(["leak", "clean"]),
});

const plan = z.strictObject({
  ...quantities(planParameters),
  service: z.enum(SERVICES).nullish(),
  other_trouble: z.enum(OTHER_TROUBLE).nullish(),
  gwp: z.enum(GWP_SETS).nullish(),
  tools_owned: z.boolean().nullish(),
  barred: list(z.enum(OPTION_IDS), OPTION_IDS.length).nullish(),
  readings: z.enum(READINGS_SAY).nullish(),
});

const locationPrices = z.strictObject(quantities(locationColumns)).nullish();

const prices = z.strictObject({
  ...quantities(priceParameters),
  can_seal: z.enum(CAN_SEALS).nullish(),
  locations: z
    .strictObject(
      Object.fromEntries(LOCATION_IDS.map((id) => [id, locationPrices])) as Record<
        (typeof LOCATION_IDS)[number],
        typeof locationPrices
      >,
    )
    .nullish(),
});

/** The shape and the ranges of a request that hold whatever else it says. */
export const assessSchema = z.strictObject({
  as_of: date
    .refine((day) => day >= as_of.min && day <= as_of.max, { error: `Give a date from ${as_of.min} to ${as_of.max}.` })
    .nullish(),
  vehicle,
  log: list(logEntry, log.max_entries).nullish(),
  findings: list(finding, findings.max_entries).nullish(),
  logged: z.strictObject({ from: date.nullish(), until: date, ...quantities(loggedParameters) }).nullish(),
  plan: plan.nullish(),
  prices: prices.nullish(),
  assumptions: z.strictObject(quantities(assumptionParameters)).nullish(),
});
