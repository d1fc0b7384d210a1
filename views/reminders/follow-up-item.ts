import type { LocationId } from "../../src/core/question/contract.ts";
import type { Reminder } from "../../src/core/reminders.ts";
import { PLACE_NAMES } from "../words/places.ts";
import { type ReminderWords, reminderWords } from "./reminder-words.ts";

/** A quote that a shop has to follow up. */
interface FollowedQuote {
  path: string;
  number: number;
  customer: string;
  /** Title of the option that was accepted. */
  title: string | null;
}

/** Something that a shop has to follow up, with whom to call. */
export interface DueFollowUp {
  vehicle: { id: string; label: string };
  customer: { id: string; name: string; phone: string } | null;
  plate: string;
  /** `YYYY-MM-DD`. */
  due: string;
  overdue: boolean;
  /** What it is closed under. */
  key: string;
  what: { kind: "reminder"; reminder: Reminder } | { kind: "quote-expiring" | "not-logged"; quote: FollowedQuote };
}

/** What can be seen at a look or heard in a call, one press each. */
export const RESULTS = ["nothing-seen", "still-leaks", "cools-well", "cools-poorly"] as const;
export type FollowUpResultId = (typeof RESULTS)[number] | `dye-${LocationId}`;

/** The presses that end a follow-up, with what is kept of them. */
export function resultsOf({ what }: DueFollowUp): { id: FollowUpResultId; button: string; words: string }[] {
  if (what.kind !== "reminder") return [];
  switch (what.reminder.kind) {
    case "dye-inspection":
      return [
        { id: "nothing-seen", button: "No dye seen", words: "No dye seen" },
        ...(Object.keys(PLACE_NAMES) as LocationId[]).map((place) => ({
          id: `dye-${place}` as const,
          button: PLACE_NAMES[place].name,
          words: `Dye seen at ${PLACE_NAMES[place].at}`,
        })),
      ];
    case "repair-look":
      return [
        { id: "nothing-seen", button: "Dry", words: "The repair is dry" },
        { id: "still-leaks", button: "Still leaks", words: "The repair still leaks" },
      ];
    case "watch":
    case "repair-held":
      return [
        { id: "cools-well", button: "Cools well", words: "Cools well" },
        { id: "cools-poorly", button: "Cools poorly", words: "Cools poorly" },
      ];
    case "next-low":
    case "can-deposit":
      return [];
  }
}

/** A follow-up in words, the same in the list and in a calendar. */
export function followUpWords({ what }: DueFollowUp): ReminderWords {
  switch (what.kind) {
    case "reminder":
      return reminderWords(what.reminder);
    case "quote-expiring":
      return {
        title: `quote ${what.quote.number} has no answer`,
        text: "It holds until that day. Call the customer, then record what they say.",
      };
    case "not-logged":
      return {
        title: `quote ${what.quote.number} is accepted, the work is not logged`,
        text: `${what.quote.title ?? "The work"}. Once it is done, log it: the charge log needs its amounts.`,
      };
  }
}
