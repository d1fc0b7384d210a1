import * as z from "zod";
import type { TrackRecord } from "../../core/hindsight/track-record.ts";
import { OPTION_IDS, REFRIGERANTS } from "../../core/question/contract.ts";
import type { ToldVehicle } from "../../store/fleet-told.ts";
import type { Page } from "../../store/page.ts";
import { UPSERT_OUTCOMES, type UpsertAnswer } from "../../store/upsert-shapes.ts";
import { currencyCode, instant, modelYear, odometer, recordId } from "../schemas/record-schema.ts";

/** What the API answers about a fleet, for its description. */

const day = z.string().meta({ format: "date" });
const month = z.string().regex(/^\d{4}-\d{2}$/);
const recommendation = z.enum([...OPTION_IDS, "check-first"]).nullable();

const result = z.strictObject({
  external_id: z.string(),
  outcome: z.enum(UPSERT_OUTCOMES),
  id: recordId.nullable().describe("Of the vehicle or the log entry here; null where it was refused."),
  issues: z
    .array(z.strictObject({ path: z.string().describe("The field of the item."), message: z.string() }))
    .describe("Why it was refused, and what would be right."),
});

export const fleetUpsertAnswer = z
  .strictObject({ vehicles: z.array(result), events: z.array(result) })
  .describe("In the order sent.") satisfies z.ZodType<UpsertAnswer>;

const grams = z.number();
const money = z.number();

const answer = z.strictObject({
  as_of: day,
  currency: currencyCode,
  verdict: recommendation,
  watch_month: month.nullable().describe("Topped off, and it holds for now: low again before it means repair."),
  changed_at: instant.nullable().describe("When recommendation or month became what they are."),
  next_low: day.nullable().describe("The best estimate; null: not within 20 years."),
  low_now: z.boolean(),
  no_entries: z.boolean().describe("Nothing is in its log."),
  leak_g_per_year: grams,
  leak_share: z.number().describe("Of the nameplate charge, a year."),
  charge_share: z.number().describe("Of the nameplate charge, now."),
  sure: z.number().nullable().describe("Chance that this turns out cheapest; null where that says nothing."),
  cost_as_is: money.describe("A year, topping off for ever."),
  cost_best: money.describe("A year, with what is recommended."),
  release_as_is_g: grams,
  release_best_g: grams,
  co2e_as_is_kg: z.number(),
  co2e_best_kg: z.number(),
  own_share: z.number().describe("Of the estimate, what the vehicle's own log says; the rest is its group's."),
});

export const fleetAnswerPage = z.strictObject({
  items: z.array(
    z.strictObject({
      id: recordId,
      label: z.string(),
      refrigerant: z.enum(REFRIGERANTS),
      nameplate_g: grams,
      fleet_group: z.string().nullable(),
      depot: z.string().nullable(),
      model_year: modelYear.nullable(),
      odometer: odometer.nullable(),
      external_ids: z.array(z.strictObject({ source: z.string(), external_id: z.string() })),
      answer: answer.nullable().describe("Null until it is worked out."),
    }),
  ),
  next: z.string().nullable(),
}) satisfies z.ZodType<Page<ToldVehicle>>;

const count = z.int();
const share = z.number();
const off = z.strictObject({
  charges: count,
  mean: z.number().describe("Months off on average."),
  median: z.number(),
  later: z.number().describe("Months later than said on average."),
});

const trackRecord = z.strictObject({
  charges: count.describe("Predicted again."),
  came: count.describe("Known to have been low again."),
  charged: count.describe("Of those, charged with nothing said of how it cooled."),
  open: count.describe("Not low again to this day."),
  overdue: count.describe("Of those, past the late end of the likely range."),
  otherwise: count.describe("Charged while not low, or repaired, before it was low again."),
  known: count.describe("Known to be inside the likely range or not."),
  inside: z
    .strictObject({ share, low: share, high: share })
    .nullable()
    .describe("The share inside the likely range, with its 95 % interval."),
  early: share.nullable(),
  late: share.nullable(),
  off: off.nullable(),
  compared: z
    .strictObject({
      charges: count,
      model: off,
      rule: off,
      model_nearer: count,
      rule_nearer: count,
      better: z.enum(["model", "rule", "open", "few"]).describe("open: the difference may be chance."),
    })
    .nullable()
    .describe("The same charges as said by the rule “as long as last time”."),
}) satisfies z.ZodType<TrackRecord>;

export const fleetPredictions = z.strictObject({
  as_of: day.nullable().describe("Null before they were first worked out."),
  under_way: z.boolean(),
  model_version: z.string(),
  fleet: trackRecord,
  groups: z.array(z.strictObject({ fleet_group: z.string().nullable(), record: trackRecord })),
});
export type FleetPredictions = z.infer<typeof fleetPredictions>;

const before = { before: recommendation, now: recommendation };

/** The part of a webhook's message that tells of changed answers. */
export const fleetNews = z.strictObject({
  as_of: day,
  first: z.int().describe("Vehicles that had no answer before; they are not listed."),
  changed: z.int().describe("Vehicles whose recommendation or watch month changed."),
  changes: z
    .array(
      z.strictObject({
        vehicle_id: recordId,
        recommendation: z.strictObject(before),
        watch_month: z.strictObject({ before: month.nullable(), now: month.nullable() }),
      }),
    )
    .describe("At most 200 of those. All are at /api/fleet/answers with this message's `at` as changed_since."),
});
