import type { ReadingsSay } from "../question/contract.ts";
import type { FindingId, ReadingsJudgement } from "./contract.ts";

/**
 * What is kept of readings where they are not at hand any more: whether it is low, and what they found, if they decide.
 */
export interface ReadingsSaid {
  says: ReadingsSay;
  found: FindingId | null;
}

export function readingsSaid({ says, first }: ReadingsJudgement): ReadingsSaid {
  return { says, found: first !== "undecided" && fits(first, says) ? first : null };
}

/**
 * Whether a finding can stand beside what the readings say: findings of a low charge where it is low, others where not.
 */
export function fits(found: FindingId, says: ReadingsSay): boolean {
  return says !== "undecided" && (found === "low-charge" || found === "nearly-empty") === (says === "low");
}
