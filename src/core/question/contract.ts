/**
 * The shape of a question to the model and of its answer: the types behind `POST /api/assess`.
 * Amounts are grams, money is in one currency in real terms at `as_of`, times are years unless the name says months,
 * dates are `YYYY-MM-DD`. Absent and `null` mean the same for optional fields. Ranges and defaults:
 * `data/parameters.ts`.
 */

export const REFRIGERANTS = ["R-134a", "R-1234yf", "R-12"] as const;
export type RefrigerantId = (typeof REFRIGERANTS)[number];

export const LOCATION_IDS = ["service-port", "joint", "hose", "condenser", "evaporator", "compressor"] as const;
export type LocationId = (typeof LOCATION_IDS)[number];

export const OPTION_IDS = ["repair", "dye-test", "electronic-test", "top-off", "live-without"] as const;
export type OptionId = (typeof OPTION_IDS)[number];

export const COOLING = ["ok", "weak", "short-cycling", "empty"] as const;
export type Cooling = (typeof COOLING)[number];

export const ADDED_BY = ["scale", "cans"] as const;
export type AddedBy = (typeof ADDED_BY)[number];

export const FINISHES = ["weighed", "gauges", "low-side", "unknown"] as const;
export type Finish = (typeof FINISHES)[number];

export const TESTS = ["dye", "electronic", "visual"] as const;
export type TestId = (typeof TESTS)[number];

export const GWP_SETS = ["AR4", "AR5", "AR6"] as const;
export type GwpSet = (typeof GWP_SETS)[number];

export const SERVICES = ["diy", "shop"] as const;
export type Service = (typeof SERVICES)[number];

export const OTHER_TROUBLE = ["none", "some", "compressor-failing"] as const;
export type OtherTrouble = (typeof OTHER_TROUBLE)[number];

export const READINGS_SAY = ["low", "not-low", "undecided"] as const;
export type ReadingsSay = (typeof READINGS_SAY)[number];

export const CAN_SEALS = ["self-sealing", "pierced"] as const;
export type CanSeal = (typeof CAN_SEALS)[number];

type Optional<T> = T | null | undefined;

/** One line of the charge log: what was seen and done at the vehicle on one day (MODEL §2). */
export interface LogEntry {
  date: string;
  cooling?: Optional<Cooling>;
  recovered_g?: Optional<number>;
  added_g?: Optional<number>;
  added_by?: Optional<AddedBy>;
  finish?: Optional<Finish>;
  repair?: Optional<LocationId>;
}

/** What a leak test said about a place (MODEL §5). `anywhere` goes with `clean` only. */
export interface Finding {
  date: string;
  test: TestId;
  location: LocationId | "anywhere";
  result: "leak" | "clean";
}

export interface LocationPrices {
  share?: Optional<number>;
  price?: Optional<number>;
  holds?: Optional<number>;
  service?: Optional<number>;
  dye?: Optional<number>;
  electronic?: Optional<number>;
  visual?: Optional<number>;
}

export interface PlanInput {
  keep_years?: Optional<number>;
  floor_months?: Optional<number>;
  service?: Optional<Service>;
  other_trouble?: Optional<OtherTrouble>;
  season_worth?: Optional<number>;
  carbon_price_per_t?: Optional<number>;
  gwp?: Optional<GwpSet>;
  tools_owned?: Optional<boolean>;
  barred?: Optional<OptionId[]>;
  readings?: Optional<ReadingsSay>;
}

export interface PricesInput {
  can_price?: Optional<number>;
  can_net_g?: Optional<number>;
  can_deposit?: Optional<number>;
  can_return_rate?: Optional<number>;
  can_seal?: Optional<CanSeal>;
  diy_hours?: Optional<number>;
  hour_worth?: Optional<number>;
  tools_price?: Optional<number>;
  shop_topoff_fee?: Optional<number>;
  shop_refrigerant_per_g?: Optional<number>;
  repair_service?: Optional<number>;
  locate_fee?: Optional<number>;
  dye_price?: Optional<number>;
  dye_inspection_fee?: Optional<number>;
  electronic_price?: Optional<number>;
  locations?: Optional<Partial<Record<LocationId, Optional<LocationPrices>>>>;
}

export interface AssumptionsInput {
  low_fraction?: Optional<number>;
  low_sd?: Optional<number>;
  discount?: Optional<number>;
  refrigerant_growth?: Optional<number>;
  damage_chance?: Optional<number>;
  rework_share?: Optional<number>;
  relapse_rate?: Optional<number>;
  seep_fraction?: Optional<number>;
  heel?: Optional<number>;
}

export interface AssessRequest {
  as_of: string;
  vehicle: { refrigerant: RefrigerantId; nameplate_g: number; monthly_mean_c?: Optional<readonly number[]> };
  log?: Optional<LogEntry[]>;
  findings?: Optional<Finding[]>;
  plan?: Optional<PlanInput>;
  prices?: Optional<PricesInput>;
  assumptions?: Optional<AssumptionsInput>;
}

/** Mean and quantiles of a posterior quantity. */
export interface Spread {
  mean: number;
  median: number;
  p05: number;
  p25: number;
  p75: number;
  p95: number;
}

export interface LeakAnswer {
  g_per_year: Spread;
  fraction_per_year: Spread;
  growth_per_year: { mean: number; p05: number; p95: number };
  charge_now_g: { mean: number; p05: number; p95: number };
  low_below_g: number;
  full_charge_lasts_months: { median: number; p05: number; p95: number };
  class: { fast: number; moderate: number; slow: number; seep: number };
  repair_held: number | null;
  repair_sure_date: string | null;
  learned: number[];
  regulation: { annualizing_percent: number | null; rolling_percent: number | null };
}

export interface CurvePoint {
  date: string;
  mean_g: number;
  p05_g: number;
  p95_g: number;
}

export interface ForecastAnswer {
  next_low: { p10: string | null; p50: string | null; p90: string | null };
  curve: CurvePoint[];
}

export interface OptionAnswer {
  id: OptionId;
  offered: boolean;
  not_offered_because: null | "rule" | "empty" | "floor" | "done";
  expected_cost: number;
  cost_p05: number;
  cost_p95: number;
  cost_by_year: number[];
  release_g: number;
  co2e_kg: number;
  release_by_year_g: number[];
  expected_cost_with_carbon: number;
  probability_cheapest: number;
  leads_to_repair: number | null;
  switch_months: number | null;
  watch_date: string | null;
}

export type Reason =
  | { code: "readings"; values: Record<string, never> }
  | { code: "surprise"; values: { probability: number; days: number } }
  | { code: "empty"; values: Record<string, never> }
  | { code: "floor"; values: { floor_months: number; probability: number } }
  | { code: "tie-break"; values: { dearer_by: number; release_saved_g: number } }
  | { code: "cost"; values: { next: OptionId; cheaper_by: number } }
  | { code: "rule"; values: { option: OptionId } };

export interface Verdict {
  option: OptionId | "check-first" | null;
  guard: null | "readings" | "surprise" | "empty" | "floor";
  tie_break: boolean;
  reasons: Reason[];
}

export interface ValueOf {
  perfect_leak_rate: number | null;
  perfect_location: number | null;
  dye_test_net: number | null;
  electronic_test_net: number | null;
  look_over: number | null;
}

export interface BreakEven {
  leak_g_per_year: number | null;
  repair_price_factor: number | null;
  carbon_price_per_t: number | null;
  season_worth: number | null;
}

export interface SensitivitySide {
  value: number;
  verdict: Verdict["option"];
  gap: number;
}

export interface SensitivityRow {
  assumption: string;
  low: SensitivitySide;
  high: SensitivitySide;
}

/** What is cheap enough to be done before any option; beside the five options, not one of them. */
export interface FirstStep {
  id: "cores-and-caps";
  location: "service-port";
  /** Chance that the leak is there, and that this ends it. */
  probability: number;
  ends_leak: number;
  /** Parts and labor, without refrigerant. */
  price: number;
  /** What doing it first saves on average; negative where it costs more than it saves. */
  saves: number;
}

export interface AssessAnswer {
  as_of: string;
  leak: LeakAnswer;
  forecast: ForecastAnswer;
  locations: { id: LocationId; probability: number }[];
  options: OptionAnswer[];
  first_step: FirstStep | null;
  verdict: Verdict;
  value_of: ValueOf;
  break_even: BreakEven;
  sensitivity: SensitivityRow[];
}
