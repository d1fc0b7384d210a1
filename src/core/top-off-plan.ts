import { looks } from "../../data/model-constants.ts";
import { assumptionParameters } from "../../data/parameters.ts";
import type { PlaceId, Rule } from "../../data/rules.ts";
import {
  type Applies,
  type CautionCode,
  type OpenQuestion,
  STEPS,
  type Step,
  type StopCode,
  TOOLS,
  type Tool,
  topOffLimits,
  topOffNumbers,
} from "../../data/top-off-steps.ts";
import { NORMAL_95, normalCdf, normalDensity } from "./maths/normal.ts";
import { kpaFromPressure } from "./quantities/units.ts";
import type { CanSeal, LogEntry, ReadingsSay, RefrigerantId } from "./question/contract.ts";
import { expectedRunning } from "./readings/expected.ts";
import type { ExpectedRunning, FindingId, Range } from "./readings/readings-contract.ts";
import { saturationPressureKpa, saturationTemperatureC } from "./refrigerant/refrigerant.ts";
import { barredOptions, type Deposit, depositFor, rulesWereRead, warnedOptions } from "./rules/rules.ts";

export const COMPRESSOR_DRIVES = ["belt", "electric", "unknown"] as const;
export type CompressorDrive = (typeof COMPRESSOR_DRIVES)[number];

/** What is in the system: as the label says and nothing else, or what forbids refrigerant on top. */
export const SYSTEM_CONTENTS = ["unknown", "as-labeled", "sealer", "other"] as const;
export type SystemContents = (typeof SYSTEM_CONTENTS)[number];

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
  /** Whether the log shows a leak too fast to top off (`verdict.guard` is `floor`). */
  too_fast: boolean;
  compressor: CompressorDrive;
  contents: SystemContents;
  can_net_g: number;
  can_seal: CanSeal;
  heel: number;
}

export interface TopOffPlan {
  /** Why nothing goes in, most serious first; with any, there are no cans, tools or steps. */
  stops: { code: StopCode; rules: Rule[] }[];
  /** What must be answered before there are steps. */
  open: OpenQuestion[];
  cautions: CautionCode[];
  charge_g: ChargeNow;
  missing_g: { likely: number; from: number; to: number };
  /**
   * May go in before the next look: even if the system holds as much as the charge log allows (95 %), it stays within
   * nameplate. Readings do not raise it, since they may be wrong.
   */
  add_first_g: number;
  /**
   * The most that may go in altogether: what is missing by the likeliest charge, without a small remainder for which
   * another can would have to be opened. Beyond `add_first_g` it goes in in small parts.
   */
  add_at_most_g: number;
  part_g: number;
  cans: Cans | null;
  deposit: Deposit | null;
  tools: Tool[];
  targets: Targets | null;
  steps: Step[];
  /** "Log what I did", to be corrected by what the scale showed. */
  log_entry: LogEntry | null;
}

/** Pressures for today, kPa absolute: what is expected, and where charging ends whatever else is said. */
export interface Targets {
  ambient_c: number;
  static_kpa: number;
  running: ExpectedRunning;
  stop_kpa: { low: number; high: number };
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

/**
 * How much is missing, what to buy, how to put it in, and what forbids it. The words are in `data/top-off-steps.ts`.
 */
export function topOffPlan(given: TopOffCase): TopOffPlan {
  const { nameplate_g, refrigerant, ambient_c } = given;
  const charge_g = chargeAfterReadings(given);
  const missing = (charge: number) => Math.max(0, nameplate_g - charge);
  const missing_g = { likely: missing(charge_g.mean), from: missing(charge_g.p95), to: missing(charge_g.p05) };
  const add_at_most_g = worthOpeningCansFor(missing_g.likely, given);
  const add_first_g = Math.min(missing(Math.max(charge_g.p95, given.charge_now_g.p95)), add_at_most_g);
  const part_g = Math.min(
    topOffNumbers.part_most_g,
    Math.max(topOffNumbers.part_least_g, topOffNumbers.part_share * nameplate_g),
  );
  const stops = stopsOf(given, charge_g);
  const goes = stops.length === 0;
  const open = goes ? openQuestions(given) : [];
  const needs: Record<NonNullable<Applies["needs"]>, boolean> = {
    "sure-amount": add_first_g > 0,
    parts: add_at_most_g > add_first_g,
  };
  const here = <T extends { readonly applies?: Applies }>(items: readonly T[]) =>
    items.filter(({ applies }) => appliesHere(applies, given, needs));
  const cans = goes ? cansFor(add_at_most_g, given) : null;
  return {
    stops,
    open,
    cautions: cautionsOf(given, add_first_g, cans),
    charge_g,
    missing_g,
    add_first_g,
    add_at_most_g,
    part_g,
    cans,
    deposit: goes ? depositFor(given.place, given.date) : null,
    tools: goes ? here(TOOLS) : [],
    targets: goes && ambient_c !== null ? targetsFor(refrigerant, ambient_c) : null,
    steps: goes && open.length === 0 ? here(STEPS) : [],
    log_entry:
      cans === null ? null : { date: given.date, added_g: cans.out_of_cans_g, added_by: "cans", finish: "gauges" },
  };
}

/** Pressures to charge to: the middle of what is expected, and never above `topOffLimits`. */
function targetsFor(refrigerant: RefrigerantId, ambient_c: number): Targets {
  const running = expectedRunning(refrigerant, ambient_c);
  const middle = ({ from, to }: Range) => (from + to) / 2;
  const limit = (side: "low" | "high") => {
    const of_134a_kpa = kpaFromPressure(topOffLimits.stop_psi[side], "psi-gauge");
    const same_temperature_kpa = saturationPressureKpa(refrigerant, saturationTemperatureC("R-134a", of_134a_kpa));
    return Math.min(of_134a_kpa, same_temperature_kpa);
  };
  return {
    ambient_c,
    static_kpa: saturationPressureKpa(refrigerant, ambient_c),
    running,
    stop_kpa: {
      low: Math.min(middle(running.low_kpa), limit("low")),
      high: Math.min(middle(running.high_kpa), limit("high")),
    },
  };
}

/**
 * The charge by the record, updated by the readings. Without liquid it is the mass of vapor; "nearly empty" without a
 * static pressure means below the line of an empty system; "low" counts as a look that the charge is below the one that
 * cools poorly, which moves a charge the more the less it was known. Bounds only move down.
 */
function chargeAfterReadings(given: TopOffCase): ChargeNow {
  const { nameplate_g, charge_now_g, low_below_g, readings_say, found, vapor_g } = given;
  if (vapor_g !== null) return { mean: vapor_g.likely, p05: vapor_g.from, p95: vapor_g.to };
  if (found === "nearly-empty") {
    const empty_g = looks.empty.line * nameplate_g;
    return { mean: empty_g / 2, p05: 0, p95: empty_g };
  }
  if (readings_say !== "low") return charge_now_g;
  // The update of a look "m below b" of the charge filter, with one normal for the charge.
  const { mean, p05, p95 } = charge_now_g;
  const variance = ((p95 - p05) / (2 * NORMAL_95)) ** 2;
  const spread = Math.sqrt(variance + (assumptionParameters.low_sd.default * nameplate_g) ** 2);
  const z = (low_below_g - mean) / spread;
  // Far above the low line the ratio φ/Φ tends to −z, and both are too small to divide.
  const hazard = z < -8 ? -z : normalDensity(z) / normalCdf(z);
  const moved = Math.max(0, mean - (variance * hazard) / spread);
  const sd = Math.sqrt(Math.max(0, variance - (variance / spread) ** 2 * hazard * (hazard + z)));
  return {
    mean: moved,
    p05: Math.min(p05, Math.max(0, moved - NORMAL_95 * sd)),
    p95: Math.min(p95, Math.max(moved, moved + NORMAL_95 * sd)),
  };
}

function stopsOf(given: TopOffCase, charge_g: ChargeNow): TopOffPlan["stops"] {
  const { nameplate_g, ambient_c, readings_say } = given;
  const { ambient_c: weather, nameplate_most_g } = topOffLimits;
  const rules = barredOptions({ ...given, service: "diy" })
    .filter(({ option }) => option === "top-off")
    .map(({ rule }) => rule);
  const no_liquid = given.vapor_g !== null || given.found === "nearly-empty";
  const applies: Record<StopCode, boolean> = {
    "electric-compressor": given.compressor === "electric",
    "other-refrigerant": given.contents === "other",
    "had-sealer": given.contents === "sealer",
    rule: rules.length > 0,
    "r-12": rules.length === 0 && given.refrigerant === "R-12",
    "too-large": nameplate_g > nameplate_most_g,
    empty: no_liquid || charge_g.mean < looks.empty.line * nameplate_g,
    "too-fast": given.too_fast,
    "readings-not-low": readings_say === "not-low",
    "full-enough": nameplate_g - charge_g.mean < topOffNumbers.full_enough_share * nameplate_g,
    "too-cold": ambient_c !== null && ambient_c < weather.from,
    "too-hot": ambient_c !== null && ambient_c > weather.to,
  };
  return STOP_ORDER.filter((code) => applies[code]).map((code) => ({ code, rules: code === "rule" ? rules : [] }));
}

/** The most serious first; weather last, since it passes. */
const STOP_ORDER: readonly StopCode[] = [
  "electric-compressor",
  "other-refrigerant",
  "had-sealer",
  "rule",
  "r-12",
  "too-large",
  "empty",
  "too-fast",
  "readings-not-low",
  "full-enough",
  "too-cold",
  "too-hot",
];

function openQuestions({ place, ambient_c, compressor, contents }: TopOffCase): OpenQuestion[] {
  const open: OpenQuestion[] = [];
  if (place === "elsewhere") open.push("where");
  if (compressor === "unknown") open.push("compressor");
  if (contents === "unknown") open.push("contents");
  if (ambient_c === null) open.push("ambient");
  return open;
}

function cautionsOf(given: TopOffCase, add_first_g: number, cans: Cans | null): CautionCode[] {
  if (cans === null) return [];
  const cautions: CautionCode[] = [];
  const warned = warnedOptions({ ...given, service: "diy" }).some(({ option }) => option === "top-off");
  if (warned) cautions.push("second-hand-rule");
  else if (given.place !== "elsewhere" && !rulesWereRead(given.place, given.date)) cautions.push("ask-authority");
  if (given.refrigerant === "R-1234yf") cautions.push("yf-stops");
  if (given.readings_say !== "low") cautions.push("readings-first");
  if (add_first_g === 0) cautions.push("charge-unsure");
  cautions.push("sealer");
  if (given.can_seal === "pierced" && cans.left_in_last_can_g > 0) cautions.push("pierced-rest");
  return cautions;
}

/** The amount without a small remainder for which one more can would have to be opened. */
function worthOpeningCansFor(into_system_g: number, { can_net_g, heel }: TopOffCase): number {
  const in_cans = into_system_g / (1 - heel) / can_net_g;
  const whole = Math.floor(in_cans);
  return whole > 0 && in_cans - whole < topOffNumbers.last_can_least_share
    ? whole * can_net_g * (1 - heel)
    : into_system_g;
}

function cansFor(into_system_g: number, { can_net_g, heel }: TopOffCase): Cans {
  const out_of_cans_g = into_system_g / (1 - heel);
  // A rounding error must not add a can.
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
