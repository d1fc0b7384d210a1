/**
 * The model's fixed numbers: priors, the noise of what is observed, test errors, hazards. People do not set these one
 * by one; the method page shows them all. Shares of the nameplate charge unless a unit is named.
 */

/** Grid of the posterior: ln of the relative leak rate (per year), and yearly growth of the leak. */
export const grid = {
  ln_x_first: Math.log(0.003),
  ln_x_last: Math.log(8),
  ln_x_count: 96,
  growth_first: -0.3,
  growth_step: 0.1,
  growth_count: 13,
} as const;

/**
 * What is believed before any entry: a log-normal leak rate x around 15 % of the charge a year, growing a little
 * (growth per year, continuous). `charge_mean` and `charge_sd` are shares of nameplate; `*_ln_x_sd`, standard
 * deviations of ln x.
 */
export const prior = {
  ln_x_mean: Math.log(0.15),
  ln_x_sd: 1.1,
  growth_mean: 0.05,
  growth_sd: 0.15,
  charge_mean: 0.6,
  charge_sd: 0.25,
  after_repair_ln_x_sd: 0.5,
} as const;

/** A leak is not extrapolated to grow further than this, in years. */
export const GROWTH_YEARS = 3;
/** Random part of what leaks over a year, as a share of the leak rate. */
export const LEAK_NOISE = 0.15;
/** Softness of the line between cooling and cooling weakly, as a share of nameplate. */
export const LOW_SOFTNESS = 0.04;
/** Weak cooling is noticed within this many years. */
export const NOTICED_WITHIN_YEARS = 0.25;

/** A vehicle whose records begin while it is in service was full at most so many years before: working assumption. */
export const IN_SERVICE_YEARS = 8;
/** Charges that may not have been logged are supposed one by one, until their weight is below this share of none. */
export const UNLOGGED_LEAST = 3e-3;

/** Soft comparisons of the charge with a line: `below` null is the vehicle's own weak-cooling charge. */
export const looks = {
  weak: { line: null, softness: 0.04, mistaken: 0.005 },
  ok: { line: null, softness: 0.04, mistaken: 0.005 },
  "short-cycling": { line: 0.5, softness: 0.1, mistaken: 0.005 },
  empty: { line: 0.1, softness: 0.04, mistaken: 0.00001 },
  "fill-unknown": { line: 1.1, softness: 0.05, mistaken: 0.005 },
} as const;

/** Chance that a low look is mistaken when gauge and vent readings say low, too. */
export const MISTAKEN_BESIDE_READINGS = 1e-6;
/** What is left in a system without pressure. */
export const NO_PRESSURE = { mean: 0.03, sd: 0.03 } as const;

/** How a fill was judged, and how well that tells the charge afterwards (mean and sd as shares of nameplate). */
export const fills = {
  weighed: { mean: 1, sd: 0.02, sd_least_g: 15 },
  gauges: { mean: 1, sd: 0.07 },
  "low-side": { mean: 0.97, sd: 0.12 },
  unknown: { mean: 0.9, sd: 0.2 },
  most_after_amount: 1.3,
  cans: { sd_g: 15, sd_share: 0.05 },
  scale: { sd_g: 10, sd_share: 0.01 },
} as const;

/** A recovery machine pulls out this share of the charge, and its scale reads with this sd. */
export const recovery = { share: 0.95, sd: 0.03, sd_least_g: 15 } as const;

/**
 * Chance of a false alarm of a whole test that misses the true place, and the leak in g/yr below which detection fades
 * (`k_min_g`). Electronic: the sensitivity that SAE J1628-2020 and SAE J2791 ask of a detector; the others are working
 * assumptions.
 */
export const tests = {
  dye: { false_alarm: 0.02, k_min_g: 10 },
  electronic: { false_alarm: 0.08, k_min_g: 4 },
  visual: { false_alarm: 0.1, k_min_g: 40 },
} as const;

/** Yearly chance that something else ends the vehicle's or the system's life first. */
export const hazards = { none: 0.02, some: 0.1, "compressor-failing": 0.35 } as const;
/** Worth of a cooling season with a failing compressor, money a year, unless said otherwise. */
export const FAILING_SEASON_WORTH = 150;

/** Top up now when the mean charge is under this multiple of the charge that cools weakly. */
export const TOP_UP_NOW_RATIO = 1.1;
/** A fill must leave this share of nameplate before the spell after it is judged. */
export const SPELL_FILL_SHARE = 0.8;
/** Switch rules compared, in months: the floor, and those of these that are longer. */
export const SWITCH_RULES_MONTHS = [6, 9, 12, 18, 24, 36, 48, 60] as const;
/** A finding this sure needs no fee for locating. */
export const LOCATED_SHARE = 0.8;
/** Years until dye is looked for. */
export const DYE_WAIT_YEARS = 0.1;
/** Part of the nameplate charge that gets out during a repair. */
export const REPAIR_RELEASE_SHARE = 0.05;
/** Seep of a sound system varies between vehicles: sd of its logarithm. */
export const SEEP_LN_SD = 0.5;
/** Four equally likely points that stand for a standard normal: the medians of its quarters. */
export const SEEP_POINTS = [-1.150349380376008, -0.318639363964375, 0.318639363964375, 1.150349380376008] as const;

/** A test must beat the best of the others by this much money, and lead to a repair this often, to be advised. */
export const test_advised = { saves: 15, leads_to_repair: 0.1 } as const;
/**
 * Options this close in cost (share, money) count as equal; then one that releases less than this share of the other is
 * preferred.
 */
export const tie = { share: 0.05, money: 25, release: 0.8 } as const;
/**
 * Guard against topping off a fast leak: chances, that a full charge does not last the floor, above which it holds
 * alone, and after a short spell. In simulated worlds these cost a fifth less than 0.5 and 0.25, and top off as many
 * charges that last under five months as the trade's rule of thumb does.
 */
export const guard = { likely: 0.7, possible: 0.5 } as const;
/** A low look that the log gave less than this chance is checked before anything is bought. */
export const SURPRISING = 0.04;
/**
 * New valve cores and sealing caps are a first step where the leak is at the ports with at least this chance: working
 * assumption.
 */
export const FIRST_STEP_LEAST = 0.05;
/** Upper limits of the classes, in years that a full charge lasts. */
export const classes = { fast: 0.5, moderate: 1.5, slow: 4 } as const;
/** Nodes whose weight is below this share of the largest are left out. */
export const NODE_CUT = 1e-6;
/** From this chance on it is sure that a repair held. */
export const REPAIR_SURE = 0.9;

/**
 * A group of vehicles: its mean of ln x is believed to lie near that of its kind of vehicle (`leak-priors.ts`), and its
 * spread is never less than `ln_x_sd_least`. Its vehicles' answers use both rounded to `step`, so that a small change
 * of the group does not make every answer stale.
 */
export const cohort = {
  ln_x_mean_sd: 0.8,
  /**
   * By how much, as a share (sd), a fleet's yearly loss may be off for all vehicles at once beside what is open about
   * its groups: set from 80 invented fleets with known losses, held on 40 others (audit-coverage.test.ts).
   */
  common_share: 0.05,
  ln_x_sd_least: 0.3,
  step: 0.05,
  /** With fewer vehicles that have a log, a group would learn from a vehicle what that vehicle then learns from it. */
  vehicles_least: 3,
} as const;

/** Hours at a shop, where a plan counts hours: common practice, no source; each fleet enters its own. */
export const shopTime = { repair_hours: 4, test_hours: 1 } as const;
