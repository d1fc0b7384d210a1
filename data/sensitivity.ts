/**
 * The values at which each assumption is tried, in the order that breaks ties. `keep_years` and the prices are factors
 * on what was given; the others are the values themselves. Ranges are working assumptions.
 */
export const sensitivityRows = [
  { assumption: "keep_years", low: 0.5, high: 2 },
  { assumption: "repair_prices", low: 0.7, high: 1.3 },
  { assumption: "refrigerant_price", low: 0.7, high: 1.5 },
  { assumption: "low_fraction", low: 0.5, high: 0.7 },
  { assumption: "discount", low: 0, high: 0.07 },
  { assumption: "refrigerant_growth", low: 0, high: 0.15 },
  { assumption: "damage_chance", low: 0, high: 0.03 },
  { assumption: "relapse_rate", low: 0, high: 0.08 },
  { assumption: "seep_fraction", low: 0.024, high: 0.1 },
  { assumption: "hour_worth", low: 0, high: 40 },
  { assumption: "carbon_price_per_t", low: 0, high: 190 },
] as const;
