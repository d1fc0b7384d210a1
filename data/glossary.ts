/**
 * The trade's words and those of this product, once: shown where a word is used on a page, and listed on the method page.
 * A definition is one or two sentences that someone who knows cars but no statistics can repeat.
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
      "The weight of refrigerant that the system is built for. It stands on a label under the hood, often near the radiator or the strut.",
  },
  "top-off": {
    term: "top-off",
    definition: "Refrigerant added to a system that has lost some, without emptying it first. It does not stop a leak.",
  },
  "leak-rate": {
    term: "leak rate",
    definition:
      "How much refrigerant gets out in a year. It is worked out from the charge log, so it comes as a range, not as one number.",
  },
  "low-line": {
    term: "low line",
    definition:
      "The charge below which this vehicle starts to cool weakly. Around 60 % of the nameplate charge in most vehicles; the log moves it for this one.",
  },
  "low-again": {
    term: "low again",
    definition: "It cools weakly again after it was topped off, because the charge has fallen below the low line.",
  },
  "watch-date": {
    term: "watch date",
    definition:
      "The date that settles it: low again before it means that the leak is too fast to keep topping off. It allows for the season, because a leak runs faster in the heat.",
  },
  "switch-rule": {
    term: "switch rule",
    definition:
      "How long a charge must last to be worth topping off again. Of several such lengths, the one with the least expected cost is used.",
  },
  floor: {
    term: "shortest charge accepted",
    definition:
      "A charge that does not last this long is not topped off again, whatever it costs. Six months unless you change it.",
  },
  "dye-test": {
    term: "dye test",
    definition:
      "Ultraviolet dye goes in with the refrigerant; some weeks later a lamp shows where it has come out. It sees little of an evaporator.",
  },
  "electronic-test": {
    term: "electronic leak test",
    definition:
      "A search along the system with a detector that smells refrigerant. Quick; it sometimes points at a place that is tight.",
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
    term: "normal seep",
    definition:
      "What a sound system loses by design, through hoses and the shaft seal: a recharge about every five years.",
  },
  "expected-cost": {
    term: "cost on average",
    definition:
      "What it costs when every way the leak may turn out is counted by how likely it is. Costs in later years weigh a little less, and a year counts less the likelier the vehicle is gone by then.",
  },
  "likely-range": {
    term: "likely range",
    definition: "In 90 of 100 cases like this one the true number lies inside it: 5 lie below, 5 above.",
  },
  "chance-cheapest": {
    term: "cheapest in … of 100",
    definition:
      "Of 100 vehicles with this log, in how many this turns out to be the cheapest of the options when all is known.",
  },
  co2e: {
    term: "CO₂e",
    definition:
      "Carbon dioxide equivalent: how much carbon dioxide would warm the climate as much over 100 years as the refrigerant released.",
  },
  "break-even": {
    term: "break-even",
    definition: "The value at which two options cost the same; beyond it the answer changes.",
  },
} as const satisfies Record<string, { term: string; definition: string }>;

export type GlossaryId = keyof typeof GLOSSARY;
