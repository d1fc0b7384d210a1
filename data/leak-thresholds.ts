import type { RefrigerantId } from "../src/core/question/contract.ts";

/**
 * Leak limits of rules for equipment with a large charge, in percent of the full charge a year. They were written for
 * stationary equipment; a vehicle is listed against them because of its charge alone, so that someone looks.
 */
export interface LeakThreshold {
  id: string;
  place: string;
  refrigerants: readonly RefrigerantId[];
  /** Full charge from which the rule applies, g. */
  charge_least_g: number;
  /** First day on which it applies. */
  from: string;
  limit_percent: number;
  citation: string;
  says: string;
  doubt: string;
  checked: string;
}

export const LEAK_THRESHOLDS: readonly LeakThreshold[] = [
  {
    id: "us-hfc-15-lb",
    place: "United States",
    refrigerants: ["R-134a"],
    charge_least_g: 6803.89, // 15 lb
    from: "2026-01-01",
    limit_percent: 10,
    citation: "40 CFR 84.106 (89 FR 82682, 11 October 2024)",
    says: "From 15 lb of an HFC with a GWP above 53, a leak rate above 10 % (comfort cooling and other equipment) calls for a repair within 30 days, with tests before and after.",
    doubt:
      "The rule speaks of equipment in general and of comfort cooling in occupied facilities. Whether a bus or rail system of this size falls under it is not settled here: check with your adviser before relying on either answer.",
    checked: "2026-11-24",
  },
  {
    id: "us-ods-50-lb",
    place: "United States",
    refrigerants: ["R-12"],
    charge_least_g: 22_679.62, // 50 lb
    from: "2019-01-01",
    limit_percent: 10,
    citation: "40 CFR 82.157",
    says: "From 50 lb of an ozone-depleting refrigerant, a leak rate above 10 % (comfort cooling) calls for a repair within 30 days.",
    doubt: "Written for stationary equipment; vehicle systems of this size are rare.",
    checked: "2026-11-24",
  },
];

/** More added in a calendar year than this share of the full charge counts as leaking chronically, and is reported. */
export const CHRONIC_LEAK = {
  percent: 125,
  citation: "40 CFR 82.157(j), 84.106(j)",
} as const;
