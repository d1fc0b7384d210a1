import { formatDate } from "../../src/core/quantities/dates.ts";
import { formatMoney } from "../../src/core/quantities/format.ts";
import type { Reminder } from "../../src/core/reminders.ts";
import { inSentence } from "../words/in-sentence.ts";
import { PLACE_NAMES } from "../words/places.ts";

/** A reminder in words, the same on the page and in a calendar: what it is, and what to do. */
export interface ReminderWords {
  title: string;
  text: string;
}

/** Caution stands with the work, also in a calendar. */
const LOOKING = "Engine off, key out, and cold. A cooling fan can still start by itself, and pipes get hot.";
const LAMP = `In the dark, ${inSentence(LOOKING)} Ultraviolet harms eyes: wear the glasses that stop it.`;

/** Title and text of a reminder. */
export function reminderWords(reminder: Reminder): ReminderWords {
  switch (reminder.kind) {
    case "next-low": {
      const { date, likely } = reminder;
      return {
        title: "may be low",
        text: `It may be low from ${formatDate(date)} on. Best estimate: ${formatDate(likely)}. If it cools poorly, check that it is low before you add anything.`,
      };
    }
    case "watch":
      return {
        title: "watch date",
        text: `Low before ${formatDate(reminder.date)}: it leaks too fast, so repair it. Low after it: top it off again.`,
      };
    case "dye-inspection":
      return { title: "look for dye", text: `${dyeStory(reminder)} ${LAMP}` };
    case "can-deposit":
      return { title: "last day for the can deposit", text: depositStory(reminder) };
    case "repair-look":
      return {
        title: `look at the repair at ${PLACE_NAMES[reminder.location].at}`,
        text: `Repaired on ${formatDate(reminder.repaired)}. Fresh oil or dye there means it still leaks. ${LOOKING}`,
      };
    case "repair-held":
      return {
        title: "did the repair hold?",
        text: `Repaired at ${PLACE_NAMES[reminder.location].at} on ${formatDate(reminder.repaired)}. If it still cools well on ${formatDate(reminder.date)}, the repair held: add an entry.`,
      };
  }
}

function dyeStory(reminder: Extract<Reminder, { kind: "dye-inspection" }>): string {
  const since = formatDate(reminder.since);
  switch (reminder.because) {
    case "added":
      return `Dye went in on ${since}. By ${formatDate(reminder.date)} it also shows a slow leak. Shine the lamp on every location.`;
    case "clean":
      return `Dye showed nothing on ${since}. A slow leak takes weeks. Shine the lamp on every location once more.`;
    case "leak":
      return `Dye was seen at ${PLACE_NAMES[reminder.location].at} on ${since}. Wiped off, it comes back where it leaks. Shine the lamp there again.`;
  }
}

function depositStory({ date, bought, cans, deposit, currency }: Extract<Reminder, { kind: "can-deposit" }>): string {
  const what = cans === null ? "the empty cans" : cans === 1 ? "the empty can" : `the ${cans} empty cans`;
  const worth =
    deposit === null
      ? "the deposit"
      : currency === null
        ? `the deposit of ${deposit}`
        : `the ${formatMoney(deposit, currency)} deposit`;
  return `Return ${what} from ${formatDate(bought)} by ${formatDate(date)} to get ${worth} back. Usually you need the store that sold them, the receipt, and cans that were not forced open.`;
}
