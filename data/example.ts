/**
 * The sample that the start page shows when asked: an ordinary car, topped off from cans about once a year, now cooling
 * poorly again. Made up. Days are counted back from the day of the question, so that the sample never ages.
 */
export const EXAMPLE = {
  units: "us",
  refrigerant: "R-134a",
  electric: "no",
  nameplate: "23 oz",
  climate: "warm-continental",
  lines: [
    { days_ago: 1234, did: "cans", amount: "12 oz", cooled: "weak" },
    { days_ago: 881, did: "cans", amount: "10 oz", cooled: "weak" },
    { days_ago: 519, did: "cans", amount: "1 can", cooled: "weak" },
  ],
  today: "weak",
  keep: "5",
  service: "diy",
  tools: true,
} as const;
