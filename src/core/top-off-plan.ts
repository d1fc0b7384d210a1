import { looks } from "../../data/model-constants.ts";
import { assumptionParameters } from "../../data/parameters.ts";
import { readingBounds } from "../../data/readings-table.ts";
import type { PlaceId, Rule } from "../../data/rules.ts";
import {
  type Applies,
  type CautionCode,
  STEPS,
  type Step,
  type StopCode,
  TOOLS,
  type Tool,
  topOffNumbers,
} from "../../data/top-off-steps.ts";
import { NORMAL_95 } from "./maths/normal.ts";
import type { CanSeal, LogEntry, ReadingsSay, RefrigerantId } from "./question/contract.ts";
import type { ExpectedRunning, FindingId } from "./readings/contract.ts";
import { expectedRunning } from "./readings/expected.ts";
import { saturationPressureKpa } from "./refrigerant/refrigerant.ts";
import { barredOptions, type Deposit, depositFor } from "./rules/rules.ts";

export const COMPRESSOR_DRIVES = ["belt", "electric", "unknown"] as const;
export type CompressorDrive = (typeof COMPRESSOR_DRIVES)[number];

/** Grams in the system now: mean, and the bounds between which it lies with 90 %. */
export interface ChargeNow {
  mean: number;
  p05: number;
  p95: number;
}

/** What the plan for topping off by cans, at home, is made from. Grams, °C; `heel` is the part lost in hose and can. */
export interface TopOffCase {
  date: string;
  place: PlaceId;
  refrigerant: RefrigerantId;
  nameplate_g: number;
  /** From the record, before any readings (`leak.charge_now_g`). */
  charge_now_g: ChargeNow;
  /** The charge below which this vehicle cools weakly (`leak.low_below_g`). */
  low_below_g: number;
  readings_say: ReadingsSay | null;
  /** What the readings found, if they were taken and decide. */
  found: FindingId | null;
  /** Grams of vapor, when the static pressure showed that no liquid is left. */
  vapor_g: { likely: number; from: number; to: number } | null;
  ambient_c: number | null;
  /** The log shows a leak too fast to top off (`verdict.guard` is `floor`). */
  too_fast: boolean;
  compressor: CompressorDrive;
  can_net_g: number;
  can_seal: CanSeal;
  heel: number;
}

export interface TopOffPlan {
  /** Why nothing goes in, most serious first; with any, there are no cans, tools or steps. */
  stops: { code: StopCode; rules: Rule[] }[];
  cautions: CautionCode[];
  charge_g: ChargeNow;
  missing_g: { likely: number; from: number; to: number };
  /** May go in before the next look: even if the system holds as much as it may (95 %), it stays within nameplate. */
  add_first_g: number;
  /** Never more than this in all: what is missing by the likeliest charge, a sip from one more can left out. Beyond `add_first_g` in small parts only. */
  add_at_most_g: number;
  part_g: number;
  cans: Cans | null;
  deposit: Deposit | null;
  tools: Tool[];
  targets: { ambient_c: number; static_kpa: number; running: ExpectedRunning } | null;
  steps: Step[];
  /** "Log what I did", to be corrected by what the scale showed. */
  log_entry: LogEntry | null;
}

/** Cans for the whole amount: `out_of_cans_g` leaves them, `into_system_g` arrives, the rest stays in hose and can. */
export interface Cans {
  into_system_g: number;
  out_of_cans_g: number;
  stays_in_hose_g: number;
  buy: number;
  whole: number;
  /** Out of the last can, which is not emptied; 0 when whole cans come out even. */
  part_g: number;
  left_in_last_can_g: number;
}

/** How much is missing, what to buy, how to put it in, and what forbids it. Pure: the words are in `data/top-off-steps.ts`. */
export function topOffPlan(given: TopOffCase): TopOffPlan {
  const { nameplate_g, refrigerant, ambient_c } = given;
  const charge_g = chargeAfterReadings(given);
  const missing = (charge: number) => Math.max(0, nameplate_g - charge);
  const missing_g = { likely: missing(charge_g.mean), from: missing(charge_g.p95), to: missing(charge_g.p05) };
  const add_at_most_g = worthOpeningCansFor(missing_g.likely, given);
  const add_first_g = Math.min(missing_g.from, add_at_most_g);
  const part_g = Math.min(
    topOffNumbers.part_most_g,
    Math.max(topOffNumbers.part_least_g, topOffNumbers.part_share * nameplate_g),
  );
  const stops = stopsOf(given, charge_g);
  const goes = stops.length === 0;
  const knows_ambient =
    ambient_c !== null && ambient_c >= readingBounds.ambient_c.min && ambient_c <= readingBounds.ambient_c.max;
  const needs: Record<NonNullable<Applies["needs"]>, boolean> = {
    "sure-amount": add_first_g > 0,
    parts: add_at_most_g > add_first_g,
    targets: knows_ambient,
  };
  const here = <T extends { readonly applies?: Applies }>(items: readonly T[]) =>
    items.filter(({ applies }) => appliesHere(applies, given, needs));
  const cans = goes ? cansFor(add_at_most_g, given) : null;
  return {
    stops,
    cautions: cautionsOf(given, add_first_g, cans),
    charge_g,
    missing_g,
    add_first_g,
    add_at_most_g,
    part_g,
    cans,
    deposit: goes ? depositFor(given.place, given.date) : null,
    tools: goes ? here(TOOLS) : [],
    targets: knows_ambient
      ? {
          ambient_c,
          static_kpa: saturationPressureKpa(refrigerant, ambient_c),
          running: expectedRunning(refrigerant, ambient_c),
        }
      : null,
    steps: goes ? here(STEPS) : [],
    log_entry:
      cans === null ? null : { date: given.date, added_g: cans.out_of_cans_g, added_by: "cans", finish: "gauges" },
  };
}

/**
 * The record's charge, narrowed by the readings. Vapor alone is weighed by its density; without a static pressure,
 * "nearly empty" means below the line of an empty system. "Low" means below the charge that cools weakly, so no bound stays above that one; bounds only move down, and a record that knows it already keeps
 * its own.
 */
function chargeAfterReadings(given: TopOffCase): ChargeNow {
  const { nameplate_g, charge_now_g, low_below_g, readings_say, found, vapor_g } = given;
  if (vapor_g !== null) return { mean: vapor_g.likely, p05: vapor_g.from, p95: vapor_g.to };
  if (found === "nearly-empty") {
    const empty_g = looks.empty.line * nameplate_g;
    return { mean: empty_g / 2, p05: 0, p95: empty_g };
  }
  if (readings_say !== "low") return charge_now_g;
  const p95 = Math.min(charge_now_g.p95, low_below_g + NORMAL_95 * assumptionParameters.low_sd.default * nameplate_g);
  const mean = Math.min(charge_now_g.mean, low_below_g, p95);
  return { mean, p05: Math.min(charge_now_g.p05, mean), p95 };
}

function stopsOf(given: TopOffCase, charge_g: ChargeNow): TopOffPlan["stops"] {
  const stops: TopOffPlan["stops"] = [];
  if (given.compressor === "electric") stops.push({ code: "electric-compressor", rules: [] });
  const rules = barredOptions({ ...given, service: "diy" })
    .filter(({ option }) => option === "top-off")
    .map(({ rule }) => rule);
  if (rules.length > 0) stops.push({ code: "rule", rules });
  if (given.too_fast) stops.push({ code: "too-fast", rules: [] });
  if (given.readings_say === "not-low") stops.push({ code: "readings-not-low", rules: [] });
  const no_liquid = given.vapor_g !== null || given.found === "nearly-empty";
  if (no_liquid || charge_g.mean < looks.empty.line * given.nameplate_g) stops.push({ code: "empty", rules: [] });
  if (given.nameplate_g - charge_g.mean < topOffNumbers.full_enough_share * given.nameplate_g) {
    stops.push({ code: "full-enough", rules: [] });
  }
  return stops;
}

function cautionsOf(given: TopOffCase, add_first_g: number, cans: Cans | null): CautionCode[] {
  const cautions: CautionCode[] = [];
  if (given.refrigerant === "R-1234yf") cautions.push("flammable");
  if (given.refrigerant === "R-12") cautions.push("r-12");
  if (given.compressor === "unknown") cautions.push("compressor-unknown");
  if (cans === null) return cautions;
  if (given.readings_say !== "low") cautions.push("readings-first");
  if (add_first_g === 0) cautions.push("charge-unsure");
  cautions.push("pressure-is-weak", "sealer");
  if (given.can_seal === "pierced" && cans.left_in_last_can_g > 0) cautions.push("pierced-rest");
  return cautions;
}

/** The amount, less what only a sip out of one more can would add. */
function worthOpeningCansFor(into_system_g: number, { can_net_g, heel }: TopOffCase): number {
  const in_cans = into_system_g / (1 - heel) / can_net_g;
  const whole = Math.floor(in_cans);
  return whole > 0 && in_cans - whole < topOffNumbers.last_can_least_share
    ? whole * can_net_g * (1 - heel)
    : into_system_g;
}

function cansFor(into_system_g: number, { can_net_g, heel }: TopOffCase): Cans {
  const out_of_cans_g = into_system_g / (1 - heel);
  // Cans that come out even but for rounding are not a can more.
  const buy = Math.ceil(out_of_cans_g / can_net_g - 1e-9);
  const whole = Math.floor(out_of_cans_g / can_net_g + 1e-9);
  const part_g = buy > whole ? out_of_cans_g - whole * can_net_g : 0;
  return {
    into_system_g,
    out_of_cans_g,
    stays_in_hose_g: out_of_cans_g - into_system_g,
    buy,
    whole,
    part_g,
    left_in_last_can_g: buy > whole ? can_net_g - part_g : 0,
  };
}

function appliesHere(
  applies: Applies | undefined,
  { refrigerant, can_seal }: TopOffCase,
  needs: Record<NonNullable<Applies["needs"]>, boolean>,
): boolean {
  if (applies === undefined) return true;
  if (applies.refrigerants !== undefined && !applies.refrigerants.includes(refrigerant)) return false;
  if (applies.seals !== undefined && !applies.seals.includes(can_seal)) return false;
  return applies.needs === undefined || needs[applies.needs];
}
