import { leakPriorOf } from "../../../data/leak-priors.ts";
import { FAILING_SEASON_WORTH, hazards } from "../../../data/model-constants.ts";
import {
  assumptionParameters,
  locationParameters,
  loggedParameters,
  planParameters,
  priceParameters,
} from "../../../data/parameters.ts";
import { dayNumber } from "../quantities/dates.ts";
import {
  type AssessRequest,
  type CanSeal,
  type Finding,
  type GwpSet,
  LOCATION_IDS,
  type LogEntry,
  type OptionId,
  type ReadingsSay,
  type RefrigerantId,
  type Service,
} from "./contract.ts";

/** Money and place numbers of a question, all filled in; location columns are arrays in the order of `LOCATION_IDS`. */
export interface Prices {
  /** Money a can; its net content in grams; deposit money a can; share of cans returned. */
  can_price: number;
  can_net_g: number;
  can_deposit: number;
  can_return_rate: number;
  can_seal: CanSeal;
  /** Hours a top-off at home, and money an hour. */
  diy_hours: number;
  hour_worth: number;
  /** Money, once. */
  tools_price: number;
  /** Money a top-off, and money a gram. */
  shop_topoff_fee: number;
  shop_refrigerant_per_g: number;
  /** Recovery, evacuation and recharge, money without refrigerant; and finding the leak, money. */
  repair_service: number;
  locate_fee: number;
  /** Tests: money each. */
  dye_price: number;
  dye_inspection_fee: number;
  electronic_price: number;
  /** Prior shares, adding to 1. */
  share: number[];
  /** Repair by location, money for parts and labor. */
  price: number[];
  /** Chance that it holds, by location. */
  holds: number[];
  /** Part of a full service that it needs, by location. */
  service: number[];
  /** Chance that each test shows a leak, by location. */
  dye: number[];
  electronic: number[];
  visual: number[];
}

export interface Assumptions {
  /** Charge below which it cools poorly, share of nameplate, and its standard deviation. */
  low_fraction: number;
  low_sd: number;
  /** Per year, continuous; likewise the growth of the price of refrigerant. */
  discount: number;
  refrigerant_growth: number;
  /** At each low charge. */
  damage_chance: number;
  /** Share of the price of a repair. */
  rework_share: number;
  /** Per year. */
  relapse_rate: number;
  /** Share of the charge a year. */
  seep_fraction: number;
  /** Share of what leaves a can. */
  heel: number;
}

export interface Plan {
  /** Years. */
  keep_years: number;
  /** Months that a full charge must last at least. */
  floor_months: number;
  service: Service;
  /** Yearly chance, continuous, that something else ends the vehicle's life. */
  hazard: number;
  /** Money a year; null: living without it is not compared. */
  season_worth: number | null;
  /** Money per tonne of CO₂ equivalent. */
  carbon_price_per_t: number;
  gwp: GwpSet;
  tools_owned: boolean;
  barred: readonly OptionId[];
  readings: ReadingsSay;
}

/** What is believed of ln x before there is a log: MODEL §3's, a kind's of vehicle, or a cohort's (§9). */
export interface LeakPrior {
  /** Mean of ln x, x in shares of the nameplate charge a year. */
  ln_x_mean: number;
  /** Its standard deviation. */
  ln_x_sd: number;
}

/** A request with every default filled in and its log in date order: what the model works on. */
export interface Question {
  as_of: string;
  /** The same as a day number, see `quantities/dates.ts`. */
  as_of_day: number;
  refrigerant: RefrigerantId;
  /** Full charge by the label, grams. */
  nameplate_g: number;
  /** What is believed of the leak before there is a log, by kind of vehicle. */
  leak_prior: LeakPrior;
  /** Outdoor means of January to December, °C; null: no season. */
  monthly_mean_c: readonly number[] | null;
  /** By date. */
  log: readonly LogEntry[];
  findings: readonly Finding[];
  /** Every charge from one day to the other is in the log, but for the chance `missed`. */
  logged: { from_day: number | null; until_day: number; missed: number } | null;
  plan: Plan;
  prices: Prices;
  assumptions: Assumptions;
}

/**
 * Fills in the defaults of `data/parameters.ts` and sorts the log by date, entries of one date staying in the order
 * given. Ranges are checked where requests come in; here a date that does not exist throws RangeError.
 */
export function questionOf(request: AssessRequest): Question {
  const { refrigerant, nameplate_g } = request.vehicle;
  const plan = request.plan ?? {};
  const service = plan.service ?? "diy";
  const other_trouble = plan.other_trouble ?? "none";
  return {
    as_of: request.as_of,
    as_of_day: dayNumber(request.as_of),
    refrigerant,
    nameplate_g,
    leak_prior: request.vehicle.leak_prior ?? leakPriorOf(request.vehicle.kind ?? null),
    monthly_mean_c: request.vehicle.monthly_mean_c ?? null,
    log: (request.log ?? []).toSorted((a, b) => dayNumber(a.date) - dayNumber(b.date)),
    findings: request.findings ?? [],
    logged: loggedOf(request),
    plan: {
      keep_years: plan.keep_years ?? planParameters.keep_years.default,
      floor_months: plan.floor_months ?? planParameters.floor_months.default,
      service,
      hazard: hazards[other_trouble],
      season_worth: plan.season_worth ?? (other_trouble === "compressor-failing" ? FAILING_SEASON_WORTH : null),
      carbon_price_per_t: plan.carbon_price_per_t ?? planParameters.carbon_price_per_t.default,
      gwp: plan.gwp ?? "AR6",
      tools_owned: plan.tools_owned ?? false,
      barred: plan.barred ?? [],
      readings: plan.readings ?? "undecided",
    },
    prices: pricesOf(request, refrigerant, service),
    assumptions: assumptionsOf(request),
  };
}

function loggedOf({ logged }: AssessRequest): Question["logged"] {
  if (logged == null) return null;
  return {
    from_day: logged.from == null ? null : dayNumber(logged.from),
    until_day: dayNumber(logged.until),
    missed: logged.missed ?? loggedParameters.missed.default,
  };
}

function pricesOf(request: AssessRequest, refrigerant: RefrigerantId, service: Service): Prices {
  const given = request.prices ?? {};
  const of = priceParameters;
  const column = (name: keyof (typeof locationParameters)["joint"]): number[] =>
    LOCATION_IDS.map((id) => given.locations?.[id]?.[name] ?? locationParameters[id][name]);
  const share = column("share");
  const total = share.reduce((sum, one) => sum + one, 0);
  return {
    can_price: given.can_price ?? of.can_price.default[refrigerant],
    can_net_g: given.can_net_g ?? of.can_net_g.default[refrigerant],
    can_deposit: given.can_deposit ?? of.can_deposit.default,
    can_return_rate: given.can_return_rate ?? of.can_return_rate.default,
    can_seal: given.can_seal ?? "self-sealing",
    diy_hours: given.diy_hours ?? of.diy_hours.default,
    hour_worth: given.hour_worth ?? of.hour_worth.default,
    tools_price: given.tools_price ?? of.tools_price.default,
    shop_topoff_fee: given.shop_topoff_fee ?? of.shop_topoff_fee.default,
    shop_refrigerant_per_g: given.shop_refrigerant_per_g ?? of.shop_refrigerant_per_g.default[refrigerant],
    repair_service: given.repair_service ?? of.repair_service.default,
    locate_fee: given.locate_fee ?? of.locate_fee.default,
    dye_price: given.dye_price ?? of.dye_price.default,
    dye_inspection_fee: given.dye_inspection_fee ?? of.dye_inspection_fee.default[service],
    electronic_price: given.electronic_price ?? of.electronic_price.default,
    share: share.map((one) => one / total),
    price: column("price"),
    holds: column("holds"),
    service: column("service"),
    dye: column("dye"),
    electronic: column("electronic"),
    visual: column("visual"),
  };
}

function assumptionsOf(request: AssessRequest): Assumptions {
  const given = request.assumptions ?? {};
  const of = assumptionParameters;
  return {
    low_fraction: given.low_fraction ?? of.low_fraction.default,
    low_sd: given.low_sd ?? of.low_sd.default,
    discount: given.discount ?? of.discount.default,
    refrigerant_growth: given.refrigerant_growth ?? of.refrigerant_growth.default,
    damage_chance: given.damage_chance ?? of.damage_chance.default,
    rework_share: given.rework_share ?? of.rework_share.default,
    relapse_rate: given.relapse_rate ?? of.relapse_rate.default,
    seep_fraction: given.seep_fraction ?? of.seep_fraction.default,
    heel: given.heel ?? of.heel.default,
  };
}
