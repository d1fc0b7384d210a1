import * as z from "zod";
import { type AssessAnswer, LOCATION_IDS, OPTION_IDS, READINGS_SAY } from "../../core/question/contract.ts";
import { FEATURE_IDS, FINDING_IDS } from "../../core/readings/readings-contract.ts";
import {
  chargeLine,
  currencyCode,
  findingLine,
  noteLine,
  readingsLine,
  recordId,
  vehicleStored,
} from "../schemas/record-schema.ts";

/**
 * The shapes of the API's answers, for its description. The types of the core say the same; a description here is the
 * comment of the field there, word for word.
 */

const day = z.string().meta({ format: "date" });
/** From 0 to 1, but for rounding: a sum of many can end a few units in the last place beyond. */
const share = z.number();
const money = z.number();
const grams = z.number();
const location = z.enum(LOCATION_IDS);
const option = z.enum(OPTION_IDS);

const from = z.number().describe("Lower end of the likely range: 9 of 10 cases lie between `p05` and `p95`.");
const to = z.number().describe("Upper end of the likely range.");
const median = z.number().describe("The best estimate: more and less are equally likely.");
const spread = z.strictObject({
  mean: z.number(),
  median,
  p05: from,
  p25: z.number(),
  p75: z.number(),
  p95: to,
});
const band = z.strictObject({
  mean: z.number().describe("The best estimate: the average over all that it may be."),
  p05: from,
  p95: to,
});

const leak = z.strictObject({
  g_per_year: spread,
  fraction_per_year: spread.describe("Leak rate as a share of the nameplate charge a year."),
  growth_per_year: band,
  charge_now_g: band,
  low_below_g: grams.describe("Charge below which it cools poorly, grams: posterior mean."),
  full_charge_lasts_months: z.strictObject({ median, p05: from, p95: to }),
  class: z
    .strictObject({ fast: share, moderate: share, slow: share, seep: share })
    .describe("Chance of each class of leak, 0–1; they add up to 1."),
  repair_held: share.nullable().describe("Chance that the last repair held, 0–1; null without a repair."),
  repair_sure_date: day.nullable(),
  learned: z
    .array(z.number())
    .describe("For each log entry in date order, by how much it narrowed the standard deviation of ln(leak rate)."),
  regulation: z.strictObject({ annualizing_percent: z.number().nullable(), rolling_percent: z.number().nullable() }),
});

const forecast = z.strictObject({
  next_low: z
    .strictObject({ p10: day.nullable(), p50: day.nullable(), p90: day.nullable() })
    .describe(
      "Dates by which it is low with a chance of 10, 50 (the best estimate) and 90 %; null: not within 20 years. All three are today where it was seen to be low.",
    ),
  curve: z.array(z.strictObject({ date: day, mean_g: grams, p05_g: grams, p95_g: grams })),
});

const optionAnswer = z.strictObject({
  id: option,
  offered: z.boolean(),
  not_offered_because: z.enum(["rule", "empty", "floor", "done"]).nullable(),
  expected_cost: money,
  cost_p05: money,
  cost_p95: money,
  cost_by_year: z.array(money),
  release_g: grams,
  co2e_kg: z.number(),
  release_by_year_g: z.array(grams),
  expected_cost_with_carbon: money,
  probability_cheapest: share,
  leads_to_repair: share.nullable().describe("Of a test: chance that a repair follows, 0–1. Null for other options."),
  switch_months: z
    .number()
    .nullable()
    .describe("Of topping off: repair once a charge lasts fewer months than this; 0: never. Null for other options."),
  watch_date: day.nullable().describe("Of topping off: if it is low before this day, repair. Null for other options."),
});

const nothing = z.strictObject({});
const reason = z.discriminatedUnion("code", [
  z.strictObject({ code: z.literal("readings"), values: nothing }),
  z.strictObject({
    code: z.literal("surprise"),
    values: z
      .strictObject({ probability: share, days: z.number() })
      .describe("Chance that the log gave the low look, and days from the fill before to it."),
  }),
  z.strictObject({ code: z.literal("empty"), values: nothing }),
  z.strictObject({
    code: z.literal("floor"),
    values: z.strictObject({ floor_months: z.number(), probability: share }),
  }),
  z.strictObject({
    code: z.literal("tie-break"),
    values: z.strictObject({ dearer_by: money, release_saved_g: grams }),
  }),
  z.strictObject({ code: z.literal("cost"), values: z.strictObject({ next: option, cheaper_by: money }) }),
  z.strictObject({ code: z.literal("rule"), values: z.strictObject({ option }) }),
]);

const chosen = z.enum([...OPTION_IDS, "check-first"]).nullable();
const side = z.strictObject({ value: z.number(), verdict: chosen, gap: money });

/** The answer to a question to the model. */
export const assessAnswer = z.strictObject({
  as_of: day,
  leak,
  forecast,
  locations: z.array(z.strictObject({ id: location, probability: share })),
  options: z.array(optionAnswer),
  first_step: z
    .strictObject({
      id: z.literal("cores-and-caps"),
      location: z.literal("service-port"),
      probability: share.describe("Chance that the leak is there, 0–1."),
      ends_leak: share.describe("Chance that this step ends the leak, 0–1."),
      price: money.describe("Parts and labor, money, without refrigerant."),
      saves: money.describe(
        "What doing it first saves on average, money with carbon; negative where it costs more than it saves.",
      ),
    })
    .nullable()
    .describe("A cheap step to take first; null where none is worth naming."),
  verdict: z.strictObject({
    option: chosen,
    guard: z.enum(["readings", "surprise", "empty", "floor"]).nullable(),
    tie_break: z.boolean(),
    reasons: z.array(reason),
  }),
  value_of: z.strictObject({
    perfect_leak_rate: money.nullable(),
    perfect_location: money.nullable(),
    dye_test_net: money.nullable(),
    electronic_test_net: money.nullable(),
    look_over: money.nullable(),
  }),
  break_even: z.strictObject({
    leak_g_per_year: grams.nullable(),
    repair_price_factor: z.number().nullable(),
    carbon_price_per_t: money.nullable(),
    season_worth: money.nullable(),
  }),
  sensitivity: z.array(z.strictObject({ assumption: z.string(), low: side, high: side })),
}) satisfies z.ZodType<AssessAnswer>;

/** The answer about a vehicle of the records, and whose prices it was worked out with. */
export const vehicleAssessment = assessAnswer.extend({
  prices_used: z.strictObject({
    currency: currencyCode,
    /** The workspace's price book; null: the general prices. */
    book: z.strictObject({ id: recordId, name: z.string(), changed_on: day }).nullable(),
    /** The workspace's own currency, where it has no prices in it; else null. */
    wanted: currencyCode.nullable(),
    /** The currency of the vehicle's own prices, where that keeps them out; else null. */
    left_out: currencyCode.nullable(),
  }),
});

const range = z.strictObject({ from: z.number(), to: z.number() });
const evidence = z.array(z.strictObject({ feature: z.enum(FEATURE_IDS), band: z.string(), weight: z.number() }));

/** What readings mean; or, without an air temperature, the question for it. */
export const readingsAnswer = z.discriminatedUnion("kind", [
  z.strictObject({
    kind: z.literal("judgement"),
    first: z.enum([...FINDING_IDS, "undecided"]),
    findings: z.array(
      z.strictObject({
        id: z.enum(FINDING_IDS),
        probability: share,
        speaks_for: evidence,
        speaks_against: evidence,
      }),
    ),
    says: z.enum(READINGS_SAY),
    derived: z.strictObject({
      evaporating_c: z.number().nullable(),
      condensing_c: z.number().nullable(),
      condensing_over_ambient_k: z.number().nullable(),
      vent_minus_evaporating_k: z.number().nullable(),
      vent_under_ambient_k: z.number().nullable(),
      superheat_k: z.number().nullable(),
      subcooling_k: z.number().nullable(),
    }),
    expected: z.strictObject({
      evaporating_c: range,
      condensing_c: range,
      evaporating_lower_end_c: z.number(),
      condensing_lower_end_c: z.number(),
      low_kpa: range,
      high_kpa: range,
      vent_below_c: z.number(),
    }),
    static: z
      .strictObject({
        state: z.enum(["no-liquid", "liquid", "above"]),
        saturation_kpa: z.number(),
        ratio: z.number(),
        grams: z.strictObject({ likely: grams, from: grams, to: grams }).nullable(),
        saturated_at_c: z.number().nullable(),
      })
      .nullable(),
    low_signs: z.int(),
    next: z.array(
      z.strictObject({
        reading: z.string(),
        bits: z.number(),
        tells_apart: z.tuple([z.enum(FINDING_IDS), z.enum(FINDING_IDS)]),
      }),
    ),
    problems: z.array(
      z.strictObject({ code: z.string(), values: z.record(z.string(), z.union([z.number(), z.string()])) }),
    ),
  }),
  z.strictObject({
    kind: z.literal("question"),
    asks: z.literal("ambient_c"),
    because: z.enum(["missing", "out-of-range"]),
  }),
]);

/** How the API says that something cannot be done. */
export const apiError = z.strictObject({
  error: z.strictObject({
    message: z.string().describe("What to do, for a person."),
    issues: z.array(
      z.strictObject({
        path: z.string().describe('Where it stands, like "log.2.added_g"; "" is the whole.'),
        message: z.string(),
      }),
    ),
  }),
});

/** A page of a list; `next` asks for the page after it, as the parameter `after`, and is null on the last. */
function pageOf<T extends z.ZodType>(item: T) {
  return z.strictObject({ items: z.array(item), next: z.string().nullable() });
}

export const vehiclePage = pageOf(vehicleStored);
export const chargePage = pageOf(chargeLine);
export const findingPage = pageOf(findingLine);
export const readingsPage = pageOf(readingsLine);
export const notePage = pageOf(noteLine);
