import type { ReadingsSay } from "../question/contract.ts";
import type { FindingId, ReadingsJudgement } from "./readings-contract.ts";

/** What is kept of readings: the result without the numbers. */
export interface ReadingsSaid {
  /** Whether it is low. */
  says: ReadingsSay;
  /** What they found; null where they do not decide. */
  found: FindingId | null;
}

/** The result of a judgement, to be kept. */
export function readingsSaid({ says, first }: ReadingsJudgement): ReadingsSaid {
  return { says, found: first !== "undecided" && fits(first, says) ? first : null };
}

/** Whether a finding agrees with what the readings say: a finding of low charge where it is low, another where not. */
export function fits(found: FindingId, says: ReadingsSay): boolean {
  return says !== "undecided" && (found === "low-charge" || found === "nearly-empty") === (says === "low");
}
