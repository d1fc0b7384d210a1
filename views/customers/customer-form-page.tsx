import { LANGUAGE_NAMES, LANGUAGES } from "../../data/customer-words.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { fieldOf, messagesOf, SelectField, TextAreaField, TextField } from "../parts/field.tsx";
import { FormFoot } from "../parts/form-foot.tsx";
import { Overtaken } from "../parts/overtaken.tsx";
import type { CustomerFields } from "./customer-fields.ts";

interface CustomerFormPageProps {
  /** Null for a new one. */
  customer: { id: string; version: number; name: string } | null;
  fields: CustomerFields;
  errors: readonly FieldError[];
  changed: boolean;
  submit_key: string;
  asset: AssetUrl;
}

/** `/customers/new` and `/customers/:id/details`: who somebody is, and how to reach them. */
export function CustomerFormPage({ customer, fields, errors, changed, submit_key, asset }: CustomerFormPageProps) {
  const of = fieldOf(fields, messagesOf(errors));
  const title = customer === null ? "Add a customer" : `Edit ${customer.name}`;
  return (
    <Layout title={title} path="/customers" asset={asset} errors={errors}>
      <p class="page-name">
        {customer === null ? (
          <a href="/customers">Customers</a>
        ) : (
          <a href={`/customers/${customer.id}`}>{customer.name}</a>
        )}
      </p>
      <h1 class="page-title">{title}</h1>
      {changed && <Overtaken />}
      <form
        method="post"
        action={customer === null ? "/customers" : `/customers/${customer.id}/details`}
        class="stack"
        id="customer"
        novalidate
      >
        {customer !== null && <input type="hidden" name="version" value={customer.version} />}
        <input type="hidden" name="submit_key" value={submit_key} />
        <div class="field-grid">
          <TextField {...of("name")} label="Name" hint="Stands on quotes and invoices" words />
          <TextField {...of("phone")} label="Phone" hint="May stay empty" />
          <TextField {...of("email")} label="E-mail" hint="May stay empty" />
          <SelectField
            {...of("language")}
            label="Language of their papers"
            choices={[
              { value: "", label: "As the shop’s letterhead says" },
              ...LANGUAGES.map((value) => ({ value, label: LANGUAGE_NAMES[value].name })),
            ]}
          />
        </div>
        <TextAreaField {...of("address")} label="Address" hint="Stands on invoices; may stay empty" rows={3} />
        <TextAreaField {...of("note")} label="Note" hint="For the shop alone: it is on no paper" rows={2} />
        <FormFoot submit={customer === null ? "Save, then add the vehicle" : "Save"}>
          <a href={customer === null ? "/customers" : `/customers/${customer.id}`}>Cancel</a>
        </FormFoot>
      </form>
    </Layout>
  );
}
