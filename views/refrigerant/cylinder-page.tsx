import type { UnitSystem } from "../../src/core/quantities/units.ts";
import { type MassBalance, MOVE_KINDS, type MoveKind } from "../../src/core/refrigerant/cylinders.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Confirm } from "../parts/confirm.tsx";
import { Entry } from "../parts/entry.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { fieldOf, messagesOf, SelectField, TextField } from "../parts/field.tsx";
import { FormFoot } from "../parts/form-foot.tsx";
import { Overtaken } from "../parts/overtaken.tsx";
import { TableHead } from "../parts/table-head.tsx";
import { Day } from "../words/said.tsx";
import { exactMass } from "./exact-mass.ts";
import type { CylinderFields, MoveFields } from "./refrigerant-fields.ts";
import { CylinderInputs, type ShownCylinder } from "./refrigerant-page.tsx";
import { CONDITION_NAMES } from "./work-fields.tsx";

export interface ShownMove {
  date: string;
  kind: MoveKind | "recovered" | "charged";
  amount_g: number;
  note: string;
  move_id: string | null;
  vehicle_id: string | null;
}

interface CylinderPageProps {
  cylinder: ShownCylinder & { version: number };
  /** Newest first. */
  moves: readonly ShownMove[];
  balances: readonly { year: number; balance: MassBalance }[];
  units: UnitSystem;
  fields: CylinderFields;
  move_fields: MoveFields;
  /** An amount that does not fit what is known was typed: it takes a tick to record it. */
  asks: boolean;
  errors: readonly FieldError[];
  changed: boolean;
  may_change: boolean;
  submit_key: string;
  asset: AssetUrl;
}

const MOVE_NAMES: Readonly<Record<ShownMove["kind"], string>> = {
  received: "Filled or delivered",
  returned: "Sent away",
  weighed: "Weighed",
  recovered: "Recovered from",
  charged: "Charged into",
};

/** `/refrigerant/cylinders/:id`: what is in a cylinder, where it came from and where it went. */
export function CylinderPage(props: CylinderPageProps) {
  const { cylinder, moves, units, fields, errors, changed, may_change, submit_key, asset } = props;
  const path = `/refrigerant/cylinders/${cylinder.id}`;
  const messages = messagesOf(errors);
  return (
    <Layout title={`Cylinder ${cylinder.name}`} path="/refrigerant" asset={asset} errors={errors}>
      <p class="page-name">
        <a href="/refrigerant">Refrigerant log</a>
      </p>
      <h1 class="page-title">
        Cylinder {cylinder.name}: {exactMass(cylinder.stock_g, units)} of {cylinder.refrigerant}
      </h1>
      <p class="page-lead">
        {CONDITION_NAMES[cylinder.condition]}
        {cylinder.retired && ", out of use"}
        {cylinder.most_g !== null && `; it may hold ${exactMass(cylinder.most_g, units)}`}.
        {cylinder.stock_g < 0 && " By the book more went out than came in: weigh it, and record what the scale shows."}
      </p>
      {changed && <Overtaken />}
      {may_change && <RecordMove {...props} path={path} />}
      <Entry name="Came and went">
        {moves.length === 0 ? (
          <p>Nothing recorded yet.</p>
        ) : (
          <ul class="people">
            {moves.map((move) => (
              <li>
                <p>
                  <Day iso={move.date} />: {MOVE_NAMES[move.kind]}{" "}
                  {move.vehicle_id !== null && (
                    <a href={`/vehicles/${move.vehicle_id}`} dir="auto">
                      {move.note}
                    </a>
                  )}
                  , <strong>{exactMass(move.amount_g, units)}</strong>
                  {move.vehicle_id === null && move.note !== "" && <span class="soft"> {move.note}</span>}
                </p>
                {may_change && move.move_id !== null && (
                  <Confirm
                    name="Take this back"
                    about={`of ${exactMass(move.amount_g, units)}`}
                    question="It was recorded by mistake, and will no longer count."
                    action={`${path}/moves/${move.move_id}/removal`}
                    fields={{}}
                  />
                )}
              </li>
            ))}
          </ul>
        )}
      </Entry>
      <Entry name="By year">
        <Balances {...props} />
      </Entry>
      {may_change && (
        <Entry name="Edit">
          <form method="post" action={path} class="stack" id="cylinder" novalidate>
            <input type="hidden" name="version" value={cylinder.version} />
            <input type="hidden" name="submit_key" value={`${submit_key}-edit`} />
            <CylinderInputs fields={fields} messages={messages} />
            <label class="choice">
              <input type="checkbox" name="retired" value="yes" checked={fields.retired} />
              Out of use
            </label>
            <FormFoot submit="Save" quiet />
          </form>
        </Entry>
      )}
    </Layout>
  );
}

function RecordMove({ move_fields, asks, errors, submit_key, path }: CylinderPageProps & { path: string }) {
  const of = fieldOf<MoveFields>(move_fields, messagesOf(errors));
  return (
    <Entry name="Record" note={<p>What comes from vehicles is here by itself</p>}>
      <form method="post" action={`${path}/moves`} class="stack" id="move" novalidate>
        <input type="hidden" name="submit_key" value={`${submit_key}-move`} />
        <p class="step-caution">
          Never fill a cylinder beyond what its label allows: overfilled, it can burst when it gets warm. Gloves and
          goggles: refrigerant freezes skin and eyes.
        </p>
        <div class="field-grid">
          <SelectField
            {...of("kind")}
            label="What happened"
            choices={[
              { value: "", label: "Choose" },
              ...MOVE_KINDS.map((kind) => ({ value: kind, label: MOVE_NAMES[kind] })),
            ]}
          />
          <TextField {...of("when")} label="When" hint="Like today or 14 Aug 2026" />
          <TextField
            {...of("amount")}
            label="Refrigerant"
            hint="By the scale, without the cylinder; of a weighing, what is in it"
          />
          <TextField {...of("move_note")} label="From or to whom" hint="May stay empty" words />
        </div>
        {asks && (
          <label class="choice">
            <input type="checkbox" name="sure" value="yes" />
            The amount is right: I read it off the scale
          </label>
        )}
        <FormFoot submit="Record it" />
      </form>
    </Entry>
  );
}

function Balances({ balances, units }: Pick<CylinderPageProps, "balances" | "units">) {
  return (
    <section class="table-scroll" aria-label="Mass balance by year" tabindex={0}>
      <table>
        <BalanceHead first="Year" />
        <tbody>
          {balances.map(({ year, balance }) => (
            <tr>
              <th scope="row">{year}</th>
              <BalanceCells balance={balance} units={units} />
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

/** The head of a table of mass balances. */
export function BalanceHead({ first }: { first: string }) {
  return (
    <TableHead
      words={[first]}
      figures={["At the start", "Came in", "Recovered", "Charged", "Sent away", "Weighed more or less", "At the end"]}
    />
  );
}

/** The cells of one balance. */
export function BalanceCells({ balance, units }: { balance: MassBalance; units: UnitSystem }) {
  const { opening_g, received_g, recovered_g, charged_g, returned_g, adjusted_g, closing_g } = balance;
  return (
    <>
      {[opening_g, received_g, recovered_g, charged_g, returned_g, adjusted_g, closing_g].map((grams) => (
        <td class="figure-cell">{exactMass(grams, units)}</td>
      ))}
    </>
  );
}
