import type { RefrigerantId } from "../src/core/question/contract.ts";

/** A size of system, for someone who cannot read the label under the hood. */
export interface TypicalCharge {
  id: "compact" | "midsize" | "large";
  name: string;
  nameplate_g: number;
  /** Share of vehicles of this size, for an answer over all of them. Adds to 1. */
  share: number;
}

/**
 * Typical nameplate charges of cars and light trucks with one evaporator. Common practice, no source; the shares are a
 * working assumption. R-12 systems are older and were built for more.
 */
export const TYPICAL_CHARGES: Readonly<Record<RefrigerantId, readonly TypicalCharge[]>> = {
  "R-134a": sizes(480, 650, 850),
  "R-1234yf": sizes(450, 580, 800),
  "R-12": sizes(800, 1100, 1400),
};

function sizes(compact: number, midsize: number, large: number): TypicalCharge[] {
  return [
    { id: "compact", name: "Compact car", nameplate_g: compact, share: 0.35 },
    { id: "midsize", name: "Mid-size", nameplate_g: midsize, share: 0.45 },
    { id: "large", name: "Large car, van, pickup", nameplate_g: large, share: 0.2 },
  ];
}

/**
 * What an unknown refrigerant may be, for an answer over both. A working assumption: vehicles that have leaked for
 * years are mostly from before R-1234yf; those that still run on R-12 know it.
 */
export const LIKELY_REFRIGERANTS: readonly { id: RefrigerantId; share: number }[] = [
  { id: "R-134a", share: 0.6 },
  { id: "R-1234yf", share: 0.4 },
];
