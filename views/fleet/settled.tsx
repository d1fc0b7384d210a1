import { vehiclePath } from "../vehicles/record/record.ts";
import { type BudgetPageProps, settlingOf } from "./budget-shown.ts";
import { LockForm, saidLock } from "./order-table.tsx";
import { vehicles } from "./shown.ts";

/** Always, never, not this year: for any vehicle. */
export function Settled(props: BudgetPageProps) {
  const { locked, search, found, query, may_edit } = props;
  const settling = settlingOf(props);
  if (locked.length === 0 && !may_edit) return null;
  return (
    <details class="fold" id="settle" open={search !== "" || undefined}>
      <summary>
        <h2>{locked.length === 0 ? "Settle a vehicle beforehand" : `${vehicles(locked.length)} settled beforehand`}</h2>
      </summary>
      <div class="fold-body">
        {may_edit && (
          <form method="get" action="/fleet/budget#settle" class="fleet-ask">
            {[...query].map(([name, value]) => (
              <input type="hidden" name={name} value={value} />
            ))}
            <div class="field">
              <label for="find">Vehicle</label>
              <input type="search" id="find" name="find" value={search} autocomplete="off" />
            </div>
            <button type="submit" class="button-quiet">
              Find
            </button>
          </form>
        )}
        {search !== "" && found.length === 0 && <p>No vehicle fits “{search}”. Try part of its name.</p>}
        {found.length > 0 && (
          <ul class="fleet-locked">
            {found.map(({ vehicle, lock }) => (
              <li>
                <a href={vehiclePath(vehicle.id)} dir="auto">
                  {vehicle.label}
                </a>
                <LockForm vehicle={vehicle} lock={lock} {...settling} />
              </li>
            ))}
          </ul>
        )}
        <ul class="fleet-locked">
          {locked.map(({ vehicle, lock }) => (
            <li>
              <span>
                <a href={vehiclePath(vehicle.id)} dir="auto">
                  {vehicle.label}
                </a>
                : {saidLock(lock)}
              </span>
              {may_edit && <LockForm vehicle={vehicle} lock={lock} {...settling} />}
            </li>
          ))}
        </ul>
      </div>
    </details>
  );
}
