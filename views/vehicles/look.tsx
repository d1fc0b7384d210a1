import { formatDate } from "../../src/core/quantities/dates.ts";
import { COOLING, type Cooling } from "../../src/core/question/contract.ts";
import { vehiclePath } from "./record/record.ts";

interface LookProps {
  vehicle_id: string;
  /** The day to be logged. */
  today: string;
  submit_key: string;
}

const BUTTONS: Readonly<Record<Cooling, string>> = {
  ok: "Well",
  weak: "Weakly",
  "short-cycling": "Rapid on and off",
  empty: "No pressure left",
};

/** How it cools today, one press each: logged as a look. */
export function LookToday({ vehicle_id, today, submit_key }: LookProps) {
  return (
    <form class="look" id="look" method="post" action={vehiclePath(vehicle_id, "log")}>
      <input type="hidden" name="submit_key" value={submit_key} />
      <input type="hidden" name="when" value={formatDate(today)} />
      <fieldset>
        <legend>How does it cool today?</legend>
        <div class="look-answers">
          {COOLING.map((cooling) => (
            <button type="submit" class="button-quiet" name="cooling" value={cooling}>
              {BUTTONS[cooling]}
            </button>
          ))}
        </div>
      </fieldset>
      <p class="hint">One press writes it in the log; it can be undone.</p>
    </form>
  );
}
