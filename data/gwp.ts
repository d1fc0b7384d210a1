import type { GwpSet, RefrigerantId } from "../src/core/question/contract.ts";

export interface GwpSetData {
  /** Kilograms of CO₂ that warm as much over 100 years as one kilogram of the gas. */
  values: Readonly<Record<RefrigerantId, number>>;
  source: string;
}

/**
 * Global warming potentials over 100 years. The sets differ by up to a fifth for R-134a; one result never mixes them.
 * AR5's R-1234yf is printed there as "<1": 1 is its upper end.
 */
export const GWP_DATA: Readonly<Record<GwpSet, GwpSetData>> = {
  AR4: {
    values: { "R-134a": 1430, "R-1234yf": 4, "R-12": 10_900 },
    source:
      "IPCC Fourth Assessment Report (2007), Working Group I, table 2.14; R-1234yf is not in it, 4 is the value of Regulation (EU) 517/2014, Annex II",
  },
  AR5: {
    values: { "R-134a": 1300, "R-1234yf": 1, "R-12": 10_200 },
    source:
      "IPCC Fifth Assessment Report (2013), Working Group I, table 8.A.1, without climate-carbon feedback; R-1234yf is printed as <1",
  },
  AR6: {
    values: { "R-134a": 1530, "R-1234yf": 0.501, "R-12": 12_500 },
    source: "IPCC Sixth Assessment Report (2021), Working Group I, table 7.SM.7",
  },
};
