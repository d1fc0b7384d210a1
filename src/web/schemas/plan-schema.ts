import * as z from "zod";
import { BUDGET_AIMS } from "../../core/fleet/budget.ts";
import { ORDER_OPTIONS } from "../../core/fleet/order.ts";
import { planBounds } from "../../core/fleet/year-plan.ts";
import { GWP_SETS, REFRIGERANTS } from "../../core/question/contract.ts";
import { MAX_LABEL_CHARS } from "../../core/question/record.ts";
import { actor, amount, currencyCode, figure, instant, recordId, text, version } from "./record-schema.ts";

export const planYear = z.int().min(2000).max(2200);
const money = z.number().min(0).max(planBounds.money);
const a_month = z.number().positive().max(planBounds.a_month);
const hours = z.number().positive().max(planBounds.hours);
const depot = text(MAX_LABEL_CHARS);

/** The plan of a year, as it is stored and exported. */
export const planStored = z.strictObject({
  year: planYear,
  terms: z.strictObject({
    budget: money,
    aim: z.enum(BUDGET_AIMS),
    shop: z
      .strictObject({
        unit: z.enum(["jobs", "hours"]),
        a_month: a_month.nullable(),
        repair_hours: hours,
        test_hours: hours,
      })
      .nullable(),
    depots: z.array(z.strictObject({ depot, money, a_month: a_month.nullable() })),
  }),
  currency: currencyCode,
  version,
  created_at: instant,
  created_by: actor,
  updated_at: instant,
  updated_by: actor,
});

/** A work order of a plan. */
export const orderStored = z
  .strictObject({
    id: recordId,
    year: planYear,
    vehicle_id: recordId,
    option: z.enum(ORDER_OPTIONS),
    price: amount,
    month: z.string().regex(/^\d{4}-(0[1-9]|1[0-2])$/, { error: "Give a month, like 2026-05." }),
    depot: depot.nullable(),
    saves: figure,
    avoids_kg: figure,
    held: z.boolean(),
    carried_from: planYear.nullable(),
    done_on: z.iso.date().nullable(),
    paid: amount.nullable(),
    done_by: actor.nullable(),
    lifted_lock: z.boolean(),
    version,
    updated_at: instant,
    updated_by: actor,
  })
  .refine(({ done_on, done_by }) => (done_on === null) === (done_by === null), {
    error: "Say who did the work, or leave out the day on which it was done.",
  });

const closing = z.int().min(1).max(1e6);
const percentage = amount.nullable();
const auditedYear = z.int().min(1990).max(2200);

/** A year of the audit that was closed. */
export const closedYearStored = z.strictObject({
  year: auditedYear,
  number: closing,
  model_version: text(64),
  gwp: z.enum(GWP_SETS),
  vehicles: z.int().min(0),
  closed_at: instant,
  closed_by: actor,
  reopened_at: instant.nullable(),
  reopened_by: actor.nullable(),
});

/** A vehicle of a closed year, as it was reported. */
export const closedRowStored = z.strictObject({
  year: auditedYear,
  number: closing,
  vehicle_id: recordId,
  label: text(MAX_LABEL_CHARS),
  refrigerant: z.enum(REFRIGERANTS),
  nameplate_g: amount.positive(),
  fleet_group: text(MAX_LABEL_CHARS).nullable(),
  depot: depot.nullable(),
  added_g: amount,
  first_charge_g: amount,
  recovered_g: amount,
  lost_g: amount,
  lost_sd_g: amount,
  lost_per_ln_g: figure,
  span_years: amount,
  annualizing_percent: percentage,
  rolling_percent: percentage,
  over_limit_on: z.iso.date().nullable(),
  chronic_on: z.iso.date().nullable(),
  mean_sd: amount,
});
