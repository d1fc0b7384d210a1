import type { GroupSays } from "../../src/core/fleet/row.ts";
import { vehicles } from "../fleet/shown.ts";
import { Entry } from "../parts/entry.tsx";
import { type AnswerGround, answerWords } from "../words/answer-words.ts";
import { saidPercent } from "../words/numbers.ts";
import { Day } from "../words/said.tsx";

interface VehicleGroupProps {
  group: GroupSays;
  /** The page's answer to what is recorded; null while something else is supposed. */
  recorded: AnswerGround | null;
}

/** How the fleet's table, which lets vehicles of a group inform each other, and this page go together. */
export function VehicleGroup({ group, recorded }: VehicleGroupProps) {
  const there = answerWords(group);
  return (
    <Entry name="Its group" id="group" note={<p dir="auto">{group.fleet_group}</p>}>
      <p>
        Here and in the <a href={`/fleet?${new URLSearchParams({ group: group.fleet_group })}`}>fleet table</a>, the
        estimate also uses what {vehicles(group.vehicles)} in this group show. {saidPercent(group.own_share)} of it
        comes from this vehicle's own log, the rest from the group.
      </p>
      <p>
        On <Day iso={group.as_of} /> the table said: <strong>{there}</strong>
        {recorded === null
          ? "."
          : answerWords(recorded) === there
            ? ", as this page does."
            : ". It is older than this page."}
      </p>
    </Entry>
  );
}
