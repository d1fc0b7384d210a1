import { groupLeak } from "../../src/core/fleet/cohort.ts";
import type { Cohort } from "../../src/core/fleet/row.ts";
import { TableHead } from "../parts/table-head.tsx";
import { saidNumber, saidShare } from "./shown.ts";

/** What the groups have taught their vehicles. */
export function Groups({ cohorts }: { cohorts: readonly Cohort[] }) {
  if (cohorts.length === 0) return null;
  return (
    <details class="numbers fleet-groups">
      <summary>How groups help</summary>
      <p>
        Vehicles in a group share what their logs show. The shorter a vehicle's own log, the more its estimate relies on
        the group. A group needs three vehicles with a log. A repaired vehicle is judged on its own, and a vehicle's own
        page uses its own log alone.
      </p>
      <section class="table-scroll" aria-label="Groups" tabindex={0}>
        <table>
          <TableHead
            words={["Group"]}
            figures={["Vehicles with a log", "Typical leak a year, of the charge", "Likely range"]}
          />
          <tbody>
            {cohorts
              .map((cohort) => ({ ...cohort, leak: groupLeak(cohort) }))
              .map(({ fleet_group, vehicles, leak }) => (
                <tr>
                  <th scope="row" dir="auto">
                    {fleet_group}
                  </th>
                  <td class="figure-cell">{saidNumber(vehicles)}</td>
                  <td class="figure-cell">{saidShare(leak.median)}</td>
                  <td class="figure-cell">
                    {saidShare(leak.p05)} to {saidShare(leak.p95)}
                  </td>
                </tr>
              ))}
          </tbody>
        </table>
      </section>
    </details>
  );
}
