import type { OptionId, Verdict } from "../../src/core/question/contract.ts";

/*
 * The answer has one set of words: what the sentence says on the vehicle's page is what the list, the fleet, a reminder
 * and a what-if say of the same vehicle.
 */

/** What an answer comes to, as a person would act on it: topping off may mean to add nothing now. */
export type AnswerKind =
  | "none"
  | "not-low"
  | "readings-first"
  | "find-leak"
  | "repair-empty"
  | "repair-fast"
  | "repair"
  | "dye-test"
  | "electronic-test"
  | "top-off"
  | "leave"
  | "if-poor"
  | "live-without";

/** What the words of an answer are chosen by. */
export interface AnswerGround {
  verdict: Pick<Verdict, "option" | "guard">;
  /** Whether topping off would start today. */
  low_now: boolean;
  /** Whether nothing is in the charge log: then nobody knows how it cools. */
  no_entries: boolean;
}

/** Which sentence the answer begins with. */
export function answerKind({ verdict: { option, guard }, low_now, no_entries }: AnswerGround): AnswerKind {
  switch (option) {
    case null:
      return "none";
    case "check-first":
      return guard === "surprise" ? "readings-first" : "not-low";
    case "repair":
      return guard === "empty" ? "repair-empty" : guard === "floor" ? "repair-fast" : "repair";
    case "electronic-test":
      return guard === "empty" ? "find-leak" : "electronic-test";
    case "top-off":
      if (no_entries) return "if-poor";
      return low_now ? "top-off" : "leave";
    case "dye-test":
    case "live-without":
      return option;
  }
}

/** The answers under which someone tops it off, now or later. */
export const TOPS_OFF: ReadonlySet<AnswerKind> = new Set(["top-off", "leave", "if-poor", "dye-test"]);

/** In a few words, for lists, tables and what-ifs; each is the beginning of the sentence or its short form. */
const ANSWER_WORDS: Readonly<Record<AnswerKind, string>> = {
  none: "Ask a certified shop",
  "not-low": "Add nothing: it is not low",
  "readings-first": "Take readings first",
  "find-leak": "Find the leak first",
  "repair-empty": "Repair it: it is empty",
  "repair-fast": "Repair it, don't top it off",
  repair: "Repair it",
  "dye-test": "Dye test first",
  "electronic-test": "Electronic leak test first",
  "top-off": "Top it off",
  leave: "Leave it for now",
  "if-poor": "If it cools poorly, top it off",
  "live-without": "Go without it",
};

/** The answer in a few words. */
export function answerWords(ground: AnswerGround): string {
  return ANSWER_WORDS[answerKind(ground)];
}

/** The answer where only the option is known, as in counts: topping off stands for leaving it as well. */
export const OPTION_ANSWERS: Readonly<Record<OptionId | "check-first" | "none", string>> = {
  none: ANSWER_WORDS.none,
  "check-first": "Check first",
  repair: ANSWER_WORDS.repair,
  "dye-test": ANSWER_WORDS["dye-test"],
  "electronic-test": ANSWER_WORDS["electronic-test"],
  "top-off": "Top off or leave",
  "live-without": ANSWER_WORDS["live-without"],
};

const LADDER = [
  [0.95, "Very sure"],
  [0.8, "Fairly sure"],
  [0.6, "Leaning this way"],
  [0.4, "Close call"],
  [0, "No clear winner"],
] as const;

/**
 * How sure an answer is: one ladder for a chance out of 100. A chance that holds for typical vehicles, with nothing of
 * this one's leak in the log, stands a rung lower: one top-off may change it.
 */
export function sureness(chance: number, rests_on_typical = false): string {
  const rung = LADDER.findIndex(([from]) => chance >= from);
  return LADDER[Math.min(rung + Number(rests_on_typical), LADDER.length - 1)]?.[1] ?? "No clear winner";
}
