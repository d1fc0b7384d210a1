/**
 * What other laws of leaking would do to the answers: each law's figures over the 34 worked cases, as the test
 * `test/published/leak-laws.test.ts` finds them; it fails where they differ. `hot_to_mild`: times as fast at 40 °C as
 * at 20 °C, R-134a. Changes are shares.
 */
export const LEAK_LAWS = [
  {
    law: "viscous",
    name: "Laminar, with the gas's own viscosity and density",
    where: "long narrow ways, like past a seal",
    hot_to_mild: 2.83,
    verdicts_changed: 0,
    leak_median: 0.004,
    leak_most: 0.115,
    cost_most: 0.104,
    days_most: 6,
  },
  {
    law: "molecular",
    name: "Molecular flow: pressure difference ÷ √T",
    where: "pores finer than a gas molecule's free path",
    hot_to_mild: 1.88,
    verdicts_changed: 0,
    leak_median: 0.013,
    leak_most: 0.29,
    cost_most: 0.108,
    days_most: 28,
  },
  {
    law: "orifice",
    name: "Choked flow: pressure ÷ √T",
    where: "a short hole, like a stone's mark",
    hot_to_mild: 1.72,
    verdicts_changed: 1,
    leak_median: 0.016,
    leak_most: 0.318,
    cost_most: 0.129,
    days_most: 38,
  },
  {
    law: "permeation",
    name: "Permeation, 30 kJ/mol: pressure × e^(−E/RT)",
    where: "through the rubber of hoses",
    hot_to_mild: 3.9,
    verdicts_changed: 1,
    leak_median: 0.005,
    leak_most: 0.23,
    cost_most: 0.028,
    days_most: 7,
  },
] as const;

export const LEAK_LAW_CASES = 34;
