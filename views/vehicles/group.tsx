import type { Verdict } from "../../src/core/contract.ts";
import { verdictWords } from "../fleet/shown.ts";
import { Entry } from "../parts/entry.tsx";
import { saidPercent } from "../words/numbers.ts";
import { Day } from "../words/said.tsx";

/** What the fleet's table says of a vehicle, where its group has something to say. */
export interface GroupView {
  fleet_group: string;
  /** Vehicles of the group whose logs say something. */
  vehicles: number;
  as_of: string;
  own_share: number;
  verdict: Pick<Verdict, "option" | "guard">;
}

interface VehicleGroupProps {
  group: GroupView;
  /** The verdict of the page, which goes by this vehicle's log alone; null while a what-if is to be put right. */
  verdict: Pick<Verdict, "option" | "guard"> | null;
}

/** How the fleet's table, which lets vehicles of a group inform each other, and this page go together. */
export function VehicleGroup({ group, verdict }: VehicleGroupProps) {
  const { fleet_group, vehicles, as_of, own_share } = group;
  const there = verdictWords(group.verdict.option, group.verdict.guard);
  const here = verdict === null ? null : verdictWords(verdict.option, verdict.guard);
  return (
    <Entry name="Its group" id="group" note={<p dir="auto">{fleet_group}</p>}>
      <p>
        The <a href={`/fleet?${new URLSearchParams({ group: fleet_group })}`}>fleet's table</a> counts what{" "}
        {vehicles.toLocaleString("en-US")} vehicles of this group show: {saidPercent(own_share)} of its estimate for
        this one comes from the log here, the rest from the group.
      </p>
      <p>
        On <Day iso={as_of} /> it said: <strong>{there}</strong>
        {here !== null && (here === there ? ", as this page does." : ". This page goes by the log here alone.")}
        {here === null && "."}
      </p>
    </Entry>
  );
}
