import { Entry } from "../parts/entry.tsx";
import { FINDING_WORDS } from "../readings/finding-words.ts";
import type { Outcome } from "./outcome.ts";

/**
 * What to check before anything is bought: where readings say it is not low, where the log is surprised, where it is
 * empty.
 */
export function CheckFirst({ outcome: { answer, found } }: { outcome: Outcome }) {
  const { option, guard } = answer.verdict;
  if (guard === "empty") {
    return (
      <Entry name="Empty">
        <p>
          Without pressure, air and moisture have got in. A shop will find the leak with nitrogen or a detector, repair
          it, replace the drier, evacuate the system and charge it by weight. Cans and dye only add to the damage.
        </p>
        <p>
          Is the gauge right? A closed valve, a loose coupler or the high side can read as no pressure. Read it again,
          engine off, before you pay for anything.
        </p>
      </Entry>
    );
  }
  if (option !== "check-first") return null;
  if (guard === "surprise") {
    return (
      <Entry name="Check first">
        <p>
          If the readings say low,{" "}
          {answer.leak.repair_held === null
            ? "the leak has become sudden: have it found."
            : "the repair did not hold, or it leaks at another location: have it found."}{" "}
          If they say not low, look for what else makes it cool poorly: the fan, the airflow over the condenser, the
          blend door, the compressor. Enter the readings, and this answer follows them.
        </p>
      </Entry>
    );
  }
  return (
    <Entry name="Check first">
      <p>
        {found === null
          ? "The readings rule out low charge but do not show what is wrong. Take the next reading suggested, or ask a shop."
          : `${FINDING_WORDS[found].means} ${FINDING_WORDS[found].check}`}
      </p>
    </Entry>
  );
}
