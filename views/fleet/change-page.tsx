import { leakPriors } from "../../data/leak-priors.ts";
import { VEHICLE_KINDS } from "../../src/core/question/contract.ts";
import type { AssetUrl } from "../assets.ts";
import type { FieldError } from "../parts/error-summary.tsx";
import { fieldOf, messagesOf, SelectField, TextField } from "../parts/field.tsx";
import { Folded } from "../parts/folded.tsx";
import { FleetFrame } from "./frame.tsx";
import { vehicles } from "./shown.ts";

export interface ChangePageProps {
  /** The vehicles that are ticked. */
  chosen: readonly { id: string; label: string }[];
  /** How many more the filters leave, beyond those that are changed at once. */
  left_out: number;
  /** What has just been done, and the press that undoes it; null before anything was. */
  done: { said: string; undo: { what: string; was: string } | null } | null;
  fields: Readonly<Record<"group" | "depot" | "kind" | "keep_years" | "date", string>>;
  errors: readonly FieldError[];
  asset: AssetUrl;
}

/** `/fleet/change`: what is done with all ticked vehicles at once. */
export function ChangePage({ chosen, left_out, done, fields, errors, asset }: ChangePageProps) {
  const of = fieldOf(fields, messagesOf(errors));
  return (
    <FleetFrame title="Change vehicles" path="/fleet/change" asset={asset} errors={errors}>
      <p class="page-name">Change vehicles</p>
      <h1 class="page-title">{done?.said ?? `${vehicles(chosen.length)} selected`}</h1>
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
        <Names of={chosen.map(({ label }) => label)} />
      )}
      {left_out > 0 && (
        <p class="note">
          {vehicles(left_out)} more fit the filters. So many are changed at a time: change these, then filter for the
          others.
        </p>
      )}
      {done === null && chosen.length > 0 && (
        <>
          <p>What stays empty below stays as it is.</p>
          <form class="fleet-terms" method="post" action="/fleet/change">
            <Ids chosen={chosen} />
            <TextField {...of("group")} label="Group" words />
            <TextField {...of("depot")} label="Depot" words />
            <SelectField {...of("kind")} label="Kind of vehicle" choices={KIND_CHOICES} />
            <TextField {...of("keep_years")} label="Years kept from now" short inputmode="decimal" />
            <div class="actions">
              <button type="submit" class="button" name="what" value="set">
                Set for all
              </button>
            </div>
          </form>
          <form class="fleet-terms" method="post" action="/fleet/change">
            <Ids chosen={chosen} />
            <TextField {...of("date")} label="Day of the check" hint="Vehicles with an entry since are left out" />
            <div class="actions">
              <button type="submit" class="button-quiet" name="what" value="cooled">
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

/** More names than these fill the screen before the forms. */
const NAMES_IN_SIGHT = 12;

function Names({ of }: { of: readonly string[] }) {
  const names = <p dir="auto">{of.toSorted((a, b) => (a < b ? -1 : 1)).join(", ")}</p>;
  return of.length <= NAMES_IN_SIGHT ? names : <Folded title="Their names">{names}</Folded>;
}

const KIND_CHOICES = [
  { value: "", label: "As it is" },
  ...VEHICLE_KINDS.map((value) => ({ value, label: leakPriors[value].label })),
];

function Ids({ chosen }: Pick<ChangePageProps, "chosen">) {
  return (
    <>
      {chosen.map(({ id }) => (
        <input type="hidden" name="v" value={id} />
      ))}
    </>
  );
}
