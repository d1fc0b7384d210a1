import type { GwpSet, RefrigerantId } from "../src/core/question/contract.ts";

export interface GwpSetData {
  name: string;
  /** Over how many years. */
  years: 20 | 100;
  /** Kilograms of CO₂ that warm as much over those years as one kilogram of the gas. */
  values: Readonly<Record<RefrigerantId, number>>;
  source: string;
}

/**
 * Global warming potentials. The sets differ by up to a fifth for R-134a over 100 years, and threefold over 20; one
 * result never mixes them. AR5's R-1234yf is printed there as "<1": 1 is its upper end.
 */
export const GWP_DATA: Readonly<Record<GwpSet, GwpSetData>> = {
  AR4: {
    name: "IPCC, fourth report",
    years: 100,
    values: { "R-134a": 1430, "R-1234yf": 4, "R-12": 10_900 },
    source:
      "IPCC Fourth Assessment Report (2007), Working Group I, table 2.14; R-1234yf is not in it, 4 is the value of Regulation (EU) 517/2014, Annex II",
  },
  AR5: {
    name: "IPCC, fifth report",
    years: 100,
    values: { "R-134a": 1300, "R-1234yf": 1, "R-12": 10_200 },
    source:
      "IPCC Fifth Assessment Report (2013), Working Group I, table 8.A.1, without climate-carbon feedback; R-1234yf is printed as <1",
  },
  AR6: {
    name: "IPCC, sixth report",
    years: 100,
    values: { "R-134a": 1530, "R-1234yf": 0.501, "R-12": 12_500 },
    source: "IPCC Sixth Assessment Report (2021), Working Group I, table 7.SM.7",
  },
  "AR6-20": {
    name: "IPCC, sixth report, over 20 years",
    years: 20,
    values: { "R-134a": 4140, "R-1234yf": 1.81, "R-12": 12_700 },
    source:
      "IPCC Sixth Assessment Report (2021), Working Group I, table 7.SM.7: R-134a as Annex I of COM(2022) 150 repeats it; R-1234yf and R-12 from memory",
  },
  EU: {
    name: "European Union law",
    years: 100,
    values: { "R-134a": 1430, "R-1234yf": 0.501, "R-12": 11_200 },
    source:
      "Regulation (EU) 2024/573: Annex I for R-134a, read in its proposal COM(2022) 150; Annex II for R-1234yf, from memory. R-12 from Annex I of COM(2022) 151, the proposal for Regulation (EU) 2024/590",
  },
};
