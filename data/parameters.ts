/**
 * Every number a person can set, with its default, range, unit, plain meaning and source. The request parser takes its
 * ranges from here, the core its defaults, the forms their labels and the method page its tables, so they cannot drift.
 *
 * `source` is the published source that the default leans on, or WORKING where it is our assumption.
 */

export const WORKING = "working assumption";
const SHOP_RANGES = "United States shop price ranges, common practice, no source; ±40 % by region";

/** Defaults that depend on the refrigerant or on who tops it off. */
export type ByRefrigerant = { readonly "R-134a": number; readonly "R-1234yf": number; readonly "R-12": number };
export type ByService = { readonly diy: number; readonly shop: number };

export interface NumberParameter {
  readonly default: number | null | ByRefrigerant | ByService;
  readonly min: number;
  readonly max: number;
  readonly unit: string;
  readonly label: string;
  readonly meaning: string;
  readonly source: string;
}

const LARGE = 1_000_000;

export const planParameters = {
  keep_years: {
    default: 5,
    min: 0.25,
    max: 20,
    unit: "years",
    label: "Years the vehicle will be kept",
    meaning: "How far ahead costs and releases are counted.",
    source: WORKING,
  },
  floor_months: {
    default: 6,
    min: 0,
    max: 24,
    unit: "months",
    label: "Minimum time a charge must last",
    meaning: "A full charge that does not last this long is not topped off again. 0 switches the limit off.",
    source: "common practice, no source: a charge that does not last about six months wants a repair",
  },
  season_worth: {
    default: null,
    min: 0,
    max: 100_000,
    unit: "money per year",
    label: "Value of a year of cooling",
    meaning:
      "What a year of working air conditioning is worth to you; needed to compare going without. 150 US dollars with a failing compressor, or what 1.4 hours of labor cost in your price book, unless said otherwise.",
    source: WORKING,
  },
  carbon_price_per_t: {
    default: 0,
    min: 0,
    max: 10_000,
    unit: "money per tonne CO₂e",
    label: "Carbon price",
    meaning:
      "Adds the harm of released refrigerant to the cost compared. 0 leaves it out; the social cost of CO₂ in EPA's 2023 report is 190 (2020, 2 % discount rate).",
    source: "off by default; US EPA, Report on the Social Cost of Greenhouse Gases (2023)",
  },
} as const satisfies Record<string, NumberParameter>;

export const priceParameters = {
  can_price: {
    default: { "R-134a": 12, "R-1234yf": 45, "R-12": 30 },
    min: 0,
    max: LARGE,
    unit: "money per can",
    label: "Price of a can",
    meaning: "What one can of refrigerant costs, without deposit.",
    source: "common practice, no source: R-134a 12-oz can 9–20 US dollars",
  },
  can_net_g: {
    default: { "R-134a": 340, "R-1234yf": 227, "R-12": 340 },
    min: 1,
    max: 20_000,
    unit: "g",
    label: "Refrigerant in a can",
    meaning: "Net contents of one can.",
    source: "common practice, no source: 12 oz cans, 8 oz for R-1234yf",
  },
  can_deposit: {
    default: 0,
    min: 0,
    max: LARGE,
    unit: "money per can",
    label: "Deposit on a can",
    meaning: "Paid with each can and back when it is returned in time.",
    source: WORKING,
  },
  can_return_rate: {
    default: 0.9,
    min: 0,
    max: 1,
    unit: "share",
    label: "Cans returned in time",
    meaning: "Share of the cans whose deposit comes back.",
    source: "from memory: California's small-can programme aimed at 90 %, then 95 %",
  },
  diy_hours: {
    default: 0.75,
    min: 0,
    max: 100,
    unit: "hours",
    label: "Hours for a top-off at home",
    meaning: "Buying the can, fitting the hose, charging and returning the can.",
    source: WORKING,
  },
  hour_worth: {
    default: 15,
    min: 0,
    max: 10_000,
    unit: "money per hour",
    label: "Value of your time, per hour",
    meaning: "What an hour of your own time is worth to you.",
    source: WORKING,
  },
  tools_price: {
    default: 60,
    min: 0,
    max: LARGE,
    unit: "money",
    label: "Hose, gauge set and protection",
    meaning: "Bought once, at the first top-off at home, unless you own them.",
    source: "common practice, no source: a basic gauge set costs about 50",
  },
  shop_topoff_fee: {
    default: 150,
    min: 0,
    max: LARGE,
    unit: "money",
    label: "Shop's fee for a top-off",
    meaning: "Labor and machine for one top-off, without refrigerant.",
    source: SHOP_RANGES,
  },
  shop_refrigerant_per_g: {
    default: { "R-134a": 0.11, "R-1234yf": 0.35, "R-12": 0.3 },
    min: 0,
    max: 1000,
    unit: "money per g",
    label: "Shop's price of refrigerant",
    meaning: "What the shop charges for each gram that goes in.",
    source: SHOP_RANGES,
  },
  repair_service: {
    default: 180,
    min: 0,
    max: LARGE,
    unit: "money",
    label: "Recovery, evacuation and recharge",
    meaning:
      "The service around a repair: recover, evacuate, charge by weight; without refrigerant and without the repair itself.",
    source: "from memory: 100–250 US dollars for R-134a",
  },
  locate_fee: {
    default: 110,
    min: 0,
    max: LARGE,
    unit: "money",
    label: "Fee for finding the leak",
    meaning: "Charged with a repair when the place is not known yet.",
    source: SHOP_RANGES,
  },
  dye_price: {
    default: 25,
    min: 0,
    max: LARGE,
    unit: "money",
    label: "Dye",
    meaning: "Dye put in with the charge.",
    source: WORKING,
  },
  dye_inspection_fee: {
    default: { diy: 0, shop: 60 },
    min: 0,
    max: LARGE,
    unit: "money",
    label: "Looking for the dye",
    meaning: "Inspection with an ultraviolet lamp about five weeks later.",
    source: WORKING,
  },
  electronic_price: {
    default: 110,
    min: 0,
    max: LARGE,
    unit: "money",
    label: "Electronic leak test",
    meaning: "A shop's search with an electronic detector.",
    source: "common practice, no source: diagnosis 75–200 US dollars",
  },
} as const satisfies Record<string, NumberParameter>;

export const assumptionParameters = {
  low_fraction: {
    default: 0.6,
    min: 0.3,
    max: 0.85,
    unit: "of nameplate",
    label: "Charge below which it cools poorly",
    meaning:
      "Typical charge, as a share of the nameplate charge, below which cooling gets poor. The log moves it for this vehicle.",
    source:
      "Öko-Recherche (2001) takes a car's air conditioning to work normally until 40 % is lost; common practice, no source: cooling falls off below 60–70 % of the label charge; Atık and Aktaş, J. Thermal Sci. Technol. 31 (2011), found best capacity at 67 %",
  },
  low_sd: {
    default: 0.1,
    min: 0.01,
    max: 0.3,
    unit: "of nameplate",
    label: "How much that differs between vehicles",
    meaning: "Standard deviation of the charge at which cooling gets poor.",
    source: WORKING,
  },
  discount: {
    default: 0.03,
    min: 0,
    max: 1,
    unit: "per year",
    label: "Real discount rate",
    meaning: "How much less a cost next year weighs than one today, after inflation.",
    source:
      "from memory: 3.0 % real, US Department of Energy's federal energy management rate; NIST Handbook 135 method",
  },
  refrigerant_growth: {
    default: 0.05,
    min: 0,
    max: 1,
    unit: "per year",
    label: "Real rise of refrigerant prices",
    meaning: "How much faster than other prices refrigerant gets more expensive.",
    source: WORKING,
  },
  damage_chance: {
    default: 0.01,
    min: 0,
    max: 1,
    unit: "per low charge",
    label: "Chance that running low harms the compressor",
    meaning: "Each time it runs low after today, oil return suffers; this share of times costs a compressor.",
    source: WORKING,
  },
  rework_share: {
    default: 0.5,
    min: 0,
    max: 1,
    unit: "of price",
    label: "Share of the price when a repair is done again",
    meaning: "What a repair that did not hold costs again, as a share of its price.",
    source: WORKING,
  },
  relapse_rate: {
    default: 0.03,
    min: 0,
    max: 1,
    unit: "per year",
    label: "Chance that a sound repair leaks again",
    meaning: "Yearly chance that the same place leaks again after a repair that held.",
    source: WORKING,
  },
  seep_fraction: {
    default: 0.065,
    min: 0.005,
    max: 0.5,
    unit: "of nameplate per year",
    label: "Normal seepage of a system without a leak",
    meaning:
      "What a system without a leak loses through its hoses and seals; the trade says a recharge about every five years.",
    source:
      "Regular losses measured on fleets: Öko-Recherche (2001), 6.3 % a year; Schwarz and Harnisch (2003), 6.9 %; newer studies 2.4 to 5.2 %",
  },
  heel: {
    default: 0.1,
    min: 0,
    max: 0.5,
    unit: "of a can",
    label: "Left in hose and can",
    meaning: "Part of a can that does not reach the system.",
    source:
      "California Air Resources Board study 06-341: about a third of a can was lost with older cans; about 11 % is handling and hose, from memory",
  },
} as const satisfies Record<string, NumberParameter>;

/**
 * One row a leak place; the columns are those of `prices.locations.<id>`. Prices are parts and labor, without the
 * service around them.
 */
export const locationParameters = {
  "service-port": { share: 0.15, price: 70, holds: 0.95, service: 0.4, dye: 0.8, electronic: 0.9, visual: 0.3 },
  joint: { share: 0.25, price: 190, holds: 0.9, service: 1, dye: 0.85, electronic: 0.8, visual: 0.35 },
  hose: { share: 0.15, price: 360, holds: 0.93, service: 1, dye: 0.85, electronic: 0.75, visual: 0.4 },
  condenser: { share: 0.2, price: 680, holds: 0.95, service: 1, dye: 0.75, electronic: 0.65, visual: 0.35 },
  evaporator: { share: 0.1, price: 1350, holds: 0.93, service: 1, dye: 0.25, electronic: 0.6, visual: 0.05 },
  compressor: { share: 0.15, price: 980, holds: 0.93, service: 1, dye: 0.7, electronic: 0.7, visual: 0.45 },
} as const;

/** What the columns of `locationParameters` mean, with the range each accepts. */
export const locationColumns = {
  share: {
    min: 0,
    max: LARGE,
    unit: "share",
    label: "How often it is the place",
    meaning: "Prior share of leaks found there; the shares are scaled to add up to one.",
    source:
      "order from trade literature (compressor shaft seal and O-ring joints first), shares a working assumption; Öko-Recherche (2001) found the condenser to be the part most often replaced after a sudden loss (stones, crashes), which a slow leak seldom is",
  },
  price: {
    min: 0,
    max: LARGE,
    unit: "money",
    label: "Price of the repair",
    meaning: "Parts and labor, without recovery and recharge.",
    source: "from memory: United States price ranges",
  },
  holds: {
    min: 0.05,
    max: 1,
    unit: "chance",
    label: "Chance that the repair holds",
    meaning: "Chance that the leak is gone after the repair.",
    source: WORKING,
  },
  service: {
    min: 0,
    max: LARGE,
    unit: "of a full service",
    label: "Part of a full service it needs",
    meaning: "Share of a recovery, evacuation and recharge; a valve core is changed under pressure.",
    source: WORKING,
  },
  dye: {
    min: 0,
    max: 1,
    unit: "chance",
    label: "Dye shows it",
    meaning: "Chance that a dye inspection shows a leak there.",
    source: WORKING,
  },
  electronic: {
    min: 0,
    max: 1,
    unit: "chance",
    label: "Electronic test finds it",
    meaning: "Chance that an electronic test finds a leak there.",
    source: WORKING,
  },
  visual: {
    min: 0,
    max: 1,
    unit: "chance",
    label: "Visual inspection finds it",
    meaning: "Chance that looking the fittings over shows it (oil, damage).",
    source: WORKING,
  },
} as const;

/** What a log says that every charge is in. */
export const loggedParameters = {
  missed: {
    default: 0.1,
    min: 0,
    max: 0.5,
    unit: "chance",
    label: "Charges that were not logged",
    meaning: "Where every charge is meant to be in the log: the chance that one is missing all the same.",
    source: WORKING,
  },
} as const;

/** Other bounds of a request. */
export const requestBounds = {
  as_of: { min: "1990-01-01", max: "2100-01-01" },
  nameplate_g: { min: 100, max: 20_000 },
  monthly_mean_c: { min: -40, max: 50 },
  leak_prior: { ln_x_mean: { min: -8, max: 3 }, ln_x_sd: { min: 0.05, max: 3 } },
  log: { max_entries: 200, first_date: "1980-01-01", years_before: 40, amount_nameplates: 3, most_within_days: 366 },
  findings: { max_entries: 100 },
} as const;
