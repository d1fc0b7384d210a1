import type { UnitSystem } from "../../src/core/quantities/units.ts";
import type { RefrigerantId } from "../../src/core/question/contract.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { messagesOf } from "../parts/field.tsx";
import { FormFoot } from "../parts/form-foot.tsx";
import { Overtaken } from "../parts/overtaken.tsx";
import { Day } from "../words/said.tsx";
import { exactMass } from "./exact-mass.ts";
import type { RefrigerantWorkFields } from "./refrigerant-fields.ts";
import { type ChosenCylinder, RefrigerantWorkInputs } from "./work-fields.tsx";

interface WorkPageProps {
  entry: {
    log_id: string;
    vehicle_id: string;
    vehicle_label: string;
    refrigerant: RefrigerantId;
    date: string;
    recovered_g: number | null;
    added_g: number | null;
    version: number;
  };
  fields: RefrigerantWorkFields;
  cylinders: readonly ChosenCylinder[];
  units: UnitSystem;
  errors: readonly FieldError[];
  changed: boolean;
  submit_key: string;
  asset: AssetUrl;
}

/** `/refrigerant/work/:log`: who did an entry of a charge log, and with which cylinders. */
export function WorkPage({ entry, fields, cylinders, units, errors, changed, submit_key, asset }: WorkPageProps) {
  const { vehicle_label, vehicle_id, date, recovered_g, added_g, refrigerant } = entry;
  const amounts = [
    recovered_g ? `${exactMass(recovered_g, units)} recovered` : "",
    added_g ? `${exactMass(added_g, units)} charged` : "",
  ].filter((text) => text !== "");
  return (
    <Layout title="Technician and cylinder" path="/refrigerant" asset={asset} errors={errors}>
      <p class="page-name">
        <a href="/refrigerant">Refrigerant log</a>
      </p>
      <h1 class="page-title">Technician and cylinder</h1>
      <p class="page-lead">
        <a href={`/vehicles/${vehicle_id}`} dir="auto">
          {vehicle_label}
        </a>
        , <Day iso={date} />: {amounts.join(", ")} of {refrigerant}. A wrong amount is corrected in the charge log.
      </p>
      {changed && <Overtaken />}
      <form method="post" action={`/refrigerant/work/${entry.log_id}`} class="stack" id="work" novalidate>
        <input type="hidden" name="version" value={entry.version} />
        <input type="hidden" name="submit_key" value={submit_key} />
        <RefrigerantWorkInputs
          fields={fields}
          messages={messagesOf(errors)}
          cylinders={cylinders}
          refrigerant={refrigerant}
        />
        <FormFoot submit="Save">
          <a href="/refrigerant">Cancel</a>
        </FormFoot>
      </form>
    </Layout>
  );
}
