import type { UnitSystem } from "../../src/core/quantities/units.ts";
import { REFRIGERANTS } from "../../src/core/question/contract.ts";
import { CYLINDER_CONDITIONS } from "../../src/core/refrigerant/cylinders.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Entry } from "../parts/entry.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { fieldOf, type Messages, messagesOf, SelectField, TextField } from "../parts/field.tsx";
import { FormFoot } from "../parts/form-foot.tsx";
import { TableHead } from "../parts/table-head.tsx";
import { Day } from "../words/said.tsx";
import { exactMass } from "./exact-mass.ts";
import type { CylinderFields } from "./refrigerant-fields.ts";
import { type ChosenCylinder, CONDITION_NAMES } from "./work-fields.tsx";

export interface ShownCylinder extends ChosenCylinder {
  stock_g: number;
  most_g: number | null;
  retired: boolean;
}

interface RefrigerantPageProps {
  cylinders: readonly ShownCylinder[];
  /** Entries of this year that name no technician, or no cylinder for what was recovered or charged from a scale. */
  unnamed: readonly { log_id: string; date: string; vehicle_label: string }[];
  year: number;
  units: UnitSystem;
  fields: CylinderFields;
  errors: readonly FieldError[];
  may_change: boolean;
  submit_key: string;
  asset: AssetUrl;
}

/** `/refrigerant`: cylinders with what is in them, and the sheets of the years. */
export function RefrigerantPage(props: RefrigerantPageProps) {
  const { cylinders, unnamed, year, units, fields, errors, may_change, submit_key, asset } = props;
  const messages = messagesOf(errors);
  return (
    <Layout title="Refrigerant log" path="/refrigerant" asset={asset} errors={errors}>
      <h1 class="page-title">Refrigerant log</h1>
      <p class="page-lead">
        What was recovered and charged comes from the charge logs. Here it meets technician, certificate and cylinder.
        Which records to keep, and how long, depends on the place: check your local rules.
      </p>
      <Entry name="Cylinders">
        {cylinders.length === 0 ? (
          <p>No cylinder yet. Add those that you charge from and recover into.</p>
        ) : (
          <table class="quotes">
            <TableHead words={["Cylinder"]} figures={["In it"]} />
            <tbody>
              {cylinders.map((cylinder) => (
                <tr>
                  <th scope="row">
                    <a href={`/refrigerant/cylinders/${cylinder.id}`}>{cylinder.name}</a>
                    <small>
                      {cylinder.refrigerant}, {CONDITION_NAMES[cylinder.condition].toLowerCase()}
                      {cylinder.retired && ", out of use"}
                    </small>
                  </th>
                  <td class="figure-cell">
                    {exactMass(cylinder.stock_g, units)}
                    {cylinder.stock_g < 0 && <small>more went out than came in: weigh it</small>}
                    {cylinder.most_g !== null && cylinder.stock_g > cylinder.most_g && (
                      <small>more than it may hold</small>
                    )}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        )}
        {may_change && (
          <details open={errors.length > 0}>
            <summary>Add a cylinder</summary>
            <form method="post" action="/refrigerant/cylinders" class="stack" id="cylinder" novalidate>
              <input type="hidden" name="submit_key" value={submit_key} />
              <CylinderInputs fields={fields} messages={messages} />
              <FormFoot submit="Add the cylinder" />
            </form>
          </details>
        )}
      </Entry>
      <Entry name="Not complete" note={<p>Entries of {year} that name no technician or no cylinder</p>}>
        {unnamed.length === 0 ? (
          <p>Every entry of {year} names both.</p>
        ) : (
          <ul class="people">
            {unnamed.map(({ log_id, date, vehicle_label }) => (
              <li>
                <a href={`/refrigerant/work/${log_id}`}>
                  <Day iso={date} />, {vehicle_label}
                </a>
              </li>
            ))}
          </ul>
        )}
      </Entry>
      <Entry name="Sheets">
        <ul class="people">
          {[year, year - 1, year - 2].map((one) => (
            <li>
              <a href={`/refrigerant/years/${one}`}>Sheet of {one}</a>
            </li>
          ))}
        </ul>
      </Entry>
    </Layout>
  );
}

/** What is said of a cylinder. */
export function CylinderInputs({ fields, messages }: { fields: CylinderFields; messages: Messages }) {
  const of = fieldOf<CylinderFields>(fields, messages);
  return (
    <div class="field-grid">
      <TextField {...of("name")} label="Number on it" hint="Like C-17" words />
      <SelectField
        {...of("refrigerant")}
        label="Refrigerant"
        choices={[{ value: "", label: "Choose" }, ...REFRIGERANTS.map((id) => ({ value: id, label: id }))]}
      />
      <SelectField
        {...of("condition")}
        label="What it holds"
        choices={[
          { value: "", label: "Choose" },
          ...CYLINDER_CONDITIONS.map((id) => ({ value: id, label: CONDITION_NAMES[id] })),
        ]}
      />
      <TextField {...of("most")} label="The most it may hold" hint="By its label, like 30 lb; may stay empty" short />
    </div>
  );
}
