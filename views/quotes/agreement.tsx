import { formatAmount } from "../../src/core/quantities/money.ts";
import { type Agreement, agreementOf, NOTHING_AGREED, sameAgreement } from "../../src/core/quotes/agreement.ts";
import { PAYMENT_METHOD_CHOICES, PAYMENT_METHOD_NAMES } from "../invoices/payment-methods.ts";
import { Entry } from "../parts/entry.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { fieldOf, messagesOf, SelectField, TextField } from "../parts/field.tsx";
import { FormFoot } from "../parts/form-foot.tsx";
import { Day } from "../words/said.tsx";
import type { MoneyStyle } from "./money-style.ts";

/** What is agreed on besides the option, as typed. */
export interface AgreementFields {
  ready_by: string;
  extra: string;
  deposit: string;
  deposit_method: string;
}

export const AGREEMENT_FIELDS = ["ready_by", "extra", "deposit", "deposit_method"] as const;

/** The fields of an agreement, for a form that says more. */
export function AgreementInputs({ fields, errors }: { fields: AgreementFields; errors: readonly FieldError[] }) {
  const of = fieldOf(fields, messagesOf(errors));
  return (
    <div class="field-grid">
      <TextField {...of("ready_by")} label="Ready by" hint="Like Friday or 14 Aug; may stay empty" />
      <TextField
        {...of("extra")}
        label="Extra work without asking, up to"
        hint="With tax; empty for none"
        inputmode="decimal"
        short
      />
      <TextField {...of("deposit")} label="Deposit paid" hint="May stay empty" inputmode="decimal" short />
      <SelectField
        {...of("deposit_method")}
        label="Deposit paid how"
        choices={[{ value: "", label: "No deposit" }, ...PAYMENT_METHOD_CHOICES]}
      />
    </div>
  );
}

interface AgreedProps {
  path: string;
  version: number;
  submit_key: string;
  money: MoneyStyle;
  /** Oldest first; times are where the shop is, in words. */
  agreed: readonly (Agreement & { at: string; by: string })[];
  fields: AgreementFields;
  errors: readonly FieldError[];
  may_change: boolean;
}

/** What is agreed on with an order, how it was before, and a form to change it. */
export function Agreed({ path, version, submit_key, money, agreed, fields, errors, may_change }: AgreedProps) {
  const open = errors.some(({ field }) => AGREEMENT_FIELDS.some((name) => name === field));
  return (
    <Entry name="What is agreed" id="agreed">
      <AgreedWords agreement={agreementOf([...agreed])} money={money} />
      {agreed.slice(0, -1).map((before) => (
        <p class="soft">
          Before, written on {before.at} by {before.by}: <AgreedWords agreement={before} money={money} inline />
        </p>
      ))}
      {may_change && (
        <details open={open}>
          <summary>Change what is agreed</summary>
          <form method="post" action={`${path}/agreement`} class="stack" id="agreement" novalidate>
            <input type="hidden" name="version" value={version} />
            <input type="hidden" name="submit_key" value={`${submit_key}-agreed`} />
            <AgreementInputs fields={fields} errors={errors} />
            <FormFoot submit="Save" quiet />
          </form>
        </details>
      )}
    </Entry>
  );
}

function AgreedWords({
  agreement,
  money: { currency, number_format },
  inline = false,
}: {
  agreement: Agreement;
  money: MoneyStyle;
  inline?: boolean;
}) {
  const { ready_by, extra_minor, deposit } = agreement;
  const amount = (minor: number) => formatAmount(minor, currency, number_format);
  const words = sameAgreement(agreement, NOTHING_AGREED) ? (
    <>Nothing besides the option.</>
  ) : (
    <>
      {ready_by !== null && (
        <>
          Ready by <Day iso={ready_by} />.{" "}
        </>
      )}
      {extra_minor > 0 && `Extra work up to ${amount(extra_minor)} with tax, without asking. `}
      {deposit !== null && (
        <>
          Deposit of {amount(deposit.amount_minor)}, {PAYMENT_METHOD_NAMES[deposit.method].toLowerCase()}, paid on{" "}
          <Day iso={deposit.paid_on} />.
        </>
      )}
    </>
  );
  return inline ? words : <p>{words}</p>;
}
