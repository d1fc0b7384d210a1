import { cellWords } from "../../../../data/fleet-format.ts";
import { parseMass } from "../../../core/quantities/parse-mass.ts";
import { LONGEST_TEXT } from "../../../core/quantities/typed-number.ts";
import type { Cooling, LocationId } from "../../../core/question/contract.ts";

/**
 * What a sentence about work says of refrigerant: "recharged 1.2 lb, dye added". Only what is said beyond doubt is
 * read, and the person sees it before it is taken.
 */
export interface WorkRead {
  added_g: number | null;
  recovered_g: number | null;
  dye: boolean;
  repair: LocationId | null;
  cooling: Cooling | null;
  /** In words, each with what it was read from. */
  said: string[];
  /** Why an amount in it was not read; null where all was. */
  unread: string | null;
}

/** Sentences are longer than what is typed into a field; a longer text than this is not searched. */
const LONGEST_WORK = 500;
const NUMBER = "\\d+(?:[.,]\\d+)?";
const AMOUNT = new RegExp(
  `(?:${NUMBER} ?(?:lbs?|pounds?) ?${NUMBER} ?(?:oz|ounces?)|(?:${NUMBER}|half a|one|two|three|a) ?(?:kgs?|kilos?|grams?|gr?|ounces?|oz|lbs?|pounds?|cans?))\\b`,
  "g",
);
const CLAUSE_END = /;|,(?!\d)|\.(?!\d)|\band\b|\bthen\b|\+|\//;
const NEGATED = /\b(no|not|without|never|none)\b/;
const OUT = /\b(recover|reclaim|remov|evacuat|pulled|took out)/;
const IN = /\b(re-?charg|charg|add|topp|top-?off|top-?up|fill|refill|put in|re-?gas)/;
const A_SIZE = /\b(nameplate|capacity|label|spec|holds|full charge)\b/;
const MENDED = /\b(replac|repair|fix|renew|new)/;
const DYE = /\bdye\b/;
const DYE_ALONE = /^(uv )?dye$/;
const PUT_IN = /\b(add|inject|put|fill)/;
const WITH = /\bwith\b/;
const POOR = /\b(warm air|blow(s|ing) warm|not cold|poor(ly)? cool|weak cooling|cools poorly)/;
const NONE = /\b(no cooling|system empty|was empty|found empty)\b/;

/** What a free text about a visit says was done; `can_net_g` is the net content of a can, grams. */
export function readWork(text: string, can_net_g: number): WorkRead {
  const read: WorkRead = {
    added_g: null,
    recovered_g: null,
    dye: false,
    repair: null,
    cooling: null,
    said: [],
    unread: null,
  };
  const plain = text.slice(0, LONGEST_WORK).toLowerCase().replace(/\s+/g, " ");
  let direction: "added_g" | "recovered_g" | null = null;
  for (const clause of plain.split(CLAUSE_END)) {
    if (NEGATED.test(clause) && !NONE.test(clause) && !POOR.test(clause)) continue;
    if (saysDyeWentIn(clause.trim()) && !read.dye) {
      read.dye = true;
      read.said.push("dye added");
    }
    if (MENDED.test(clause) && read.repair === null) {
      read.repair = placeIn(clause);
      if (read.repair !== null) read.said.push(`repair: ${read.repair}`);
    }
    if (read.cooling === null && (NONE.test(clause) || POOR.test(clause))) {
      read.cooling = NONE.test(clause) ? "empty" : "weak";
      read.said.push(`cooling: ${read.cooling}`);
    }
    const now = OUT.test(clause) ? "recovered_g" : IN.test(clause) ? "added_g" : null;
    // "recovered 380 g and added 850 g": a verb holds until the next one.
    direction = now ?? direction;
    for (const [amount] of clause.matchAll(AMOUNT)) {
      if (A_SIZE.test(clause) && now === null) continue;
      takeAmount(read, direction, amount, can_net_g);
    }
  }
  return read;
}

function takeAmount(
  read: WorkRead,
  direction: "added_g" | "recovered_g" | null,
  amount: string,
  can_net_g: number,
): void {
  if (direction === null) {
    read.unread ??= `No word says whether “${amount}” went in or out.`;
    return;
  }
  const mass = amount.length > LONGEST_TEXT ? null : parseMass(amount, { system: "metric", can_net_g });
  if (mass === null || !mass.ok) return;
  if (read[direction] !== null) {
    read.unread = "It names several amounts. Write the one that went in as a number.";
    return;
  }
  read[direction] = mass.grams;
  read.said.push(`${direction === "added_g" ? "added" : "recovered"} ${amount}`);
}

const PLACES = Object.entries(cellWords.repair).flatMap(([place, words]) =>
  words.map((word) => [word, place as LocationId] as const),
);

function placeIn(clause: string): LocationId | null {
  const words = ` ${clause.replace(/[^a-z]+/g, " ")} `;
  return PLACES.find(([word]) => words.includes(` ${word} `) || words.includes(` ${word}s `))?.[1] ?? null;
}

function saysDyeWentIn(clause: string): boolean {
  const at = clause.search(DYE);
  return at >= 0 && (PUT_IN.test(clause) || WITH.test(clause.slice(0, at)) || DYE_ALONE.test(clause));
}
