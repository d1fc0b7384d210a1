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

/**
 * `PricesInput` with every default filled in. What differs between leak locations stands in arrays of six, in the order
 * of `LOCATION_IDS`.
 */
export interface Prices {
  /** Price of a can of refrigerant, money, deposit not included. */
  can_price: number;
  /** Refrigerant in a full can, grams. */
  can_net_g: number;
  /** Deposit on a can, money. */
  can_deposit: number;
  /** Share of cans that are returned for their deposit, 0–1. */
  can_return_rate: number;
  /** Whether an opened can keeps what is left in it. */
  can_seal: CanSeal;
  /** The owner's time for a top-off at home, hours. */
  diy_hours: number;
  /** Worth of the owner's time, money an hour. */
  hour_worth: number;
  /** Price of gauges and hose for topping off at home, money, paid once. */
  tools_price: number;
  /** A shop's fee for a top-off, money, without refrigerant. */
  shop_topoff_fee: number;
  /** A shop's price of refrigerant, money a gram. */
  shop_refrigerant_per_g: number;
  /** Recovery, evacuation and recharge around a repair, money, without refrigerant. */
  repair_service: number;
  /** Finding the leak before a repair where no test has shown it, money. */
  locate_fee: number;
  /** Dye and putting it in, money. */
  dye_price: number;
  /** Looking for the dye some weeks later, money. */
  dye_inspection_fee: number;
  /** An electronic leak test, money. */
  electronic_price: number;
  /** Prior share of leaks at each location, 0–1; adding to 1. */
  share: number[];
  /** Parts and labor of the repair at each location, money, without the service around it. */
  price: number[];
  /** Chance that the repair at each location holds, above 0 and at most 1. */
  holds: number[];
  /** Part of a full recovery, evacuation and recharge that the repair at each location needs, 0–1. */
  service: number[];
  /** Chance that a dye test shows a leak at each location, 0–1. */
  dye: number[];
  /** Chance that an electronic leak test shows a leak at each location, 0–1. */
  electronic: number[];
  /** Chance that a visual inspection shows a leak at each location, 0–1. */
  visual: number[];
}

/** `AssumptionsInput` with every default filled in. */
export interface Assumptions {
  /** Charge below which the system cools poorly: mean over vehicles, as a share of the nameplate charge. */
  low_fraction: number;
  /** Standard deviation of that share between vehicles. */
  low_sd: number;
  /** Real discount rate, per year, continuous. */
  discount: number;
  /** Growth of the price of refrigerant over other prices, per year, continuous. */
  refrigerant_growth: number;
  /** Chance, at each low charge, that running low ruins the compressor, 0–1. */
  damage_chance: number;
  /** What a repair that did not hold costs again, as a share of its price. */
  rework_share: number;
  /** Rate of new leaks in a repaired system, per year. */
  relapse_rate: number;
  /** What a system without a leak loses, as a share of the nameplate charge a year. */
  seep_fraction: number;
  /** What stays in hose and can at home and escapes, as a share of what leaves the can. */
  heel: number;
}

/** `PlanInput` with every default filled in. */
export interface Plan {
  /** How long the vehicle will be kept, years: the horizon of every cost and release. */
  keep_years: number;
  /** Shortest time that a full charge must last to be topped off again, months; 0: no such floor. */
  floor_months: number;
  /** Who tops off: the owner at home, or a shop. */
  service: Service;
  /** Rate at which something else ends the vehicle's life, per year, continuous. */
  hazard: number;
  /** What a season of cooling is worth, money a year; null: living without it is not compared. */
  season_worth: number | null;
  /** Carbon price, money per tonne of CO₂ equivalent released. */
  carbon_price_per_t: number;
  /** Whose warming potentials count. */
  gwp: GwpSet;
  /** Gauges and hose need not be bought for the first top-off at home. */
  tools_owned: boolean;
  /** Options that the place or the owner rules out. */
  barred: readonly OptionId[];
  /** What gauge and vent readings said. */
  readings: ReadingsSay;
}

/**
 * The leak rate as believed before there is a log, a normal distribution of ln x with x in shares of the nameplate
 * charge a year: that of all vehicles (MODEL §3), of a kind of vehicle, or of a cohort (§9).
 */
export interface LeakPrior {
  /** Mean of ln x. */
  ln_x_mean: number;
  /** Standard deviation of ln x. */
  ln_x_sd: number;
}

/** A request with every default filled in and its log in date order: what the model works on. */
export interface Question {
  /** The assessment date, `YYYY-MM-DD`. */
  as_of: string;
  /** The same as a day number (`quantities/dates.ts`). */
  as_of_day: number;
  /** What the system is filled with. */
  refrigerant: RefrigerantId;
  /** Full charge by the label, grams. */
  nameplate_g: number;
  /** The leak rate as believed before the log. */
  leak_prior: LeakPrior;
  /** Mean outdoor temperature of January to December, °C; null: no season. */
  monthly_mean_c: readonly number[] | null;
  /** The charge log in date order. */
  log: readonly LogEntry[];
  /** Results of leak tests, as given. */
  findings: readonly Finding[];
  /** Day numbers between which every charge is in the log, and the chance 0–0.5 that one is missing; null: not said. */
  logged: { from_day: number | null; until_day: number; missed: number } | null;
  /** What the owner intends. */
  plan: Plan;
  /** Prices, and what is known of leak locations. */
  prices: Prices;
  /** What the model assumes. */
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
