import {
  classes,
  cohort,
  DYE_WAIT_YEARS,
  fills,
  GROWTH_YEARS,
  guard,
  hazards,
  LEAK_NOISE,
  LOCATED_SHARE,
  LOW_SOFTNESS,
  looks,
  MISTAKEN_BESIDE_READINGS,
  NO_PRESSURE,
  NOTICED_WITHIN_YEARS,
  prior,
  REPAIR_RELEASE_SHARE,
  REPAIR_SURE,
  recovery,
  SEEP_LN_SD,
  SPELL_FILL_SHARE,
  SURPRISING,
  SWITCH_RULES_MONTHS,
  TOP_UP_NOW_RATIO,
  test_advised,
  tests,
  tie,
} from "./model-constants.ts";
import { assumptionParameters } from "./parameters.ts";
import {
  bandLines,
  coldDay,
  expectedRegion,
  GAIN_WORTH_READING_BITS,
  READINGS_COUNT_DAYS,
  saysLines,
  systemVolume,
} from "./readings-table.ts";

/**
 * One formula of the model: what it says in plain words, how it is written, and what its letters stand for. `^{…}` raises
 * what it encloses.
 */
export interface Formula {
  id: string;
  title: string;
  words: string;
  lines: readonly string[];
  symbols: readonly (readonly [symbol: string, meaning: string])[];
}

export interface FormulaChapter {
  id: string;
  title: string;
  intro: string;
  formulas: readonly Formula[];
}

const minus = (value: number) => String(value).replace("-", "−");
const percent = (share: number) => `${Number((share * 100).toPrecision(3))} %`;
const of = assumptionParameters;

/** The model in the order in which numbers flow through it. Numbers are those that the code uses. */
export const FORMULAS: readonly FormulaChapter[] = [
  {
    id: "leak-clock",
    title: "A leak through the year",
    intro:
      "While there is liquid in a parked system, its pressure follows the air's temperature, whatever the amount. So a leak loses the same weight a day at a given temperature, and more of it in the heat.",
    formulas: [
      {
        id: "season",
        title: "How much each month weighs",
        words:
          "What drives a small leak is the square of the pressure inside less the square of the air pressure outside. Each month's share of that, against the mean of the year, is its weight. Without a climate every month weighs 1.",
        lines: ["drive = max(0, p(T)² − 101.325²)", "s = drive ÷ mean drive of the year"],
        symbols: [
          ["T", "mean temperature of the month, °C"],
          ["p(T)", "saturation pressure of the refrigerant at that temperature, kPa"],
          ["s", "season weight of the month"],
        ],
      },
      {
        id: "clock",
        title: "Grams lost between two days",
        words: `The leak rate of today, times the season-weighted time between the days. A leak may grow from year to year; nobody carries that growth further than ${GROWTH_YEARS} years ahead.`,
        lines: [
          `clock(a, b) = ∫ from a to b of s(u) · e^{g · min(u, ${GROWTH_YEARS})} du`,
          "grams lost = k · clock(a, b)",
        ],
        symbols: [
          ["k", "leak rate on the day of the question, g per year"],
          ["g", "growth of the leak, per year"],
          ["u", "years from the day of the question; the past is negative"],
        ],
      },
    ],
  },
  {
    id: "charge-log",
    title: "What a line of the log says",
    intro:
      "Nobody weighs a charge that is in the system. Every line says something about it, each with its own uncertainty.",
    formulas: [
      {
        id: "added",
        title: "Refrigerant added",
        words: `From cans, ${percent(of.heel.default)} stays in the hose and the can, and the amount is good to ${fills.cans.sd_g} g and ${percent(fills.cans.sd_share)} of it; by scale nothing is lost and it is good to ${fills.scale.sd_g} g and ${percent(fills.scale.sd_share)}.`,
        lines: ["m after = m before + a · (1 − λ)"],
        symbols: [
          ["m", "charge in the system, g"],
          ["a", "amount that left the cans or the scale, g"],
          ["λ", `share left behind: ${of.heel.default} from cans, 0 by scale`],
        ],
      },
      {
        id: "finish",
        title: "How full it was afterwards",
        words: `Charged by weight: the nameplate charge, within ${percent(fills.weighed.sd)} or ${fills.weighed.sd_least_g} g. Judged on a two-gauge set: ${percent(fills.gauges.mean)} of it, within ${percent(fills.gauges.sd)}; on a low-side gauge: ${percent(fills["low-side"].mean)}, within ${percent(fills["low-side"].sd)}. With no word on it: only that it was hardly above ${percent(looks["fill-unknown"].line)}; and if the amount is missing too, ${percent(fills.unknown.mean)} within ${percent(fills.unknown.sd)}.`,
        lines: ["m after ~ N(share · M₀, spread · M₀)"],
        symbols: [
          ["M₀", "nameplate charge, g"],
          ["N(a, b)", "a value around a, likely within b: normal with mean a and standard deviation b"],
        ],
      },
      {
        id: "recovered",
        title: "Refrigerant recovered",
        words: `A machine pulls out about ${percent(recovery.share)} of what is there, and shows it within ${percent(recovery.sd)} of the nameplate charge or ${recovery.sd_least_g} g, whichever is more. Then the system is empty.`,
        lines: [`recovered = ${recovery.share} · m + N(0, max(${recovery.sd_least_g} g, ${recovery.sd} · M₀))`],
        symbols: [],
      },
      {
        id: "look",
        title: "How it cooled",
        words: `“Weakly” says that the charge was below the low line of this vehicle, “well” that it was above; rapid on and off that it was below ${percent(looks["short-cycling"].line)} of the nameplate charge, no pressure left that it was below ${percent(looks.empty.line)}. The line is soft, and anyone can be mistaken once in a while.`,
        lines: ["chance of “weakly” = ε + (1 − 2ε) · Φ((b − m) ÷ β)"],
        symbols: [
          ["b", "low line: the charge below which this vehicle cools poorly, g"],
          [
            "β",
            `softness of the line: ${percent(LOW_SOFTNESS)} of the nameplate charge (${percent(looks["short-cycling"].softness)} for rapid on and off)`,
          ],
          ["ε", `chance of a mistake: ${percent(looks.weak.mistaken)}`],
          ["Φ", "share of a normal distribution that lies below"],
        ],
      },
      {
        id: "noticed",
        title: "It was still cooling a while ago",
        words:
          "Weak cooling is noticed before long. So a first “weakly” after a fill says also that it still cooled well a little earlier.",
        lines: [`still well at max(last fill, day − ${NOTICED_WITHIN_YEARS} years)`],
        symbols: [],
      },
      {
        id: "standing",
        title: "Low as seen",
        words: `A low look that no later “well”, no fill, no recovery and no repair has ended still stands: the vehicle is low today, whatever the log would make of it. When readings say low, too, it is mistaken in ${MISTAKEN_BESIDE_READINGS * 1e6} of a million cases only. No pressure left sets the charge: ${percent(NO_PRESSURE.mean)} of the nameplate charge, within ${percent(NO_PRESSURE.sd)}.`,
        lines: ["low today, if a low look stands"],
        symbols: [],
      },
    ],
  },
  {
    id: "leak-rate",
    title: "How fast it leaks",
    intro:
      "Many leak rates are tried, each with many growths, and each is asked how well it explains the log. The better it does, the more it counts.",
    formulas: [
      {
        id: "belief",
        title: "What is believed of each leak rate",
        words: `Before the log says anything, a leaking vehicle loses around ${percent(Math.exp(prior.ln_x_mean))} of its nameplate charge a year, anywhere from a few percent to nearly all of it. Each line of the log then multiplies the belief by the chance of what was seen.`,
        lines: [
          "belief(x, g) ∝ prior(x, g) × product of the chances of what was seen",
          `prior: ln x ~ N(ln ${Number(Math.exp(prior.ln_x_mean).toPrecision(3))}, ${prior.ln_x_sd}),  g ~ N(${prior.growth_mean}, ${prior.growth_sd})`,
        ],
        symbols: [["x", "leak rate as a share of the nameplate charge a year: k ÷ M₀"]],
      },
      {
        id: "filter",
        title: "The charge at each leak rate",
        words: `Between two lines the charge falls by what the leak clock says, and its uncertainty grows by ${percent(LEAK_NOISE)} of a year's leak. At a line it is corrected by what the line says, as much as the two uncertainties allow (a Kalman filter for the charge and the low line together). It starts at ${percent(prior.charge_mean)} of the nameplate charge, within ${percent(prior.charge_sd)}; the low line at ${percent(of.low_fraction.default)}, within ${percent(of.low_sd.default)}.`,
        lines: ["m ← m − k · clock", `variance of m ← variance of m + (${LEAK_NOISE} · k)² · clock(2g)`],
        symbols: [["clock(2g)", "the clock with twice the growth, as variances add"]],
      },
      {
        id: "lasts",
        title: "How long a full charge lasts",
        words: `From the nameplate charge down to the low line, at today's leak rate and a year's mean weather. Under ${classes.fast * 12} months counts as a fast leak, up to ${classes.moderate * 12} months as moderate, up to ${classes.slow} years as slow, beyond as normal seep.`,
        lines: ["T = (M₀ − b) ÷ k"],
        symbols: [["T", "time that a full charge lasts, years"]],
      },
      {
        id: "regulation",
        title: "The two formulas of US leak-repair rules",
        words:
          "Shown beside the estimate for those who know them. They count what was added and nothing else, and the cap of 365 days makes slow leaks look fast.",
        lines: [
          "annualizing = 100 · added ÷ M₀ · 365 ÷ min(365, days since the fill before)",
          "rolling average = 100 · added in the last 365 days, or since the last repair, ÷ M₀",
        ],
        symbols: [],
      },
    ],
  },
  {
    id: "forecast",
    title: "When it is low again",
    intro:
      "The curve of the charge and the date of the next low charge come from all leak rates, each with its weight.",
    formulas: [
      {
        id: "next-low",
        title: "Chance of being low by a day",
        words:
          "For each leak rate: how likely the charge is below the low line by then. The dates shown are those by which 10, 50 and 90 of 100 such vehicles are low; while a low look stands, they are today.",
        lines: ["P(low by t) = Σ w · Φ((b − m + k · clock(0, t)) ÷ spread)"],
        symbols: [["w", "weight of a leak rate and growth: how well they explain the log"]],
      },
    ],
  },
  {
    id: "places",
    title: "Where it leaks, and repairs",
    intro: "Each location starts with how often it is the leak; a visual inspection or a test changes that.",
    formulas: [
      {
        id: "bayes",
        title: "What a finding says",
        words: `Each place's share is multiplied by the chance of the finding if the leak were there, then all are scaled to add up to one. A test that misses the true place still points at a wrong one now and then: dye ${percent(tests.dye.false_alarm)}, electronic ${percent(tests.electronic.false_alarm)}, visual inspection ${percent(tests.visual.false_alarm)} of times. Tiny leaks are harder to see.`,
        lines: ["share ∝ share before × chance of the finding", "chance seen = d · (1 − e^{−k ÷ k_min})"],
        symbols: [
          ["d", "chance that the test sees a leak at this place, from the table below"],
          [
            "k_min",
            `leak below which a test loses its eye: ${tests.electronic.k_min_g} g a year electronic, ${tests.dye.k_min_g} dye, ${tests.visual.k_min_g} visual inspection`,
          ],
        ],
      },
      {
        id: "after-repair",
        title: "After a repair",
        words: `Either it held, and the system seeps like a sound one; or it did not, and the leak is the old one or some other. The log that follows tells which. From ${percent(REPAIR_SURE)} on it counts as held.`,
        lines: [
          `q · N(ln x; ln ${of.seep_fraction.default}, ${prior.after_repair_ln_x_sd}) + (1 − q) · (½ belief before + ½ prior)`,
        ],
        symbols: [["q", "chance that a repair at this place holds, from the table below"]],
      },
    ],
  },
  {
    id: "costs",
    title: "What each option costs",
    intro:
      "Every option is followed through the years, for every leak rate and every place, and its costs are added up. Nothing is left to chance: it is a sum, not a simulation.",
    formulas: [
      {
        id: "discount",
        title: "What a later year weighs",
        words: `A cost in later years weighs less, by the real discount rate, and by the chance that the vehicle or the system has gone by then: ${percent(hazards.none)} a year, ${percent(hazards.some)} with other trouble, ${percent(hazards["compressor-failing"])} with a failing compressor.`,
        lines: ["D(t) = e^{−(r + h) · t}"],
        symbols: [
          ["r", `real discount rate, ${of.discount.default} a year`],
          ["h", "yearly chance that something else ends it"],
        ],
      },
      {
        id: "top-off-cost",
        title: "A top-off",
        words:
          "At home: the cans, your time, and the tools once. At a shop: a fee and a price per gram. Refrigerant gets dearer with the years, and each time it has run low there is a small chance that the compressor was harmed.",
        lines: [
          "at home: a ÷ (1 − λ) ÷ can · (can price · e^{e · t} + deposit lost) + hours · worth of an hour",
          "at a shop: fee + price per gram · e^{e · t} · a",
          "each low charge: + δ · price of a compressor repair",
        ],
        symbols: [
          ["e", `real rise of refrigerant prices, ${of.refrigerant_growth.default} a year`],
          ["δ", `chance that running low harms the compressor, ${of.damage_chance.default}`],
        ],
      },
      {
        id: "switch-rule",
        title: "Topping off with a switch rule",
        words: `Topped off at every low charge, until a charge has not lasted as long as the rule says: then it is repaired. The shortest spell accepted is compared with longer rules out of ${SWITCH_RULES_MONTHS.join(", ")} months, and the one with the least expected cost is used. Lengths are season-adjusted, or every leak would look fast in summer. A top-up is due today when the charge is below ${TOP_UP_NOW_RATIO} times the low line, or a low look stands; the spell after a fill is judged when the fill left at least ${percent(SPELL_FILL_SHARE)} of the nameplate charge.`,
        lines: ["season-adjusted length of a charge < τ: repair, else top off"],
        symbols: [["τ", "the switch rule; the watch date is where it ends"]],
      },
      {
        id: "repair-cost",
        title: "A repair",
        words: `The repair itself with its chance of rework, as much of a recovery and recharge as the place needs, and a fee for finding it unless one place is ${percent(LOCATED_SHARE)} likely or more. Afterwards the same place may leak again, and even a sound system seeps and wants a top-off now and then.`,
        lines: [
          "V · (service + price per gram · M₀) + locating + P",
          "P = price · (1 + rework · (1 − q) ÷ q)",
          "relapse = rate · ∫ D(t) dt · the same again",
          "seep: a top-off of (1 − low line) · M₀ each (1 − low line) ÷ seep years",
        ],
        symbols: [
          ["V", "part of a full service that the place needs"],
          ["rework", `${percent(of.rework_share.default)} of the price`],
          ["rate", `${percent(of.relapse_rate.default)} a year`],
          [
            "seep",
            `${percent(of.seep_fraction.default)} a year, spread over vehicles by ${SEEP_LN_SD} in its logarithm`,
          ],
        ],
      },
      {
        id: "test-cost",
        title: "A test first",
        words: `A dye test costs the dye now and an inspection ${Math.round(DYE_WAIT_YEARS * 52)} weeks later; an electronic test its price now. For each thing it may show, the cheaper of repairing then and topping off is taken; the mean over them is what the test costs.`,
        lines: ["cost = price + Σ chance of the outcome · min(repair, top off | outcome)"],
        symbols: [],
      },
      {
        id: "live-without",
        title: "Living without it",
        words: "Compared only when a year of working air conditioning has a worth to you.",
        lines: ["worth of a year · ∫ D(t) dt"],
        symbols: [],
      },
    ],
  },
  {
    id: "release",
    title: "What gets out",
    intro:
      "Releases are not discounted: a gram in five years warms as much as one today. They count while the vehicle lasts.",
    formulas: [
      {
        id: "release-sum",
        title: "Grams to the air",
        words: `The leak until it is repaired, what stays in hoses and cans at a top-off at home, ${percent(REPAIR_RELEASE_SHARE)} of the charge at a repair, and the seep afterwards.`,
        lines: ["∫ k · s · e^{−h · t} dt + Σ a · λ ÷ (1 − λ) + repair + seep"],
        symbols: [],
      },
      {
        id: "co2e",
        title: "Carbon dioxide equivalent",
        words:
          "How much carbon dioxide would warm as much over 100 years. A carbon price adds to the costs that are compared.",
        lines: ["kg CO₂e = grams · GWP ÷ 1000", "added cost = carbon price · kg CO₂e ÷ 1000"],
        symbols: [["GWP", "global warming potential of the refrigerant over 100 years, from the table below"]],
      },
    ],
  },
  {
    id: "verdict",
    title: "The answer",
    intro:
      "The cheapest on average of repair, top-off and, where it is compared, living without; with five rules beside it.",
    formulas: [
      {
        id: "test-rule",
        title: "When a test comes first",
        words: `Only when it beats the best of the others by more than $${test_advised.saves}, and leads to a repair in at least ${percent(test_advised.leads_to_repair)} of cases: a test that changes nothing is not worth the trouble.`,
        lines: [`best of the others − cost of the test > ${test_advised.saves}`],
        symbols: [],
      },
      {
        id: "tie-rule",
        title: "When two cost nearly the same",
        words: `Within ${percent(tie.share)} or $${tie.money}, the larger, the one that releases less than ${percent(tie.release)} of the other is preferred.`,
        lines: [`difference ≤ max(${tie.share} · cost, ${tie.money})`],
        symbols: [],
      },
      {
        id: "floor-rule",
        title: "When topping off is out",
        words: `When a full charge very likely (over ${percent(guard.likely)}) does not last the shortest spell accepted; or when that has a chance of over ${percent(guard.possible)} and the last charge did not last that long.`,
        lines: [`P(T < shortest spell) > ${guard.likely}`],
        symbols: [],
      },
      {
        id: "empty-rule",
        title: "When no pressure is left",
        words:
          "A system without pressure has let air and moisture in. The leak is found, then it is evacuated and charged by weight: neither topping off nor a dye test is offered.",
        lines: ["standing look: no pressure left"],
        symbols: [],
      },
      {
        id: "surprise-rule",
        title: "When readings come first",
        words: `When the log before it gave the low look that stands a chance under ${percent(SURPRISING)}, and readings do not say low: either a sudden leak, or low charge is not the trouble.`,
        lines: [`Σ w · chance of the look < ${SURPRISING}`],
        symbols: [["w", "weight of a leak rate and growth, by the log before the look"]],
      },
      {
        id: "cheapest",
        title: "How sure",
        words:
          "Each leak rate and place stands for a share of vehicles with this log. How often an option is the cheapest among them is its “cheapest in … of 100”. The likely range leaves out the lowest and the highest 5 of 100, over what a test may show, too, and over whether a repair holds: where it holds, what was paid on the day is all.",
        lines: [
          "P(cheapest) = Σ w · share of the place, where the option costs least",
          "P(repair holds) = q · e^{−rate · years left}",
        ],
        symbols: [],
      },
      {
        id: "information",
        title: "What knowing more is worth",
        words:
          "The cost of the best choice now, less the mean cost of the best choice once something is known. For a test, its price is taken off.",
        lines: ["worth = min of mean costs − mean of min costs"],
        symbols: [],
      },
      {
        id: "break-even-rule",
        title: "What would change it",
        words:
          "Break-evens: the leak rate, the repair prices and the carbon price at which topping off and repairing cost the same. Sensitivity: the whole model run again with one assumption at a low and at a high value.",
        lines: ["gap = cost of topping off − cost of repairing"],
        symbols: [],
      },
    ],
  },
  {
    id: "readings",
    title: "Readings, before anything is added",
    intro:
      "Nearly half of all poor cooling is not caused by low charge. Pressures are turned into the temperatures at which the refrigerant boils and condenses, so that one set of lines serves every refrigerant; then each finding is weighed by how often it shows such readings.",
    formulas: [
      {
        id: "gauge-zero",
        title: "What a gauge takes for zero",
        words:
          "A gauge reads over the air around it, and the air thins with height: half a psi for every 1000 ft. Inside, all pressures are absolute.",
        lines: ["p = reading + 101.325 · (1 − 0.0065 · h ÷ 288.15)^{5.2559}"],
        symbols: [
          ["p", "pressure, kPa absolute"],
          ["h", "altitude, m (US Standard Atmosphere 1976)"],
        ],
      },
      {
        id: "static-pressure",
        title: "Engine off",
        words:
          "While any liquid is left, a standing system has the saturation pressure of the air temperature, whatever the amount. Well below that there is vapor alone, and its weight is its density times the inner volume of the system.",
        lines: [
          `no liquid: p < ${bandLines.static.lines[1]} · p(T);  other gas, or warmer than the air: p > ${bandLines.static.lines[2]} · p(T)`,
          `grams left = density(T, p) · volume;  volume ≈ ${systemVolume.ml_per_g} mL a gram of nameplate charge (${systemVolume.from_ml_per_g} to ${systemVolume.to_ml_per_g})`,
        ],
        symbols: [
          ["T", "air temperature, °C"],
          ["p(T)", "saturation pressure, kPa absolute"],
        ],
      },
      {
        id: "expected-pressures",
        title: "What is expected of a well-charged system",
        words:
          "A range, wide enough to hold three printed charts that contradict each other; its lower end, normal in some and low in others, is a band of its own. Pressures are those of the refrigerant's own saturation curve at these temperatures.",
        lines: [
          `evaporating: ${minus(expectedRegion.evaporating.floor_c)} to min(${expectedRegion.evaporating.ceiling_c}, T − ${expectedRegion.evaporating.under_ambient_k}) °C`,
          `its lower end, and where it begins below ${expectedRegion.evaporating.idle_below_rpm} rpm: up to ${minus(expectedRegion.evaporating.idle_floor_c)} + ${expectedRegion.evaporating.idle_lifts_per_k} · max(0, T − ${expectedRegion.evaporating.idle_lifts_above_c}) °C`,
          `condensing over the air: ${expectedRegion.condensing_over_ambient.from_k} to min(${expectedRegion.condensing_over_ambient.to_at_most_k}, ${expectedRegion.condensing_over_ambient.to_k} + ${expectedRegion.condensing_over_ambient.to_lifts_per_k} · max(0, T − ${expectedRegion.condensing_over_ambient.to_lifts_above_c})) K`,
          `its lower end: up to ${expectedRegion.condensing_over_ambient.lower_end_to_k} + ${expectedRegion.condensing_over_ambient.lower_end_lifts_per_k} · max(0, T − ${expectedRegion.condensing_over_ambient.lower_end_lifts_above_c}) K`,
          `vent air: T − ${expectedRegion.vent.under_ambient_k} °C or colder; ${expectedRegion.vent.further_per_percent_k} K more for each percent of humidity under ${expectedRegion.vent.humid_percent}, down to ${expectedRegion.vent.dry_percent} %`,
        ],
        symbols: [["T", "air temperature, °C"]],
      },
      {
        id: "findings-rule",
        title: "How possible causes are ranked",
        words: `Bayes' rule with the tables below, as if readings were independent once the cause is known; a part whose own control hides a reading makes it count less. They count fully from ${coldDay.counts_from_c} °C up and say nothing of a running system below ${coldDay.counts_nothing_below_c} °C. A cause is named when it is likelier than all others together.`,
        lines: [
          "P(cause | readings) ∝ share of the cause · product of how often it shows each reading",
          `balance, where the low side is below ${minus(bandLines.balance.asked_below_c)} °C: (condensing − T) ÷ ${bandLines.balance.usual_over_ambient_k} K − p(low side) ÷ p(${bandLines.balance.usual_evaporating_c} °C)`,
          `low: P(low charge) + P(nearly empty) ≥ ${saysLines.low_from}, and ${saysLines.low_signs} readings that point to it;  not low: ≤ ${saysLines.not_low_to}`,
        ],
        symbols: [],
      },
      {
        id: "next-reading",
        title: "Which reading to take next",
        words: `The one that is expected to leave least open, counted in bits. Under ${GAIN_WORTH_READING_BITS} bits it is not asked for. Beside it stand the two causes that it would most likely tell apart.`,
        lines: ["gain = openness now − mean openness after the reading;  openness = −Σ P · log₂ P"],
        symbols: [],
      },
      {
        id: "amount-to-add",
        title: "How much goes in",
        words: `First what is missing even if the system holds as much as it may (95 of 100), so that overfilling is unlikely; then small parts, never beyond what is likely missing. Readings of the last ${READINGS_COUNT_DAYS} days narrow what it holds, until something is added, recovered or repaired.`,
        lines: [
          "first = nameplate − charge (95 %);  never more than nameplate − mean charge",
          `cans = amount ÷ (1 − ${of.heel.default}) ÷ net weight of a can`,
        ],
        symbols: [],
      },
    ],
  },
  {
    id: "fleet",
    title: "Many vehicles",
    intro: "What a fleet adds: vehicles of a group inform each other, and a year's money goes where it saves most.",
    formulas: [
      {
        id: "group",
        title: "What a group knows",
        words: `Leak rates of a group spread around one of their own. Its middle and spread are fitted to the logs of its vehicles, ${cohort.vehicles_least} at least; a vehicle that was repaired stands for itself. A vehicle with a short log leans on its sisters.`,
        lines: [
          "ln x ~ N(m, s) in place of the prior;  m and s by the EM method (Dempster, Laird and Rubin 1977) on Σ prior(g) · evidence",
          `m ~ N(ln ${Number(Math.exp(cohort.ln_x_mean).toFixed(3))}, ${cohort.ln_x_mean_sd}),  s ≥ ${cohort.ln_x_sd_least};  both in steps of ${cohort.step}`,
          "part from its own log = 1 − variance of ln x after ÷ before",
        ],
        symbols: [
          ["m, s", "mean and standard deviation of ln x in the group"],
          ["x", "share of the nameplate charge lost a year"],
          ["g", "growth of the leak a year"],
        ],
      },
      {
        id: "budget",
        title: "A year's repair budget",
        words:
          "One option for every vehicle, so that all together cost least, or release least, while what falls due within a year stays within the budget. The plan is proven best, or its distance from a bound that no plan can beat is shown. One more unit of budget saves about what the last one did.",
        lines: [
          "least Σ cost,  Σ due this year ≤ budget;  bound = largest over λ ≥ 0 of Σ min(cost + λ · due) − λ · budget",
          "due this year = money of the first year, undiscounted",
        ],
        symbols: [["λ", "what one more unit of budget would save"]],
      },
    ],
  },
];
