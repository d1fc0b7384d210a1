import { LANGUAGE_NAMES, LANGUAGES } from "../../data/customer-words.ts";
import { NUMBER_FORMAT_IDS, NUMBER_FORMATS } from "../../data/number-formats.ts";
import { LOGO_KIB } from "../../src/core/quotes/logo.ts";
import type { Letterhead } from "../../src/core/quotes/quote-document.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Entry } from "../parts/entry.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import {
  choicesOf,
  fieldOf,
  type Messages,
  messagesOf,
  RadioField,
  SelectField,
  TextAreaField,
  TextField,
} from "../parts/field.tsx";
import { FileField } from "../parts/file-field.tsx";
import { FormFoot } from "../parts/form-foot.tsx";
import { Overtaken } from "../parts/overtaken.tsx";

/** The head of a quote as it was typed. */
export type LetterheadFields = Readonly<Record<Exclude<keyof Letterhead, "logo">, string>>;

export interface LetterheadPageProps {
  fields: LetterheadFields;
  version: number;
  logo: string;
  errors: readonly FieldError[];
  changed: boolean;
  may_change: boolean;
  submit_key: string;
  /** Where to go on afterwards. */
  back: string;
  asset: AssetUrl;
}

/** `/prices/letterhead`: who gives the quotes, and how they write amounts. */
export function LetterheadPage(props: LetterheadPageProps) {
  const { fields, version, errors, changed, may_change, submit_key, back, asset } = props;
  const messages = messagesOf(errors);
  return (
    <Layout title="Letterhead" path="/prices" asset={asset} errors={errors}>
      <p class="page-name">
        <a href="/prices">Prices</a>
      </p>
      <h1 class="page-title">Letterhead</h1>
      {changed && <Overtaken />}
      <form method="post" action="/prices/letterhead" novalidate>
        <input type="hidden" name="version" value={version} />
        <input type="hidden" name="submit_key" value={submit_key} />
        <input type="hidden" name="back" value={back} />
        <fieldset disabled={!may_change} class="plain-fieldset">
          <Printed fields={fields} messages={messages} />
          <Told fields={fields} messages={messages} />
        </fieldset>
        {may_change && (
          <Entry name="Save">
            <FormFoot submit="Save" />
          </Entry>
        )}
      </form>
      {version > 0 && <Logo {...props} error={messages.get("logo")} />}
    </Layout>
  );
}

interface PartProps {
  fields: LetterheadFields;
  messages: Messages;
}

/** What is printed on papers, and how they are numbered. */
function Printed({ fields, messages }: PartProps) {
  const of = fieldOf(fields, messages);
  return (
    <>
      <Entry name="The shop">
        <TextField {...of("shop")} label="Name of the shop" words />
        <TextAreaField {...of("address")} label="Address" rows={3} />
        <div class="field-grid">
          <TextField {...of("phone")} label="Telephone" />
          <TextField {...of("email")} label="E-mail" />
          <TextField
            {...of("certificate")}
            label="Certificate for work on refrigerant"
            hint="What your place asks for, with its number"
            words
          />
          <TextField {...of("tax_number")} label="Tax number" />
        </div>
      </Entry>
      <Entry name="Under every quote">
        <TextAreaField {...of("terms")} label="Terms" hint="How you are paid, what holds for every job" rows={4} />
      </Entry>
      <Entry name="Numbers" note={<p>Quotes, invoices and credit notes are each counted without a gap</p>}>
        <div class="field-grid">
          <TextField {...of("quote_prefix")} label="Before a quote's number" hint="Like Q-; may stay empty" short />
          <TextField
            {...of("invoice_prefix")}
            label="Before an invoice's number"
            hint="Like 2026-; may stay empty"
            short
          />
          <TextField
            {...of("invoice_first")}
            label="Number of the first invoice"
            hint="To go on counting, like 1001; it counts for the first one only"
            inputmode="numeric"
            short
          />
          <TextField {...of("pay_days")} label="Days to pay" hint="Like 14; may stay empty" inputmode="numeric" short />
        </div>
      </Entry>
    </>
  );
}

/** What a customer is told and how: old links, language, amounts. */
function Told({ fields, messages }: PartProps) {
  const of = fieldOf(fields, messages);
  return (
    <>
      <Entry name="Old links">
        <RadioField
          {...of("tell_newer")}
          label="A customer opens the link of a quote that you have replaced"
          choices={choicesOf({
            yes: "Say that there is a newer quote, with its number",
            no: "Say only that this one no longer holds",
          })}
        />
      </Entry>
      <Entry name="Language and amounts">
        <SelectField
          {...of("language")}
          label="Language of quotes"
          hint="A customer’s own choice goes first"
          choices={LANGUAGES.map((value) => ({ value, label: LANGUAGE_NAMES[value].name }))}
        />
        <SelectField
          {...of("number_format")}
          label="How amounts are written"
          choices={NUMBER_FORMAT_IDS.map((id) => ({ value: id, label: `${id} (${NUMBER_FORMATS[id].name})` }))}
        />
      </Entry>
    </>
  );
}

/** The logo has a form of its own: a file is saved as soon as it is chosen and sent. */
function Logo({ fields, version, logo, may_change, submit_key, error }: LetterheadPageProps & LogoError) {
  return (
    <Entry name="Logo" id="logo-entry">
      {logo === "" ? (
        <p class="soft">There is none yet.</p>
      ) : (
        <p>
          <img class="letterhead-logo" src={logo} alt={`Logo of ${fields.shop}`} />
        </p>
      )}
      {may_change && (
        <form
          class="stack"
          method="post"
          action="/prices/letterhead/logo"
          enctype="multipart/form-data"
          aria-label="Logo"
          novalidate
        >
          <input type="hidden" name="version" value={version} />
          <input type="hidden" name="submit_key" value={`${submit_key}-l`} />
          <FileField
            id="logo"
            label="Picture"
            hint={`PNG or SVG, at most ${LOGO_KIB} KiB. It stands on quotes and invoices`}
            accept="image/png,image/svg+xml"
            error={error}
          />
          <FormFoot submit="Save the logo" quiet />
        </form>
      )}
      {may_change && logo !== "" && (
        <form method="post" action="/prices/letterhead/logo/removal">
          <input type="hidden" name="version" value={version} />
          <FormFoot submit="Remove the logo" quiet />
        </form>
      )}
    </Entry>
  );
}

interface LogoError {
  error: string | undefined;
}
