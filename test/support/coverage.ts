import { auditYears, type SummedRow } from "../../src/core/fleet/audit.ts";
import { leakFractionOf } from "../../src/core/leak/leak.ts";
import { dayNumber } from "../../src/core/quantities/dates.ts";
import type { AnsweredVehicle } from "./answered-fleet.ts";

export const SLICES = ["no entry", "one", "two or three", "four or more"] as const;

/** In how many vehicles of each slice the likely range of the leak holds the truth, and on which side it misses it. */
export type Coverage = Record<
  (typeof SLICES)[number],
  { vehicles: number; held: number; below: number; above: number }
>;

/** How often the likely ranges of a fleet hold the truth. */
export function coverage(fleet: readonly AnsweredVehicle[]): Coverage {
  const found = Object.fromEntries(
    SLICES.map((slice) => [slice, { vehicles: 0, held: 0, below: 0, above: 0 }]),
  ) as Coverage;
  for (const { vehicle, posterior } of fleet) {
    const { log, x } = vehicle;
    const { p05, p95 } = leakFractionOf(posterior);
    const slice = found[SLICES[log.length >= 4 ? 3 : Math.min(log.length, 2)]!];
    slice.vehicles++;
    if (x < p05) slice.below++;
    else if (x > p95) slice.above++;
    else slice.held++;
  }
  return found;
}

/** A fleet's release in a year: what the vehicles with a log truly lost, and what the audit says of them. */
export function released(fleet: readonly AnsweredVehicle[], audited: number): { truth_g: number; rows: SummedRow[] } {
  let truth_g = 0;
  const rows = fleet.flatMap(({ vehicle, question, posterior, prior, mean_sd }): SummedRow[] => {
    const row = auditYears(question, posterior, prior).find(({ year }) => year === audited);
    if (row === undefined) return [];
    const to_day = dayNumber(`${audited + 1}-01-01`);
    const from_day = to_day - 365.25 * row.span_years;
    for (const { day, lost_g } of vehicle.losses) if (day > from_day && day <= to_day) truth_g += lost_g;
    return [{ ...row, fleet_group: vehicle.group, mean_sd }];
  });
  return { truth_g, rows };
}
