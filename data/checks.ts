/** How the model was tested, each with what it was held against. The tests of the project run all of them. */
export const CHECKS = [
  {
    what: "Pressures and densities of the refrigerants",
    against:
      "tables from the reference equations of state, −30 to +70 °C, within 0.5 %; gauge pressures by °F against a service handbook's table, within 1.5 psi",
  },
  {
    what: "Global warming potentials",
    against: "the tables of IPCC's Fourth, Fifth and Sixth Assessment Reports, and published figures for a 12-oz can",
  },
  { what: "What later years weigh", against: "present value factors of NIST Handbook 135, four decimals" },
  {
    what: "The two regulatory leak rates",
    against: "examples worked by hand from the text of the rules",
  },
  {
    what: "The estimate of the leak",
    against: "straight-line logs of known rate, which lies inside the likely range",
  },
  {
    what: "The answer",
    against:
      "what the trade holds true: a recharge every five years is normal seep; every one to two years, topping off can be cheaper; one that does not last six months is never topped off again",
  },
  {
    what: "The whole model",
    against:
      "a second, independent computation of the same formulas, 34 cases, every number within one part in a million",
  },
  {
    what: "Readings",
    against:
      "the trade's ambient chart and a maker's: a system well charged by either reads normal, and each pattern it teaches gives its own finding first",
  },
  {
    what: "How a group helps",
    against: "simulated groups whose mean and spread are known, and a search of the whole range by brute force",
  },
  {
    what: "Likely ranges of a fleet",
    against:
      "simulated fleets with known leaks: about 9 of 10 hold the truth, however long the log, even if charges are missing",
  },
  {
    what: "A year's repair budget",
    against:
      "every possible plan of small random fleets, tried one by one, and an independent solver of integer programs",
  },
  { what: "Quotes", against: "invoices worked by hand, to the last cent, in four currencies" },
  {
    what: "Laws that must hold for any question",
    against:
      "hundreds of random ones in every run: chances add up to one, costs by year to the total, grams in ounces come back, the same question gives the same bytes, nothing becomes infinite",
  },
] as const;
