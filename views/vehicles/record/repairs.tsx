import { saidWhen } from "../../../src/core/quantities/said-when.ts";
import type { AssessAnswer } from "../../../src/core/question/contract.ts";
import type { ChargeLine } from "../../../src/core/question/record.ts";
import { RepairHeld } from "../../answer/dates.tsx";
import { Entry } from "../../parts/entry.tsx";
import { PLACE_NAMES } from "../../words/places.ts";

interface RepairsProps {
  /** The entries of the log with a repair, oldest first. */
  repairs: readonly ChargeLine[];
  leak: AssessAnswer["leak"];
  as_of: string;
  /** Whether it has been seen to cool poorly since the last of them. */
  low_as_seen: boolean;
}

/** Repairs, newest first, and whether the last one held. */
export function Repairs({ repairs, leak, as_of, low_as_seen }: RepairsProps) {
  if (repairs.length === 0) return null;
  return (
    <Entry name="Repairs" id="repairs">
      <ol class="repairs">
        {repairs.toReversed().map((entry, i) => (
          <li>
            <p>
              <time datetime={entry.date}>{saidWhen(entry.date, entry.date_within_days)}</time>:{" "}
              <strong>{entry.repair == null ? "" : PLACE_NAMES[entry.repair].name}</strong>
            </p>
            {i > 0 ? (
              <p class="small soft">It was repaired again later.</p>
            ) : (
              leak.repair_held !== null && (
                <p>
                  Did it hold?{" "}
                  <RepairHeld
                    held={leak.repair_held}
                    sure_date={leak.repair_sure_date}
                    as_of={as_of}
                    low_as_seen={low_as_seen}
                  />
                </p>
              )
            )}
          </li>
        ))}
      </ol>
    </Entry>
  );
}
