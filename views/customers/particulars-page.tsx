import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { messagesOf } from "../parts/field.tsx";
import { FormFoot } from "../parts/form-foot.tsx";
import { Overtaken } from "../parts/overtaken.tsx";
import { CustomerChoice, type CustomerChoiceProps } from "./customer-choice.tsx";
import type { ParticularsFields } from "./customer-fields.ts";
import { PaperFields } from "./paper-fields.tsx";

interface ParticularsPageProps {
  vehicle: { id: string; label: string };
  version: number;
  fields: ParticularsFields;
  choice: Omit<CustomerChoiceProps, "errors">;
  errors: readonly FieldError[];
  changed: boolean;
  submit_key: string;
  asset: AssetUrl;
}

/** `/vehicles/:id/particulars`: whose vehicle it is, and what papers call it. */
export function ParticularsPage(props: ParticularsPageProps) {
  const { vehicle, version, fields, choice, errors, changed, submit_key, asset } = props;
  const messages = messagesOf(errors);
  return (
    <Layout title={`Customer, plate and VIN of ${vehicle.label}`} path="/vehicles" asset={asset} errors={errors} live>
      <p class="page-name">
        <a href={`/vehicles/${vehicle.id}`}>{vehicle.label}</a>
      </p>
      <h1 class="page-title">Customer, plate and VIN</h1>
      <p class="page-lead">
        Quotes and invoices name the vehicle by these. Your own name for it, “{vehicle.label}”, stands on no paper.
      </p>
      {changed && <Overtaken />}
      <form method="post" action={`/vehicles/${vehicle.id}/particulars`} class="stack" id="particulars" novalidate>
        {/* Enter in a field presses the first button of the form, which must not be the one that searches. */}
        <button type="submit" class="visually-hidden" tabindex={-1}>
          Save
        </button>
        <input type="hidden" name="version" value={version} />
        <input type="hidden" name="submit_key" value={submit_key} />
        <CustomerChoice {...choice} errors={errors} path={`/vehicles/${vehicle.id}/particulars`} />
        <PaperFields fields={fields} messages={messages} />
        <FormFoot submit="Save">
          <a href={`/vehicles/${vehicle.id}`}>Cancel</a>
        </FormFoot>
      </form>
    </Layout>
  );
}
