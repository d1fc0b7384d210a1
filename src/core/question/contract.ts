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

export const VEHICLE_KINDS = ["car", "van", "heavy-vehicle", "bus"] as const;
export type VehicleKind = (typeof VEHICLE_KINDS)[number];

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

export const GWP_SETS = ["AR4", "AR5", "AR6", "AR6-20", "EU"] as const;
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
  /** Day of the visit, no later than `as_of`. */
  date: string;
  /** How many days earlier or later it may have been, as with “summer 2024”; null: it was that day. */
  date_within_days?: Optional<number>;
  /** How it cooled on arrival, before anything was done. */
  cooling?: Optional<Cooling>;
  /** What a recovery machine weighed out, grams. */
  recovered_g?: Optional<number>;
  /** What went in, grams as weighed or as printed on the cans; 0: the level was checked, nothing added. */
  added_g?: Optional<number>;
  /** How the amount is known: on a scale, or by counting cans (the default). */
  added_by?: Optional<AddedBy>;
  /** How the charge was judged at the end; `weighed`: evacuated and charged by weight. */
  finish?: Optional<Finish>;
  /** Where a leak was repaired on that day. */
  repair?: Optional<LocationId>;
}

/** What a leak test said about a place (MODEL §5). `anywhere` goes with `clean` only. */
export interface Finding {
  /** Day of the test. */
  date: string;
  /** What was done: looked for dye, an electronic leak test, or a visual inspection. */
  test: TestId;
  /** Where it showed; `anywhere`: nowhere. */
  location: LocationId | "anywhere";
  /** A leak was seen there, or none. */
  result: "leak" | "clean";
}

export interface LocationPrices {
  /** Prior share of leaks that are at this location; scaled so that all add up to 1. */
  share?: Optional<number>;
  /** Parts and labor of the repair, money, without the service around it. */
  price?: Optional<number>;
  /** Chance that the repair holds, 0–1. */
  holds?: Optional<number>;
  /** Part of a full recovery, evacuation and recharge that the repair needs, 0–1. */
  service?: Optional<number>;
  /** Chance that a dye test shows a leak here, 0–1. */
  dye?: Optional<number>;
  /** Chance that an electronic leak test shows a leak here, 0–1. */
  electronic?: Optional<number>;
  /** Chance that a visual inspection shows a leak here, 0–1. */
  visual?: Optional<number>;
}

export interface PlanInput {
  /** How long the vehicle will be kept, years. */
  keep_years?: Optional<number>;
  /** Shortest time, in months, that a full charge must last to be topped off again. */
  floor_months?: Optional<number>;
  /** Who tops off: the owner at home, or a shop. */
  service?: Optional<Service>;
  /** What else ails the system or the vehicle; sets the yearly chance that its life ends first. */
  other_trouble?: Optional<OtherTrouble>;
  /** What a season of cooling is worth, money a year; null: living without it is not compared. */
  season_worth?: Optional<number>;
  /** Money per tonne of CO₂ equivalent released; 0: releases cost nothing. */
  carbon_price_per_t?: Optional<number>;
  /** Whose warming potentials: of an IPCC report (over 100 years, or 20), or as European Union law has them. */
  gwp?: Optional<GwpSet>;
  /** Gauges and hose are there, and need not be bought for the first top-off at home. */
  tools_owned?: Optional<boolean>;
  /** Options that the place or the owner rules out. */
  barred?: Optional<OptionId[]>;
  /** What gauge and vent readings said. */
  readings?: Optional<ReadingsSay>;
}

export interface PricesInput {
  /** Money a can. */
  can_price?: Optional<number>;
  /** Refrigerant in a full can, grams. */
  can_net_g?: Optional<number>;
  /** Money a can, given back with it. */
  can_deposit?: Optional<number>;
  /** Share of cans that are returned, 0–1. */
  can_return_rate?: Optional<number>;
  /** Whether a can that was opened can be kept for later. */
  can_seal?: Optional<CanSeal>;
  /** Hours of work for a top-off at home. */
  diy_hours?: Optional<number>;
  /** Money an hour of the owner's time. */
  hour_worth?: Optional<number>;
  /** Gauges and hose, money, once. */
  tools_price?: Optional<number>;
  /** Money a top-off at a shop, without refrigerant. */
  shop_topoff_fee?: Optional<number>;
  /** Money a gram at a shop. */
  shop_refrigerant_per_g?: Optional<number>;
  /** Recovery, evacuation and recharge around a repair, money, without refrigerant. */
  repair_service?: Optional<number>;
  /** Money for finding the leak before a repair where no test has shown it. */
  locate_fee?: Optional<number>;
  /** Dye and putting it in, money. */
  dye_price?: Optional<number>;
  /** Looking for the dye some weeks later, money. */
  dye_inspection_fee?: Optional<number>;
  /** An electronic leak test, money. */
  electronic_price?: Optional<number>;
  /** What differs between leak locations. */
  locations?: Optional<Partial<Record<LocationId, Optional<LocationPrices>>>>;
}

export interface AssumptionsInput {
  /** Charge below which it cools poorly, as a share of the nameplate charge. */
  low_fraction?: Optional<number>;
  /** How much that share differs between vehicles: standard deviation. */
  low_sd?: Optional<number>;
  /** Real discount rate, per year, continuous. */
  discount?: Optional<number>;
  /** Growth of the price of refrigerant over other prices, per year, continuous. */
  refrigerant_growth?: Optional<number>;
  /** Chance, at each low charge, that running low ruins the compressor. */
  damage_chance?: Optional<number>;
  /** What a repair that did not hold costs again, as a share of its price. */
  rework_share?: Optional<number>;
  /** New leaks of a repaired system, per year. */
  relapse_rate?: Optional<number>;
  /** What a system without a leak loses, as a share of its charge a year. */
  seep_fraction?: Optional<number>;
  /** What stays in hose and can at home, as a share of what leaves the can. */
  heel?: Optional<number>;
}

export interface AskedVehicle {
  refrigerant: RefrigerantId;
  /** Full charge by the label, grams. */
  nameplate_g: number;
  /** What it is, which says how fast it may leak before a log says more; null: not said, as a car. */
  kind?: Optional<VehicleKind>;
  /** What is believed of the leak before the log, in place of the kind: how vehicles of its group leak. */
  leak_prior?: Optional<LeakBelief>;
  /** Outdoor means of January to December, °C; null: no season. */
  monthly_mean_c?: Optional<readonly number[]>;
}

/** The logarithm of the share of the nameplate charge that leaks in a year, as a normal distribution. */
export interface LeakBelief {
  ln_x_mean: number;
  ln_x_sd: number;
}

/**
 * Every charge between two days is in the log, but for a chance: no entry since the last fill then says that it was not
 * found low by the last of the days.
 */
export interface LoggedSpan {
  /** The first day; null: that of the first entry. */
  from?: Optional<string>;
  /** The last day, no later than `as_of`. */
  until: string;
  /** Chance that a charge was given and not logged, 0–0.5. */
  missed?: Optional<number>;
}

export interface AssessRequest {
  /** The day of the question: today, for whoever asks. */
  as_of: string;
  vehicle: AskedVehicle;
  /** The charge log, in any order. */
  log?: Optional<LogEntry[]>;
  /** Results of leak tests, in any order. */
  findings?: Optional<Finding[]>;
  /** Between which days every charge is in the log; null: silence says nothing. */
  logged?: Optional<LoggedSpan>;
  plan?: Optional<PlanInput>;
  prices?: Optional<PricesInput>;
  assumptions?: Optional<AssumptionsInput>;
}

/** Mean and quantiles of a posterior quantity. */
export interface Spread {
  /** Average over all that it may be. */
  mean: number;
  /** The best estimate: as likely more as less. */
  median: number;
  /** Lower end of the likely range: 9 of 10 cases lie between `p05` and `p95`. */
  p05: number;
  /** Lower end of the middle half. */
  p25: number;
  /** Upper end of the middle half. */
  p75: number;
  /** Upper end of the likely range. */
  p95: number;
}

export interface LeakAnswer {
  /** What leaks, grams a year at today's rate and a year's average weather. */
  g_per_year: Spread;
  /** The same as a share of the nameplate charge. */
  fraction_per_year: Spread;
  /** How fast the leak itself grows, per year, continuous. */
  growth_per_year: { mean: number; p05: number; p95: number };
  /** What is in the system on the day of the question, grams. */
  charge_now_g: { mean: number; p05: number; p95: number };
  /** Charge below which it cools poorly, grams: posterior mean. */
  low_below_g: number;
  /** From the nameplate charge down to poor cooling, months. */
  full_charge_lasts_months: { median: number; p05: number; p95: number };
  /** Chances of each class of leak; they add up to 1. */
  class: { fast: number; moderate: number; slow: number; seep: number };
  /** Chance that the last repair held; null without one. */
  repair_held: number | null;
  /** From when one more look that finds it cooling well would settle that the repair held; null where none would. */
  repair_sure_date: string | null;
  /** For each entry by date, the fall in the spread of the logarithm of the leak rate. */
  learned: number[];
  /** Leak rates as 40 CFR 82.152 counts them, percent of the nameplate charge a year; null without enough fills. */
  regulation: { annualizing_percent: number | null; rolling_percent: number | null };
}

export interface CurvePoint {
  date: string;
  /** Average charge, grams. */
  mean_g: number;
  /** Lower end of the likely range, grams. */
  p05_g: number;
  /** Upper end, grams. */
  p95_g: number;
}

export interface ForecastAnswer {
  /** Dates by which it will be low with a chance of 10, 50 and 90 %; null beyond 20 years. */
  next_low: { p10: string | null; p50: string | null; p90: string | null };
  /** The charge over the log and two years ahead, by date. */
  curve: CurvePoint[];
}

export interface OptionAnswer {
  id: OptionId;
  /** Open to be chosen. */
  offered: boolean;
  /** Why not: a rule, no pressure left, charges that last too short, or a test done already. */
  not_offered_because: null | "rule" | "empty" | "floor" | "done";
  /** Average cost over the years kept, money discounted to today, without carbon. */
  expected_cost: number;
  /** Lower end of its likely range. */
  cost_p05: number;
  /** Upper end. */
  cost_p95: number;
  /** The parts of `expected_cost` that fall in each year ahead. */
  cost_by_year: number[];
  /** Average release over the years kept, grams, not discounted. */
  release_g: number;
  /** What the release warms as much as, kg of CO₂. */
  co2e_kg: number;
  /** The parts of `release_g` in each year ahead. */
  release_by_year_g: number[];
  /** `expected_cost` and the carbon price of the release: what options are compared by. */
  expected_cost_with_carbon: number;
  /** Chance of being the cheapest offered once leak and location are known. */
  probability_cheapest: number;
  /** Of a test: chance that a repair follows; else null. */
  leads_to_repair: number | null;
  /** Of topping off: repair once a charge lasts fewer months; 0: never; else null. */
  switch_months: number | null;
  /** Of topping off: low before this day means repair; else null. */
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
  /** What to do; `check-first`: take readings; null: no option is open. */
  option: OptionId | "check-first" | null;
  /** What kept costs from deciding alone. */
  guard: null | "readings" | "surprise" | "empty" | "floor";
  /** About as cheap as the cheapest, and chosen because it releases much less. */
  tie_break: boolean;
  /** Why, weightiest first. */
  reasons: Reason[];
}

export interface ValueOf {
  /** Knowing the leak rate exactly, money; null where nothing is to compare. */
  perfect_leak_rate: number | null;
  /** Knowing where it leaks. */
  perfect_location: number | null;
  /** A dye test, its price taken off; negative: not worth it. */
  dye_test_net: number | null;
  /** An electronic leak test, likewise. */
  electronic_test_net: number | null;
  /** A free visual inspection; null once it is done. */
  look_over: number | null;
}

export interface BreakEven {
  /** Leak rate from which on repairing is cheaper, grams a year; null where there is none. */
  leak_g_per_year: number | null;
  /** Factor on all repair prices at which repairing costs as much as topping off. */
  repair_price_factor: number | null;
  /** Carbon price, money per tonne, at which it does. */
  carbon_price_per_t: number | null;
  /** Worth of a season, money a year, below which living without it is cheaper. */
  season_worth: number | null;
}

export interface SensitivitySide {
  /** The assumption's value here, in its own unit. */
  value: number;
  /** What would be advised then. */
  verdict: Verdict["option"];
  /** What topping off costs more than repairing then, money with carbon. */
  gap: number;
}

export interface SensitivityRow {
  /** Name of the assumption, as in the request. */
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
