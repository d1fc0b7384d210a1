import { Entry } from "../parts/entry.tsx";
import { FINDING_WORDS } from "../readings/finding-words.ts";
import type { Outcome } from "./outcome.ts";

/** What to check, where readings say that low charge is not the trouble. */
export function CheckFirst({ outcome: { answer, found } }: { outcome: Outcome }) {
  if (answer.verdict.option !== "check-first") return null;
  if (answer.verdict.guard === "surprise") {
    return (
      <Entry name="Check first">
        <p>
          <a href="/readings">Check readings</a>: gauge and vent readings tell whether it is low at all.
        </p>
      </Entry>
    );
  }
  return (
    <Entry name="Check first">
      {found === null ? (
        <p>
          The readings rule a low charge out, and leave open what it is instead. Take the reading that would tell most,
          or have a shop look.
        </p>
      ) : (
        <p>
          {FINDING_WORDS[found].means} {FINDING_WORDS[found].check}
        </p>
      )}
    </Entry>
  );
}
