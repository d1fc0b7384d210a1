import { formatDate } from "../../src/core/quantities/dates.ts";
import { groundOf, type Outcome, watchDateOf } from "../answer/outcome.ts";
import { answerWords } from "../words/answer-words.ts";

/** The answer in one line, in sight while the answer itself is not, above it and below it; a link to it. */
export function AnswerLine({ outcome }: { outcome: Outcome }) {
  return (
    <a class="answer-line" id="answer-line" href="#answer">
      <span>{answerInShort(outcome)}</span>
    </a>
  );
}

/** `Top it off · watch 31 May 2027`. */
function answerInShort(outcome: Outcome): string {
  const watch_date = watchDateOf(outcome);
  const words = answerWords(groundOf(outcome));
  return watch_date === null ? words : `${words} · watch ${formatDate(watch_date)}`;
}
