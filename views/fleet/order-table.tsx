import type { FleetVehicle, RepairLock } from "../../src/core/fleet/row.ts";
import type { NextStep, WorkOrder } from "../../src/core/fleet/year-plan.ts";
import { formatMonth } from "../../src/core/quantities/dates.ts";
import { FigureCell } from "../parts/figure-cell.tsx";
import { TableHead } from "../parts/table-head.tsx";
import { vehiclePath } from "../vehicles/record/record.ts";
import { OPTION_NAMES } from "../words/places.ts";
import { Money, Release } from "../words/said.tsx";
import { type MoneyAndUnits, saidAvoided, saidSum } from "./shown.ts";

/** Where a press of "always" leads back to, and in which year "not this year" is. */
export interface Settling {
  back: string;
  year: number;
  may_edit: boolean;
}

/** Beside an order of a vehicle with nothing in its log. */
export const GROUP_GUESS = "no record of its own: group guess";

interface OrderTableProps {
  name: string;
  orders: readonly (WorkOrder | NextStep)[];
  manner: MoneyAndUnits;
  settling: Settling;
}

/** Orders of a plan that is not saved, or steps that more money would pay for. */
export function OrderTable({ name, orders, manner, settling }: OrderTableProps) {
  const with_months = orders.some(({ month }) => month !== null);
  return (
    <section class="table-scroll" aria-label={name} tabindex={0}>
      <table class="fleet-list">
        <TableHead
          words={["Vehicle", "Depot", "Do", ...(with_months ? ["Month"] : [])]}
          figures={["This year", "Saves over the years", "Avoids, CO₂e"]}
        >
          {settling.may_edit && (
            <th scope="col" class="fleet-screen">
              Settle
            </th>
          )}
        </TableHead>
        <tbody>
          {orders.map((order) => {
            const { vehicle, option, saves, avoids_kg, month, next_low, no_entries, lock } = order;
            return (
              <tr>
                <th scope="row">
                  <a href={vehiclePath(vehicle.id)} dir="auto">
                    {vehicle.label}
                  </a>
                  {vehicle.fleet_group !== null && <small>{vehicle.fleet_group}</small>}
                </th>
                <td data-heading="Depot" dir="auto">
                  {vehicle.depot}
                </td>
                <td data-heading="Do">
                  {OPTION_NAMES[option.id].name}
                  {lock?.repair === "must" && <small>always repair</small>}
                  {no_entries && <small>{GROUP_GUESS}</small>}
                </td>
                {with_months && (
                  <td data-heading="Month">
                    {month !== null && formatMonth(`${month}-01`)}
                    {month !== null && next_low !== null && next_low.slice(0, 7) < month && (
                      <small>low before that</small>
                    )}
                  </td>
                )}
                <FigureCell heading="This year">
                  <Money>{saidSum("price" in order ? order.price : option.repair_outlay, manner)}</Money>
                </FigureCell>
                <FigureCell heading="Saves over the years">
                  <Money>{saidSaving(saves, manner)}</Money>
                </FigureCell>
                <FigureCell heading="Avoids, CO₂e">
                  <Release>{saidAvoided(avoids_kg)}</Release>
                </FigureCell>
                {settling.may_edit && (
                  <td class="fleet-screen" data-heading="Settle">
                    <LockForm vehicle={vehicle} lock={lock} {...settling} />
                  </td>
                )}
              </tr>
            );
          })}
        </tbody>
      </table>
    </section>
  );
}

/** What a choice saves; a negative saving is a cost. */
export function saidSaving(saves: number, manner: MoneyAndUnits): string {
  return saves < 0 ? `costs ${saidSum(-saves, manner)} more` : saidSum(saves, manner);
}

/** Settles a vehicle's repair beforehand, or leaves it open again. */
export function LockForm({ vehicle, lock, back, year }: { vehicle: FleetVehicle; lock: RepairLock | null } & Settling) {
  const choices = [
    { value: "open", label: "by the plan" },
    { value: "always", label: "always repair" },
    { value: "never", label: "never repair" },
    { value: "not-this-year", label: `not in ${year}` },
  ];
  const now =
    lock === null ? "open" : lock.repair === "must" ? "always" : lock.year === null ? "never" : "not-this-year";
  return (
    <form method="post" action="/fleet/locks" class="fleet-lock">
      <input type="hidden" name="vehicle" value={vehicle.id} />
      <input type="hidden" name="back" value={back} />
      <input type="hidden" name="year" value={String(lock?.year ?? year)} />
      <select name="repair" aria-label={`Settle ${vehicle.label}`}>
        {choices.map(({ value, label }) => (
          <option value={value} selected={value === now}>
            {label}
          </option>
        ))}
      </select>
      <button type="submit" class="button-quiet" aria-label={`Settle ${vehicle.label}`}>
        Settle
      </button>
    </form>
  );
}

/** In words, at the head of what is settled. */
export function saidLock({ repair, year }: RepairLock): string {
  if (repair === "must") return "always repair";
  return year === null ? "never repair" : `not in ${year}`;
}
