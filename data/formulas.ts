import { hindsight } from "./hindsight.ts";
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
 * One formula of the model: what it says in plain words, how it is written, and what its letters stand for. `^{…}`
 * raises what it encloses.
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
      "While there is liquid in a parked system, its pressure depends on the air's temperature alone, not on the amount. So a leak loses the same weight each day at a given temperature, and more in the heat.",
    formulas: [
      {
        id: "season",
        title: "How much each month counts",
        words:
          "A small leak is driven by the square of the pressure inside less the square of the air pressure outside. Each month's weight is that, divided by the mean of the year. Without a climate, every month counts the same.",
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
        words: `Today's leak rate times the season-weighted time between the days. A leak may grow from year to year; growth is projected no more than ${GROWTH_YEARS} years ahead.`,
        lines: [
          `clock(a, b) = ∫ from a to b of s(u) · e^{g · min(u, ${GROWTH_YEARS})} du`,
          "grams lost = k · clock(a, b)",
        ],
        symbols: [
          ["k", "leak rate today, g per year"],
          ["g", "growth of the leak, per year"],
          ["u", "years from today; the past is negative"],
        ],
      },
    ],
  },
  {
    id: "charge-log",
    title: "What an entry in the charge log says",
    intro: "You can't weigh the charge inside a system. Each entry tells something about it, with its own uncertainty.",
    formulas: [
      {
        id: "added",
        title: "Refrigerant added",
        words: `From cans, ${percent(of.heel.default)} stays in the hose and the can, and the amount is known to ${fills.cans.sd_g} g and ${percent(fills.cans.sd_share)} of it. By scale nothing is lost, and it is known to ${fills.scale.sd_g} g and ${percent(fills.scale.sd_share)}.`,
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
        words: `Recharged by weight: the nameplate charge, within ${percent(fills.weighed.sd)} or ${fills.weighed.sd_least_g} g. Judged by manifold gauges: ${percent(fills.gauges.mean)} of it, within ${percent(fills.gauges.sd)}; by a low-side gauge: ${percent(fills["low-side"].mean)}, within ${percent(fills["low-side"].sd)}. If the entry does not say: only that it was hardly above ${percent(looks["fill-unknown"].line)}; and if the amount is missing too, ${percent(fills.unknown.mean)} within ${percent(fills.unknown.sd)}.`,
        lines: ["m after ~ N(share · M₀, spread · M₀)"],
        symbols: [
          ["M₀", "nameplate charge, g"],
          ["N(a, b)", "a value around a, likely within b: normal with mean a and standard deviation b"],
        ],
      },
      {
        id: "recovered",
        title: "Refrigerant recovered",
        words: `A machine recovers about ${percent(recovery.share)} of what is there, and shows it within ${percent(recovery.sd)} of the nameplate charge or ${recovery.sd_least_g} g, whichever is more. Then the system is empty.`,
        lines: [`recovered = ${recovery.share} · m + N(0, max(${recovery.sd_least_g} g, ${recovery.sd} · M₀))`],
        symbols: [],
      },
      {
        id: "look",
        title: "How it cooled",
        words: `“Poorly” means the charge was below this vehicle's low line, “well” that it was above; short-cycling means it was below ${percent(looks["short-cycling"].line)} of the nameplate charge, no pressure left that it was below ${percent(looks.empty.line)}. The line is not sharp, and people are sometimes wrong.`,
        lines: ["chance of “poorly” = ε + (1 − 2ε) · Φ((b − m) ÷ β)"],
        symbols: [
          ["b", "low line: the charge below which this vehicle cools poorly, g"],
          [
            "β",
            `width of the line: ${percent(LOW_SOFTNESS)} of the nameplate charge (${percent(looks["short-cycling"].softness)} for short-cycling)`,
          ],
          ["ε", `chance of a mistake: ${percent(looks.weak.mistaken)}`],
          ["Φ", "share of a normal distribution that lies below"],
        ],
      },
      {
        id: "noticed",
        title: "It still cooled a while ago",
        words:
          "People notice poor cooling within a few weeks. So a first “poorly” after a top-off also says that it still cooled well shortly before. In a complete log, so does a time without an entry, unless a charge was missed.",
        lines: [
          `still well at max(last top-off, day − ${NOTICED_WITHIN_YEARS} years)`,
          "chance of no entry = P(cools) + p · P(low once, cools again) + p² · P(low twice, cools again) + …",
          "after n missed charges: m at the last entry − k · season · growth + n · (M0 − b)",
        ],
        symbols: [
          ["p", "chance that a charge was not logged, where all should be; after one, a leak is about twice as fast"],
          ["b", "low line: where it was charged from, less what it lost until somebody noticed"],
        ],
      },
      {
        id: "standing",
        title: "Low when last checked",
        words: `When the last check said low, and nothing since has ended that (a later “well”, a top-off, a recovery or a repair), the vehicle is low today. When readings say low, too, this is wrong in ${MISTAKEN_BESIDE_READINGS * 1e6} of a million cases only. No pressure left sets the charge: ${percent(NO_PRESSURE.mean)} of the nameplate charge, within ${percent(NO_PRESSURE.sd)}.`,
        lines: ["low today, if the last check said low"],
        symbols: [],
      },
    ],
  },
  {
    id: "leak-rate",
    title: "How fast it leaks",
    intro:
      "We try many leak rates, each with many rates of growth, and weigh each by how well it explains the charge log.",
    formulas: [
      {
        id: "belief",
        title: "How likely each leak rate is",
        words: `Before there is a log, a leaking vehicle is assumed to lose about ${percent(Math.exp(prior.ln_x_mean))} of its nameplate charge a year, anywhere from a few percent to nearly all (heavy vehicles and buses: below). Each entry then multiplies this by the chance of what was seen.`,
        lines: [
          "weight(x, g) ∝ prior(x, g) × product of the chances of what was seen",
          `prior: ln x ~ N(ln ${Number(Math.exp(prior.ln_x_mean).toPrecision(3))}, ${prior.ln_x_sd}), or that of its kind of vehicle (below),  g ~ N(${prior.growth_mean}, ${prior.growth_sd})`,
        ],
        symbols: [["x", "leak rate as a share of the nameplate charge a year: k ÷ M₀"]],
      },
      {
        id: "filter",
        title: "The charge at each leak rate",
        words: `Between two entries the charge falls by the leak, and its uncertainty grows by ${percent(LEAK_NOISE)} of a year's leak. Each entry corrects it as far as the two uncertainties allow (a Kalman filter for the charge and the low line together). It starts at ${percent(prior.charge_mean)} of the nameplate charge, within ${percent(prior.charge_sd)}; the low line at ${percent(of.low_fraction.default)}, within ${percent(of.low_sd.default)}.`,
        lines: ["m ← m − k · clock", `variance of m ← variance of m + (${LEAK_NOISE} · k)² · clock(2g)`],
        symbols: [["clock(2g)", "the clock with twice the growth, as variances add"]],
      },
      {
        id: "lasts",
        title: "How long a full charge lasts",
        words: `From the nameplate charge down to the low line, at today's leak rate and a year's mean weather. Under ${classes.fast * 12} months counts as a fast leak, up to ${classes.moderate * 12} months as moderate, up to ${classes.slow} years as slow, beyond that as normal seepage.`,
        lines: ["T = (M₀ − b) ÷ k"],
        symbols: [["T", "time that a full charge lasts, years"]],
      },
      {
        id: "regulation",
        title: "The two formulas of US leak-repair rules",
        words:
          "Shown beside the estimate for readers who know them. They count only what was added, and the limit of 365 days makes slow leaks look fast.",
        lines: [
          "annualizing = 100 · added ÷ M₀ · 365 ÷ min(365, days since the addition before)",
          "rolling average = 100 · added in the last 365 days, or since the last repair, ÷ M₀",
        ],
        symbols: [],
      },
    ],
  },
  {
    id: "forecast",
    title: "When it is low again",
    intro: "The charge curve and the next low date use all leak rates, each with its weight.",
    formulas: [
      {
        id: "next-low",
        title: "Chance of being low by a day",
        words:
          "For each leak rate: how likely the charge is below the low line by then. The dates shown are those by which 10, 50 and 90 of 100 such vehicles are low. If it is low now, they are today.",
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
        title: "What a test result says",
        words: `Each location's share is multiplied by the chance of that result if the leak were there, then all are scaled to add up to one. A test that misses the true location sometimes points at a wrong one: dye in ${percent(tests.dye.false_alarm)} of cases, electronic in ${percent(tests.electronic.false_alarm)}, visual in ${percent(tests.visual.false_alarm)}. Small leaks are harder to see.`,
        lines: ["share ∝ share before × chance of the result", "chance seen = d · (1 − e^{−k ÷ k_min})"],
        symbols: [
          ["d", "chance that the test sees a leak at this location, from the table below"],
          [
            "k_min",
            `leak rate below which the test starts to miss leaks: ${tests.electronic.k_min_g} g a year electronic, ${tests.dye.k_min_g} dye, ${tests.visual.k_min_g} visual inspection`,
          ],
        ],
      },
      {
        id: "after-repair",
        title: "After a repair",
        words: `Either it held, and only normal seepage is left; or it did not, and the leak is the old one or another. The entries that follow show which. From ${percent(REPAIR_SURE)} on we say it held.`,
        lines: [
          `q · N(ln x; ln ${of.seep_fraction.default}, ${prior.after_repair_ln_x_sd}) + (1 − q) · (½ weight before + ½ prior)`,
        ],
        symbols: [["q", "chance that a repair at this location holds, from the table below"]],
      },
    ],
  },
  {
    id: "costs",
    title: "What each option costs",
    intro:
      "Each option is followed through the years, for every leak rate and every location, and its costs are added up. It is an exact sum, not a simulation.",
    formulas: [
      {
        id: "discount",
        title: "How much a later year counts",
        words: `A later cost counts less: by the real discount rate, and by the chance that the vehicle or the system is gone by then: ${percent(hazards.none)} a year, ${percent(hazards.some)} with other trouble, ${percent(hazards["compressor-failing"])} with a failing compressor.`,
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
          "At home: the cans, your time, and the tools once. At a shop: a fee and a price per gram. Refrigerant gets more expensive with the years, and each time the system is low there is a small chance that the compressor is damaged.",
        lines: [
          "at home: a ÷ (1 − λ) ÷ can · (can price · e^{e · t} + deposit lost) + hours · value of an hour",
          "at a shop: fee + price per gram · e^{e · t} · a",
          "each low charge: + δ · price of a compressor repair",
        ],
        symbols: [
          ["e", `refrigerant price rise above inflation, ${of.refrigerant_growth.default} a year`],
          ["δ", `chance that a low charge damages the compressor, ${of.damage_chance.default}`],
        ],
      },
      {
        id: "switch-rule",
        title: "Topping off with a switch rule",
        words: `Topped off each time it is low, until a charge does not last as long as the rule says: then it is repaired. The minimum time is compared with longer rules of ${SWITCH_RULES_MONTHS.join(", ")} months, and the one with the lowest average cost is used. Times are adjusted for the season, or every leak would look fast in summer. A top-off is due today when the charge is below ${TOP_UP_NOW_RATIO} times the low line, or the last check said low. How long a charge lasted is judged if the top-off left at least ${percent(SPELL_FILL_SHARE)} of the nameplate charge.`,
        lines: ["season-adjusted time that a charge lasted < τ: repair, else top off"],
        symbols: [["τ", "the switch rule; the watch date is where it ends"]],
      },
      {
        id: "repair-cost",
        title: "A repair",
        words: `The repair with its chance of rework, as much of a recovery and recharge as the location needs, and a fee for finding it unless one location is ${percent(LOCATED_SHARE)} likely or more. Afterwards the same location may leak again, and even a system without a leak needs a top-off now and then.`,
        lines: [
          "V · (service + price per gram · M₀) + locating + P",
          "P = price · (1 + rework · (1 − q) ÷ q)",
          "relapse = rate · ∫ D(t) dt · the same again",
          "seep: a top-off of (1 − low line) · M₀ each (1 − low line) ÷ seep years",
        ],
        symbols: [
          ["V", "part of a full service that the location needs"],
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
        words: `A dye test costs the dye now and an inspection ${Math.round(DYE_WAIT_YEARS * 52)} weeks later; an electronic test its price now. For each possible result, the cheaper of repairing and topping off is taken. Their mean is what the test costs.`,
        lines: ["cost = price + Σ chance of the outcome · min(repair, top off | outcome)"],
        symbols: [],
      },
      {
        id: "live-without",
        title: "Going without",
        words: "Compared only if you say what a year of working air conditioning is worth to you.",
        lines: ["value of a year · ∫ D(t) dt"],
        symbols: [],
      },
    ],
  },
  {
    id: "release",
    title: "What is released",
    intro:
      "Releases are not discounted: a gram in five years warms as much as one today. They count for as long as the vehicle lasts.",
    formulas: [
      {
        id: "release-sum",
        title: "Grams released",
        words: `The leak until it is repaired, what stays in hoses and cans after a top-off at home, ${percent(REPAIR_RELEASE_SHARE)} of the charge at a repair, and normal seepage afterwards.`,
        lines: ["∫ k · s · e^{−h · t} dt + Σ a · λ ÷ (1 − λ) + repair + seep"],
        symbols: [],
      },
      {
        id: "co2e",
        title: "Carbon dioxide equivalent",
        words:
          "How much carbon dioxide would warm the climate as much. A carbon price adds to the costs that are compared.",
        lines: ["kg CO₂e = grams · GWP ÷ 1000", "added cost = carbon price · kg CO₂e ÷ 1000"],
        symbols: [
          [
            "GWP",
            "global warming potential of the refrigerant, from the table below: over 100 years unless another set is chosen",
          ],
        ],
      },
    ],
  },
  {
    id: "verdict",
    title: "The answer",
    intro:
      "The option with the lowest average cost: repair, top-off or, where it is compared, going without. Five rules come on top.",
    formulas: [
      {
        id: "test-rule",
        title: "When a test comes first",
        words: `Only when it saves more than $${test_advised.saves} over the best of the others, and leads to a repair in at least ${percent(test_advised.leads_to_repair)} of cases. A test that changes nothing is not worth it.`,
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
        title: "When topping off is not allowed by the minimum time",
        words: `When a full charge very likely (over ${percent(guard.likely)}) does not last the minimum time; or when the chance of that is over ${percent(guard.possible)} and the last charge did not last that long.`,
        lines: [`P(T < minimum time) > ${guard.likely}`],
        symbols: [],
      },
      {
        id: "empty-rule",
        title: "When no pressure is left",
        words:
          "A system without pressure has let air and moisture in. First the leak is found, then the system is evacuated and charged by weight. Topping off and a dye test are not offered.",
        lines: ["last check: no pressure left"],
        symbols: [],
      },
      {
        id: "surprise-rule",
        title: "When readings come first",
        words: `When the last check said low, the log before it gave that a chance under ${percent(SURPRISING)}, and readings do not say low: then it is either a sudden leak, or not low at all.`,
        lines: [`Σ w · chance of that check < ${SURPRISING}`],
        symbols: [["w", "weight of a leak rate and growth, by the log before that check"]],
      },
      {
        id: "cheapest",
        title: "How sure",
        words:
          "Each leak rate and location stands for a share of the vehicles with such a log. How often an option is the cheapest among them is its “cheapest in … of 100”. The likely range leaves out the lowest and the highest 5 of 100. It also covers what a test may show and whether a repair holds.",
        lines: [
          "P(cheapest) = Σ w · share of the location, where the option costs least",
          "P(repair holds) = q · e^{−rate · years left}",
        ],
        symbols: [],
      },
      {
        id: "information",
        title: "What more information is worth",
        words:
          "The cost of the best option now, less the mean cost of the best option once something is known. For a test, its price is subtracted.",
        lines: ["value = min of mean costs − mean of min costs"],
        symbols: [],
      },
      {
        id: "break-even-rule",
        title: "What would change it",
        words:
          "Break-even: the leak rate, repair price or carbon price at which topping off and repairing cost the same. Sensitivity: the whole model run again with one assumption at a low and at a high value.",
        lines: ["gap = cost of topping off − cost of repairing"],
        symbols: [],
      },
    ],
  },
  {
    id: "readings",
    title: "Readings, before anything is added",
    intro:
      "Nearly half of all poor cooling is not caused by low charge. Pressures are turned into the temperatures at which the refrigerant boils and condenses, so that one set of limits serves every refrigerant. Then each possible cause is weighed by how often it shows such readings.",
    formulas: [
      {
        id: "gauge-zero",
        title: "What a gauge takes for zero",
        words:
          "A gauge reads pressure above the air around it, and air pressure falls with altitude: half a psi for every 1000 ft. The model uses absolute pressures.",
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
          "With the engine off, as long as any liquid is left, a system has the saturation pressure of the air temperature, no matter how much is in it. Well below that there is only vapor, and its weight is its density times the inner volume of the system.",
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
        title: "What a full system should show",
        words:
          "A range wide enough for three published charts that disagree. Its lower end, normal in some and low in others, is a band of its own. Pressures are those of the refrigerant's own saturation curve at these temperatures.",
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
        words: `Bayes' rule with the tables below, as if readings were independent once the cause is known; a part whose own control hides a reading makes it count less. They count fully from ${coldDay.counts_from_c} °C up and say nothing of a running system below ${coldDay.counts_nothing_below_c} °C. A cause is named when it is more likely than all others together.`,
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
        words: `The one expected to reduce the uncertainty most, counted in bits. Below ${GAIN_WORTH_READING_BITS} bits it is not suggested. Beside it are the two causes it would most likely tell apart.`,
        lines: ["gain = uncertainty now − mean uncertainty after the reading;  uncertainty = −Σ P · log₂ P"],
        symbols: [],
      },
      {
        id: "amount-to-add",
        title: "How much to add",
        words: `First the amount that is missing even if the system holds as much as it may (95 of 100), so that overfilling is unlikely. Then small amounts, no more in total than is likely missing. Readings count for ${READINGS_COUNT_DAYS} days, or until refrigerant is added or recovered, or a repair is made.`,
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
    intro: "For a fleet: vehicles in a group share what their logs show, and a year's money goes where it saves most.",
    formulas: [
      {
        id: "group",
        title: "How a group helps",
        words: `The leak rates of a group have a middle and a spread of their own, fitted to the logs of its vehicles (at least ${cohort.vehicles_least}). A repaired vehicle is judged on its own. A vehicle with a short log relies more on the others in its group.`,
        lines: [
          "ln x ~ N(m, s) in place of the prior;  m and s by the EM method (Dempster, Laird and Rubin 1977) on Σ prior(g) · evidence",
          `m ~ N(mean of the kind of vehicle, ${cohort.ln_x_mean_sd}),  s ≥ ${cohort.ln_x_sd_least};  both in steps of ${cohort.step}`,
          "share from its own log = 1 − variance of ln x after ÷ before",
        ],
        symbols: [
          ["m, s", "mean and standard deviation of ln x in the group"],
          ["x", "share of the nameplate charge lost a year"],
          ["g", "growth of the leak a year"],
        ],
      },
      {
        id: "past-predictions",
        title: "How well it has predicted",
        words: "Each past charge is predicted again from the entries before it, and held against what came.",
        lines: [
          "the prior is that of the kind of vehicle: a group's was fitted to what came later",
          `it became low halfway between the last day it cooled, at most ${12 * NOTICED_WITHIN_YEARS} months before, and the day it was found`,
          "u = P(low by then), as said on the day of the charge;  0.05 ≤ u ≤ 0.95 is inside the likely range",
          "what has not come yet, or was charged while not low or repaired, counts as far as it was followed",
          "share inside = S(0.05) − S(0.95),  S by Kaplan and Meier (1958) on u;  its interval by Wilson (1927), with the effective number of Rothman (1978)",
          "after Dawid (1984): u is even from 0 to 1 if the predictions are right;  D-calibration (Haider, Hoehn, Davis and Greiner 2020) asks the same",
          `no share of fewer than ${hindsight.share_least} charges known to be inside or not;  the first ${hindsight.most_a_vehicle} charges of a vehicle in ${hindsight.years_back} years`,
        ],
        symbols: [["S(u)", "share of charges that last longer than the day with that chance"]],
      },
      {
        id: "budget",
        title: "A year's repair budget",
        words:
          "One option for each vehicle, so that all together cost or release the least, while what is due within a year stays within the budget. The plan is proven best, or we show how far it can be from the best. One more unit of budget saves about what the last one did.",
        lines: [
          "least Σ cost,  Σ due this year ≤ budget;  bound = largest over λ ≥ 0 of Σ min(cost + λ · due) − λ · budget",
          "due this year = money of the first year, undiscounted",
        ],
        symbols: [["λ", "what one more unit of budget would save"]],
      },
    ],
  },
];
