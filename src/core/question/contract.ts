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

/** What a leak test said about a place (MODEL §5). `anywhere` goes with `clean` only: nothing was seen in any place. */
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

/**
 * What is known of one leak location, and what repairing it costs. Absent: `locationParameters` of
 * `data/parameters.ts`.
 */
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

/** What the owner intends, and what bears on it. */
export interface PlanInput {
  /** How long the vehicle will be kept, years. */
  keep_years?: Optional<number>;
  /** Shortest time, in months, that a full charge must last to be topped off again. */
  floor_months?: Optional<number>;
  /** Who tops off: the owner at home, or a shop. */
  service?: Optional<Service>;
  /** What else is wrong with the system or the vehicle; it sets the yearly chance that its life ends first. */
  other_trouble?: Optional<OtherTrouble>;
  /** What a season of cooling is worth, money a year; null: living without it is not compared. */
  season_worth?: Optional<number>;
  /** Money per tonne of CO₂ equivalent released; 0: releases cost nothing. */
  carbon_price_per_t?: Optional<number>;
  /** Source of the warming potentials: an IPCC report (over 100 years, or over 20), or European Union law. */
  gwp?: Optional<GwpSet>;
  /** The owner has gauges and hose, so they need not be bought for the first top-off at home. */
  tools_owned?: Optional<boolean>;
  /** Options that the place or the owner rules out. */
  barred?: Optional<OptionId[]>;
  /** What gauge and vent readings said. */
  readings?: Optional<ReadingsSay>;
}

/** Prices, in one currency. Absent: the default for the refrigerant and for who does the work. */
export interface PricesInput {
  /** Price of a can of refrigerant, money, deposit not included. */
  can_price?: Optional<number>;
  /** Refrigerant in a full can, grams. */
  can_net_g?: Optional<number>;
  /** Deposit on a can, money. */
  can_deposit?: Optional<number>;
  /** Share of cans that are returned for their deposit, 0–1. */
  can_return_rate?: Optional<number>;
  /** Whether an opened can keeps what is left in it. */
  can_seal?: Optional<CanSeal>;
  /** The owner's time for a top-off at home, hours. */
  diy_hours?: Optional<number>;
  /** Worth of the owner's time, money an hour. */
  hour_worth?: Optional<number>;
  /** Price of gauges and hose for topping off at home, money, paid once. */
  tools_price?: Optional<number>;
  /** A shop's fee for a top-off, money, without refrigerant. */
  shop_topoff_fee?: Optional<number>;
  /** A shop's price of refrigerant, money a gram. */
  shop_refrigerant_per_g?: Optional<number>;
  /** Recovery, evacuation and recharge around a repair, money, without refrigerant. */
  repair_service?: Optional<number>;
  /** Finding the leak before a repair where no test has shown it, money. */
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

/** What the model assumes about systems, repairs and money to come. */
export interface AssumptionsInput {
  /** Charge below which the system cools poorly: mean over vehicles, as a share of the nameplate charge. */
  low_fraction?: Optional<number>;
  /** Standard deviation of that share between vehicles. */
  low_sd?: Optional<number>;
  /** Real discount rate, per year, continuous. */
  discount?: Optional<number>;
  /** Growth of the price of refrigerant over other prices, per year, continuous. */
  refrigerant_growth?: Optional<number>;
  /** Chance, at each low charge, that running low ruins the compressor, 0–1. */
  damage_chance?: Optional<number>;
  /** What a repair that did not hold costs again, as a share of its price. */
  rework_share?: Optional<number>;
  /** Rate of new leaks in a repaired system, per year. */
  relapse_rate?: Optional<number>;
  /** What a system without a leak loses, as a share of the nameplate charge a year. */
  seep_fraction?: Optional<number>;
  /** What stays in hose and can at home and escapes, as a share of what leaves the can. */
  heel?: Optional<number>;
}

/** The vehicle as far as the model needs to know it. */
export interface AskedVehicle {
  /** What the system is filled with. */
  refrigerant: RefrigerantId;
  /** Full charge by the label, grams. */
  nameplate_g: number;
  /** Kind of vehicle, which sets the leak rate believed before the log; null: taken as a car. */
  kind?: Optional<VehicleKind>;
  /** The leak rate believed before the log, in place of that of the kind: how vehicles of its group leak. */
  leak_prior?: Optional<LeakBelief>;
  /** Mean outdoor temperature of January to December, °C; null: no season. */
  monthly_mean_c?: Optional<readonly number[]>;
}

/** A normal distribution of ln x, with x the share of the nameplate charge that leaks in a year. */
export interface LeakBelief {
  /** Mean of ln x. */
  ln_x_mean: number;
  /** Standard deviation of ln x. */
  ln_x_sd: number;
}

/**
 * The days between which every charge is in the log, apart from a chance that one is missing. Where nothing follows the
 * last fill, the model then takes it that the system was not found low by the last of these days.
 */
export interface LoggedSpan {
  /** The first day; null: that of the first entry. */
  from?: Optional<string>;
  /** The last day, no later than `as_of`. */
  until: string;
  /** Chance that a charge was given and not logged, 0–0.5. */
  missed?: Optional<number>;
}

/** A question to the model. */
export interface AssessRequest {
  /** The assessment date: everything is told as of this day, usually today. */
  as_of: string;
  /** The vehicle asked about. */
  vehicle: AskedVehicle;
  /** The charge log, in any order. */
  log?: Optional<LogEntry[]>;
  /** Results of leak tests, in any order. */
  findings?: Optional<Finding[]>;
  /** Between which days every charge is in the log; null: silence says nothing. */
  logged?: Optional<LoggedSpan>;
  /** What the owner intends. */
  plan?: Optional<PlanInput>;
  /** Prices other than the defaults. */
  prices?: Optional<PricesInput>;
  /** Assumptions other than the defaults. */
  assumptions?: Optional<AssumptionsInput>;
}

/** Mean and quantiles of a posterior quantity. */
export interface Spread {
  /** Average over all that it may be. */
  mean: number;
  /** The best estimate: more and less are equally likely. */
  median: number;
  /** Lower end of the likely range: 9 of 10 cases lie between `p05` and `p95`. */
  p05: number;
  /** Lower end of the middle half of the cases. */
  p25: number;
  /** Upper end of the middle half of the cases. */
  p75: number;
  /** Upper end of the likely range. */
  p95: number;
}

/** Mean and likely range of a posterior quantity. */
export interface Band {
  /** The best estimate: the average over all that it may be. */
  mean: number;
  /** Lower end of the likely range: 9 of 10 cases lie between `p05` and `p95`. */
  p05: number;
  /** Upper end of the likely range. */
  p95: number;
}

/** What the log says about the leak and the charge on the assessment date (MODEL §3). */
export interface LeakAnswer {
  /** Leak rate, grams a year, at today's rate in a year of average weather. */
  g_per_year: Spread;
  /** Leak rate as a share of the nameplate charge a year. */
  fraction_per_year: Spread;
  /** Growth of the leak rate itself, per year, continuous. */
  growth_per_year: Band;
  /** Charge in the system on the assessment date, grams. */
  charge_now_g: Band;
  /** Charge below which it cools poorly, grams: posterior mean. */
  low_below_g: number;
  /** How long it takes from the nameplate charge down to poor cooling, months. */
  full_charge_lasts_months: Pick<Spread, "median" | "p05" | "p95">;
  /** Chance of each class of leak, 0–1; they add up to 1. */
  class: { fast: number; moderate: number; slow: number; seep: number };
  /** Chance that the last repair held, 0–1; null without a repair. */
  repair_held: number | null;
  /**
   * Day from which one more look that finds it cooling well would settle that the repair held; null where none would.
   */
  repair_sure_date: string | null;
  /** For each log entry in date order, by how much it narrowed the standard deviation of ln(leak rate). */
  learned: number[];
  /** Leak rates as 40 CFR 82.152 counts them, percent of the nameplate charge a year; null without enough fills. */
  regulation: { annualizing_percent: number | null; rolling_percent: number | null };
}

/** The charge on one day of the curve. */
export interface CurvePoint {
  /** The day. */
  date: string;
  /** Average charge, grams. */
  mean_g: number;
  /** Lower end of the likely range, grams. */
  p05_g: number;
  /** Upper end of the likely range, grams. */
  p95_g: number;
}

/** When it runs low, and the charge over time (MODEL §4). */
export interface ForecastAnswer {
  /**
   * Dates by which it is low with a chance of 10, 50 (the best estimate) and 90 %; null: not within 20 years. All three
   * are today where it was seen to be low.
   */
  next_low: { p10: string | null; p50: string | null; p90: string | null };
  /** The charge over the log and two years ahead, by date. */
  curve: CurvePoint[];
}

/** One option over the years that the vehicle is kept (MODEL §6). */
export interface OptionAnswer {
  /** Which option. */
  id: OptionId;
  /** Whether it can be chosen. */
  offered: boolean;
  /** Why not: a rule, no pressure left, charges that last too short, or a test done already. */
  not_offered_because: null | "rule" | "empty" | "floor" | "done";
  /** Average cost over the years kept, money discounted to today, without carbon. */
  expected_cost: number;
  /** Lower end of the likely range of the cost, money. */
  cost_p05: number;
  /** Upper end of the likely range of the cost, money. */
  cost_p95: number;
  /** `expected_cost` by year ahead, money; the first is the year that begins today. */
  cost_by_year: number[];
  /** Average release over the years kept, grams, not discounted. */
  release_g: number;
  /** The release as kg of CO₂ equivalent. */
  co2e_kg: number;
  /** `release_g` by year ahead, grams. */
  release_by_year_g: number[];
  /** `expected_cost` plus the carbon price of the release, money: what options are compared by. */
  expected_cost_with_carbon: number;
  /** Chance of being the cheapest offered once leak and location are known, 0–1. */
  probability_cheapest: number;
  /** Of a test: chance that a repair follows, 0–1. Null for other options. */
  leads_to_repair: number | null;
  /** Of topping off: repair once a charge lasts fewer months than this; 0: never. Null for other options. */
  switch_months: number | null;
  /** Of topping off: if it is low before this day, repair. Null for other options. */
  watch_date: string | null;
}

/** Why the verdict is what it is: a code, and the numbers that a sentence about it needs. */
export type Reason =
  | { code: "readings"; values: Record<string, never> }
  | { code: "surprise"; values: { probability: number; days: number } }
  | { code: "empty"; values: Record<string, never> }
  | { code: "floor"; values: { floor_months: number; probability: number } }
  | { code: "tie-break"; values: { dearer_by: number; release_saved_g: number } }
  | { code: "cost"; values: { next: OptionId; cheaper_by: number } }
  | { code: "rule"; values: { option: OptionId } };

/** What the model advises (MODEL §6). */
export interface Verdict {
  /** What to do; `check-first`: take readings; null: no option is open. */
  option: OptionId | "check-first" | null;
  /** Which condition overrode the comparison of costs; null where costs decided. */
  guard: null | "readings" | "surprise" | "empty" | "floor";
  /** About as cheap as the cheapest, and chosen because it releases much less. */
  tie_break: boolean;
  /** Why, weightiest first. */
  reasons: Reason[];
}

/** What information is worth before deciding, money with carbon; null where there is nothing to compare. */
export interface ValueOf {
  /** Worth of knowing the leak rate exactly, money. */
  perfect_leak_rate: number | null;
  /** Worth of knowing where it leaks, money. */
  perfect_location: number | null;
  /** Worth of a dye test less its price, money; negative: it costs more than it is worth. */
  dye_test_net: number | null;
  /** Worth of an electronic leak test less its price, money; negative: it costs more than it is worth. */
  electronic_test_net: number | null;
  /** Worth of a free visual inspection, money; null once it is done. */
  look_over: number | null;
}

/** Where two options cost the same; null where they never do. */
export interface BreakEven {
  /** Leak rate from which on repairing is cheaper than topping off, grams a year. */
  leak_g_per_year: number | null;
  /** Factor on all repair prices at which repairing costs as much as topping off. */
  repair_price_factor: number | null;
  /** Carbon price at which repairing costs as much as topping off, money per tonne of CO₂ equivalent. */
  carbon_price_per_t: number | null;
  /** Worth of a season below which living without cooling is cheaper, money a year. */
  season_worth: number | null;
}

/** The answer with one assumption at one end of its range. */
export interface SensitivitySide {
  /** Value of the assumption, in its own unit. */
  value: number;
  /** The advice at that value. */
  verdict: Verdict["option"];
  /** Cost of topping off less that of repairing at that value, money with carbon. */
  gap: number;
}

/** How much one assumption matters. */
export interface SensitivityRow {
  /** Name of the assumption, as in the request. */
  assumption: string;
  /** The answer at the low end of its range. */
  low: SensitivitySide;
  /** The answer at the high end of its range. */
  high: SensitivitySide;
}

/** A step cheap enough to do before any option; it comes beside the five options, not in their place. */
export interface FirstStep {
  /** Which step: new valve cores and sealing caps. */
  id: "cores-and-caps";
  /** Where it is done. */
  location: "service-port";
  /** Chance that the leak is there, 0–1. */
  probability: number;
  /** Chance that this step ends the leak, 0–1. */
  ends_leak: number;
  /** Parts and labor, money, without refrigerant. */
  price: number;
  /** What doing it first saves on average, money with carbon; negative where it costs more than it saves. */
  saves: number;
}

/** The whole answer of the model. */
export interface AssessAnswer {
  /** The assessment date, as asked. */
  as_of: string;
  /** The leak and the charge today. */
  leak: LeakAnswer;
  /** When it runs low, and the charge over time. */
  forecast: ForecastAnswer;
  /** Chance of each leak location, 0–1, in the order of `LOCATION_IDS`; they add up to 1. */
  locations: { id: LocationId; probability: number }[];
  /** The options compared, in the order of `OPTION_IDS`. */
  options: OptionAnswer[];
  /** A cheap step to take first; null where none is worth naming. */
  first_step: FirstStep | null;
  /** What to do, and why. */
  verdict: Verdict;
  /** What information is worth before deciding. */
  value_of: ValueOf;
  /** Where repair and topping off cost the same. */
  break_even: BreakEven;
  /** What would change the answer, the largest swing first. */
  sensitivity: SensitivityRow[];
}
