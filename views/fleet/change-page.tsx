import type { AssetUrl } from "../assets.ts";
import { TextField } from "../parts/field.tsx";
import { FleetFrame } from "./frame.tsx";
import { vehicles } from "./shown.ts";

export interface ChangePageProps {
  /** The vehicles that are ticked. */
  chosen: readonly { id: string; label: string }[];
  /** What has just been done, and the press that undoes it; null before anything was. */
  done: { said: string; undo: { what: string; was: string } | null } | null;
  today: string;
  error: string | null;
  asset: AssetUrl;
}

/** `/fleet/change`: what is done with all ticked vehicles at once. */
export function ChangePage({ chosen, done, today, error, asset }: ChangePageProps) {
  return (
    <FleetFrame title="Change vehicles" path="/fleet/change" asset={asset}>
      <p class="page-name">Change vehicles</p>
      <h1 class="page-title">{done?.said ?? `${vehicles(chosen.length)} selected`}</h1>
      {error !== null && (
        <p class="field-error" role="alert">
          {error}
        </p>
      )}
      {done !== null && done.undo !== null && (
        <form class="actions" method="post" action="/fleet/change">
          <Ids chosen={chosen} />
          <input type="hidden" name="was" value={done.undo.was} />
          <button type="submit" class="button" name="what" value={done.undo.what}>
            Undo
          </button>
          <a href="/fleet">To the fleet</a>
        </form>
      )}
      {chosen.length === 0 ? (
        <p>
          Tick vehicles in the <a href="/fleet">table of the fleet</a>, then press Change.
        </p>
      ) : (
        <p dir="auto">{chosen.map(({ label }) => label).join(", ")}</p>
      )}
      {done === null && chosen.length > 0 && (
        <>
          <form class="fleet-terms" method="post" action="/fleet/change">
            <Ids chosen={chosen} />
            <TextField id="group" name="group" label="Group" hint="Empty: stays as it is" value="" />
            <TextField id="depot" name="depot" label="Depot" hint="Empty: stays as it is" value="" />
            <div class="actions">
              <button type="submit" class="button" name="what" value="place">
                Set group and depot
              </button>
            </div>
          </form>
          <form class="fleet-terms" method="post" action="/fleet/cooled">
            <Ids chosen={chosen} />
            <TextField id="date" name="date" label="Day of the check" value={today} />
            <div class="actions">
              <button type="submit" class="button-quiet">
                Record “cooled well”
              </button>
            </div>
          </form>
          <form class="actions" method="post" action="/fleet/change">
            <Ids chosen={chosen} />
            <button type="submit" class="button-quiet" name="what" value="archive">
              Archive
            </button>
            <a href="/fleet">Cancel</a>
          </form>
        </>
      )}
    </FleetFrame>
  );
}

function Ids({ chosen }: Pick<ChangePageProps, "chosen">) {
  return (
    <>
      {chosen.map(({ id }) => (
        <input type="hidden" name="v" value={id} />
      ))}
    </>
  );
}
