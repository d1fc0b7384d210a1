import { REFRIGERANTS } from "../../src/core/question/contract.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { fieldOf, messagesOf, SelectField, TextField } from "../parts/field.tsx";
import { FormFoot } from "../parts/form-foot.tsx";
import type { OwnedVehicleFields } from "./customer-fields.ts";
import { PaperFields } from "./paper-fields.tsx";

interface OwnedVehiclePageProps {
  customer: { id: string; name: string };
  fields: OwnedVehicleFields;
  errors: readonly FieldError[];
  submit_key: string;
  asset: AssetUrl;
}

/** `/customers/:id/vehicles/new`: a vehicle of a customer, with what its papers say. */
export function OwnedVehiclePage({ customer, fields, errors, submit_key, asset }: OwnedVehiclePageProps) {
  const messages = messagesOf(errors);
  const of = fieldOf(fields, messages);
  return (
    <Layout title={`Add a vehicle for ${customer.name}`} path="/customers" asset={asset} errors={errors}>
      <p class="page-name">
        <a href={`/customers/${customer.id}`}>{customer.name}</a>
      </p>
      <h1 class="page-title">Add a vehicle for {customer.name}</h1>
      <form method="post" action={`/customers/${customer.id}/vehicles`} class="stack" id="vehicle" novalidate>
        <input type="hidden" name="submit_key" value={submit_key} />
        <PaperFields fields={fields} messages={messages} />
        <div class="field-grid">
          <SelectField
            {...of("refrigerant")}
            label="Refrigerant"
            hint="On the label under the hood"
            choices={[{ value: "", label: "Choose" }, ...REFRIGERANTS.map((id) => ({ value: id, label: id }))]}
          />
          <TextField
            {...of("nameplate")}
            label="Nameplate charge"
            hint="On the same label, like 23 oz or 650 g"
            short
          />
          <TextField
            {...of("label")}
            label="What you call it"
            hint="For the shop alone; empty for the words and the plate above"
            words
          />
        </div>
        <FormFoot submit="Save, then begin a quote">
          <a href={`/customers/${customer.id}`}>Skip: no vehicle now</a>
        </FormFoot>
      </form>
    </Layout>
  );
}
