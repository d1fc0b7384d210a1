import { isTopUpDue } from "../../src/core/options/top-up-due.ts";
import { formatDate } from "../../src/core/quantities/format.ts";
import { chosenOption, type Outcome } from "../answer/outcome.ts";
import { verdictWords } from "../fleet/shown.ts";

/** The answer in one line, in sight while the answer itself is not, above it and below it; a link to it. */
export function AnswerLine({ outcome }: { outcome: Outcome }) {
  return (
    <a class="answer-line" id="answer-line" href="#answer">
      <span>{answerInShort(outcome)}</span>
    </a>
  );
}

/** `Top it off · repair if low before 31 May 2027`. */
function answerInShort(outcome: Outcome): string {
  const { answer } = outcome;
  const { option, guard } = answer.verdict;
  if (option !== "top-off") return verdictWords(option, guard);
  const watch_date = chosenOption(outcome)?.watch_date ?? null;
  const words = isTopUpDue(answer) ? verdictWords(option, guard) : "Leave it for now";
  if (watch_date === null || watch_date <= answer.as_of) return words;
  return `${words} · repair if low before ${formatDate(watch_date)}`;
}
