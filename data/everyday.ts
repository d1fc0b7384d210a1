/** What a release is compared with, for people who do not think in kilograms of carbon dioxide. */
export const GASOLINE = {
  co2_g_per_gallon: 8887,
  liters_per_gallon: 3.785411784,
  source:
    "US EPA, Greenhouse Gas Emissions from a Typical Passenger Vehicle: 8,887 g of CO₂ per gallon of gasoline burned",
} as const;
