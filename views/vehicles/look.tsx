import { formatDate } from "../../src/core/quantities/dates.ts";
import { COOLING, type Cooling } from "../../src/core/question/contract.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { WayBack } from "../parts/way-back.tsx";
import { COOLED_WORDS, cooledAnswer } from "../words/cooled.ts";
import { vehiclePath } from "./record/record.ts";

interface LookProps {
  vehicle_id: string;
  /** What the log says of today; null where it says nothing yet. */
  state: Cooling | null;
  submit_key: string;
}

/** How it cools today, one press each: one look a day, which another press replaces. */
export function LookToday({ vehicle_id, state, submit_key }: LookProps) {
  return (
    <form class="look" id="look" method="post" action={vehiclePath(vehicle_id, "looks")}>
      <input type="hidden" name="submit_key" value={submit_key} />
      <fieldset>
        <legend>How does it cool today?</legend>
        <div class="look-answers">
          {COOLING.map((cooling) => (
            <button
              type="submit"
              class="button-quiet"
              name="cooling"
              value={cooling}
              aria-pressed={cooling === state ? "true" : "false"}
            >
              {cooledAnswer(cooling)}
            </button>
          ))}
        </div>
      </fieldset>
      <p class="hint">
        {state === null ? "One tap logs it. You can undo it." : "Entered for today. Another tap changes it."}
      </p>
    </form>
  );
}

interface LookAgainProps {
  vehicle: { id: string; label: string };
  /** The look that the new one contradicts. */
  against: { id: string; date: string; cooling?: Cooling | null | undefined };
  cooling: Cooling;
  submit_key: string;
  asset: AssetUrl;
}

/** Asks about a look that contradicts one of the last days, before it counts. */
export function LookAgainPage({ vehicle, against, cooling, submit_key, asset }: LookAgainProps) {
  const day = formatDate(against.date);
  const before = against.cooling == null ? "" : COOLED_WORDS[against.cooling];
  return (
    <Layout title={`Is that right? ${vehicle.label}`} path="/vehicles" asset={asset}>
      <div class="page-head">
        <WayBack href={vehiclePath(vehicle.id)}>{vehicle.label}</WayBack>
        <h1>It cools well again, with nothing added?</h1>
        <p>
          On {day} the log says: {before}. Nothing was added or repaired since, and charge does not come back by itself.
          If both are right, low charge is probably not the trouble.
        </p>
      </div>
      <div class="actions">
        <form method="post" action={vehiclePath(vehicle.id, "looks")}>
          <input type="hidden" name="submit_key" value={submit_key} />
          <input type="hidden" name="sure" value="yes" />
          <button type="submit" class="button" name="cooling" value={cooling}>
            Yes, it cools well today
          </button>
        </form>
        <a href={vehiclePath(vehicle.id, "log", against.id)}>Fix the entry of {day}</a>
        <a href={vehiclePath(vehicle.id, "readings")}>Take readings</a>
        <a href={vehiclePath(vehicle.id)}>Cancel</a>
      </div>
    </Layout>
  );
}
