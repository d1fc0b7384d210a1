/**
 * The trade's words and those of this product, once: shown where a word is used on a page, and listed on the method
 * page. A definition is one or two sentences that someone who knows cars but no statistics can repeat.
 */
export const GLOSSARY = {
  charge: {
    term: "charge",
    definition:
      "The refrigerant in the system, by weight. It is the only thing here that is called a charge; money is a price.",
  },
  nameplate: {
    term: "nameplate charge",
    definition:
      "The weight of refrigerant that the system is built for. It is on a label under the hood, often near the radiator or the strut.",
  },
  "top-off": {
    term: "top-off",
    definition: "Refrigerant added to a system that has lost some, without emptying it first. It does not stop a leak.",
  },
  "leak-rate": {
    term: "leak rate",
    definition:
      "How much refrigerant it loses in a year. It is calculated from the charge log, so it has a best estimate and a likely range.",
  },
  "kind-of-vehicle": {
    term: "kind of vehicle",
    definition: "Car, van, heavy vehicle or bus: how fast such vehicles usually leak, until the log knows better.",
  },
  "low-line": {
    term: "low line",
    definition:
      "The charge below which this vehicle starts to cool poorly. Around 60% of the nameplate charge in most vehicles; the log moves it for this one.",
  },
  "low-again": {
    term: "low again",
    definition: "It cools poorly again after it was topped off, because the charge has fallen below the low line.",
  },
  "watch-date": {
    term: "watch date",
    definition:
      "If it is low again before this date, the leak is too fast to keep topping off: repair it. The date allows for the season, because leaks are faster in heat.",
  },
  "switch-rule": {
    term: "switch rule",
    definition:
      "How long a charge must last to be worth topping off again. Of several such lengths, the one with the lowest average cost is used.",
  },
  floor: {
    term: "minimum time",
    definition:
      "How long a full charge must last to be topped off again, whatever it costs. Six months unless you change it.",
  },
  "dye-test": {
    term: "dye test",
    definition:
      "Ultraviolet dye goes in with the refrigerant; some weeks later a lamp shows where it has come out. It rarely shows an evaporator leak.",
  },
  "electronic-test": {
    term: "electronic leak test",
    definition:
      "A search along the system with a detector that senses refrigerant. It is quick, and sometimes points at a location that does not leak.",
  },
  recovery: {
    term: "recovery",
    definition: "Pulling the refrigerant out with a machine before work, so that none is vented.",
  },
  "low-side": {
    term: "low side",
    definition:
      "The cold, low-pressure half of the system, with the larger service port. Cans go on the low side, never on the high side.",
  },
  "normal-seep": {
    term: "normal seepage",
    definition:
      "What a system without a leak loses by design, through hoses and the shaft seal: a top-off about every five years.",
  },
  "expected-cost": {
    term: "average cost",
    definition:
      "What it costs on average over all the ways the leak may turn out. Later costs weigh a little less, and so do years in which the vehicle may be gone.",
  },
  "likely-range": {
    term: "likely range",
    definition: "In 90 of 100 cases like yours the true number lies inside it: 5 lie below, 5 above.",
  },
  "chance-cheapest": {
    term: "cheapest in … of 100",
    definition: "Of 100 vehicles with this log, how many would find this the cheapest option in the end.",
  },
  co2e: {
    term: "CO₂e",
    definition:
      "Carbon dioxide equivalent: how much carbon dioxide would warm the climate as much as the refrigerant released, over 100 years unless another set is chosen.",
  },
  "break-even": {
    term: "break-even",
    definition: "The value at which two options cost the same; beyond it, the other one is cheaper.",
  },
} as const satisfies Record<string, { term: string; definition: string }>;

export type GlossaryId = keyof typeof GLOSSARY;

/**
 * One term for one thing: what to write, for what, and what it is written instead of (regular expressions, any case).
 */
export interface TermRule {
  write: string;
  for: string;
  instead: readonly string[];
}

/** @internal Called from outside by tests alone. */
export const TERMS: readonly TermRule[] = [
  {
    write: "low; low charge",
    for: "below the level where cooling gets poor",
    instead: ["runs? low on charge", "low, or nearly so", "shortest spell", "shortest charge"],
  },
  {
    write: "cools poorly; short-cycling",
    for: "what people notice",
    instead: ["weakly", "rapid on and off", "turns weak"],
  },
  {
    write: "top off; recharge",
    for: "add to what is left; recover, evacuate and charge full by weight",
    instead: ["top up", "topping up"],
  },
  {
    write: "loses; releases; vent",
    for: "the leak; everything that reaches the air; letting out on purpose",
    instead: ["lets? out", "letting it out", "gets out", "to the air"],
  },
  { write: "location", for: "where it leaks", instead: ["at the likeliest place", "the place in only"] },
  {
    write: "visual inspection; electronic leak test",
    for: "the tests",
    instead: ["look-over", "look the fittings over", "detector test", "electronic test first"],
  },
  {
    write: "watch date; minimum time",
    for: "the date that decides; how long a full charge must last",
    instead: ["spell worth"],
  },
  {
    write: "option; not available; not allowed here",
    for: "ours to compare; out by the facts; out by law",
    instead: ["not open", "none open", "nothing is open", "barred by"],
  },
  {
    write: "calculate; best estimate",
    for: "all that is computed",
    instead: ["work(ed|s)? (it )?out", "\\breckon", "cost on average"],
  },
  {
    write: "certified technician; technician trained for high voltage",
    for: "who may",
    instead: ["licensed (people|hands|practice|shop)", "people trained on"],
  },
  {
    write: "save, sample, fix, reject, cancel",
    for: "what is done",
    instead: ["invented", "put(s|ting)? right", "\\bmended?\\b", "take the examples away"],
  },
  {
    write: "manifold gauges, drier, a system without a leak, more expensive",
    for: "the trade's and everyday words",
    instead: ["two-gauge set", "\\bdryer\\b", "little of it is wet", "sound system", "\\bdear(er|est)\\b"],
  },
  { write: "likely range", for: "9 of 10 cases", instead: ["nine cases of ten", "8 of 10", "nine of ten"] },
];
