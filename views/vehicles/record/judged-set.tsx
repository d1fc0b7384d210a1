import type { Vehicle } from "../../../src/core/question/record.ts";
import type { ReadingId } from "../../../src/core/readings/readings-contract.ts";
import { Entry } from "../../parts/entry.tsx";
import { Judgement, type JudgementProps } from "../../readings/judgement.tsx";
import { vehiclePath } from "./record.ts";

interface JudgedSetProps {
  vehicle: Pick<Vehicle, "id" | "electric_compressor">;
  judged: Omit<JudgementProps, "askable">;
}

/** What a stored set of readings means, and where to go with it. */
export function JudgedSet({ vehicle, judged }: JudgedSetProps) {
  return (
    <>
      <Judgement {...judged} {...(vehicle.electric_compressor ? { askable: WITHOUT_CLUTCH } : {})} />
      <Entry name="With these readings" id="onward">
        <ul class="bullets">
          {judged.judgement.says !== "not-low" && (
            <li>
              <a href={vehiclePath(vehicle.id, "top-off")}>Top-off plan</a>: how much is missing by the record and by
              these readings.
            </li>
          )}
          <li>
            <a href={vehiclePath(vehicle.id)}>The vehicle</a>: its answer counts them while they are the latest, for two
            weeks.
          </li>
          <li>
            <a href={vehiclePath(vehicle.id, "readings")}>Other readings</a>: new ones, and those before.
          </li>
        </ul>
      </Entry>
    </>
  );
}

/** A high-voltage compressor has no clutch. */
const WITHOUT_CLUTCH: ReadonlySet<ReadingId> = new Set([
  "static",
  "low",
  "high",
  "vent",
  "fan",
  "condenser",
  "more-air",
  "suction-line",
  "liquid-line",
  "equalizing",
  "sight-glass",
]);
