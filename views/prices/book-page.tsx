import type { Child } from "hono/jsx";
import { SAMPLE_PRICES_NOTE } from "../../data/price-book.ts";
import { LINE_KIND_NAMES } from "../../data/quote-words.ts";
import { LOCATION_IDS, type LocationId, REFRIGERANTS, type RefrigerantId } from "../../src/core/question/contract.ts";
import { OWN_LINES, PRICED_PER } from "../../src/core/quotes/price-book.ts";
import { LINE_KINDS } from "../../src/core/quotes/quote.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Confirm } from "../parts/confirm.tsx";
import { Entry } from "../parts/entry.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { fieldOf, messagesOf, SelectField, TextAreaField, TextField } from "../parts/field.tsx";
import { FormFoot } from "../parts/form-foot.tsx";
import { currencyName } from "../words/currency.ts";
import { PLACE_NAMES } from "../words/places.ts";

/** A price book as it was typed, by the ids of its fields (`hours.hose`, `tax_parts`). */
export type BookFields = Readonly<Record<string, string>>;

export interface BookPageProps {
  /** Null for a book that is being made. */
  id: string | null;
  version: number;
  name: string;
  sample: boolean;
  /** The workspace's currency, where the book is in another. */
  wanted: string | null;
  fields: BookFields;
  errors: readonly FieldError[];
  currency: string;
  may_change: boolean;
  /** Taken out of the list: to be looked at only. */
  retired: boolean;
  /** It was saved just now. */
  saved: boolean;
  /** Someone else saved it in the meantime; what was typed is still in the form. */
  changed: boolean;
  submit_key: string;
  asset: AssetUrl;
}

/** `/prices/:id`: one price book; `/prices/new`: one to be filled in. */
export function BookPage(props: BookPageProps) {
  const { id, version, sample, wanted, errors, currency, may_change, saved, changed, submit_key, asset } = props;
  const name = id === null ? `New price book in ${currencyName(currency)}` : props.name;
  return (
    <Layout title={`${name} · Prices`} path="/prices" asset={asset} errors={errors}>
      <p class="page-name">
        <a href="/prices">Prices</a>
      </p>
      <h1 class="page-title">{name}</h1>
      {saved && (
        <p class="note" role="status">
          Saved. Quotes that were begun before keep their prices.
        </p>
      )}
      {changed && (
        <p class="note" role="alert">
          Someone else saved this book in the meantime. What you typed is below; save again to put it in place of
          theirs, or <a href={`/prices/${id}`}>look at theirs</a>.
        </p>
      )}
      {props.retired && (
        <p class="note">
          This book is retired. <a href="/prices">Bring it back</a> to change it or to quote with it.
        </p>
      )}
      {sample && <p class="note">{SAMPLE_PRICES_NOTE}</p>}
      {id === null && (
        <p class="page-lead">
          Enter what you charge, before tax, in {currencyName(currency)}. Hours and weights are samples: change what is
          not yours. Answers, lists, the fleet and new quotes use these prices once they are saved.
        </p>
      )}
      {wanted !== null && (
        <p class="note">
          These prices are in {currencyName(currency)}, and your workspace is in {currencyName(wanted)}. Answers don't
          use them. {may_change && <a href="/prices/new">Enter your prices in {currencyName(wanted)}</a>}
        </p>
      )}
      <form method="post" action={id === null ? "/prices/new" : `/prices/${id}`} novalidate>
        <input type="hidden" name="version" value={version} />
        <input type="hidden" name="submit_key" value={submit_key} />
        <fieldset disabled={!may_change} class="plain-fieldset">
          <BookForm {...props} />
        </fieldset>
        {may_change && (
          <Entry name="Save">
            <FormFoot submit="Save these prices">
              {id === null ? <a href="/prices">Cancel</a> : <a href={`/prices/${id}/book.csv`}>Export as CSV</a>}
            </FormFoot>
          </Entry>
        )}
      </form>
      {may_change && id !== null && (
        <Entry name="No longer used">
          <Confirm
            name="Take it out of the list"
            question="No new quote can be made from it, and there is no way back: export it as CSV first if you may need it. Its quotes stay as they are."
            action={`/prices/${id}/archive`}
            fields={{ version }}
          />
        </Entry>
      )}
    </Layout>
  );
}

function BookForm({ fields, errors, currency }: BookPageProps) {
  const messages = messagesOf(errors);
  const of = fieldOf(fields, messages);
  const price = (id: string, label: Child, hint?: string) => (
    <TextField {...of(id)} label={label} hint={hint} short inputmode="decimal" unit={currency} />
  );
  return (
    <>
      <Entry name="The book">
        <div class="field-grid">
          <TextField {...of("name")} label="Name" words />
          {price("labor_rate", `Labor rate in ${currency}`, "For an hour")}
        </div>
      </Entry>
      <Entry name="Repairs" note={<p>By where it leaks</p>}>
        {LOCATION_IDS.map((place) => (
          <PlaceFields place={place} of={of} currency={currency} />
        ))}
        <fieldset class="place-prices">
          <legend>High-voltage compressor</legend>
          <TextField
            {...of("hours.electric-compressor")}
            label={
              <>
                Hours<span class="visually-hidden">, high-voltage compressor</span>
              </>
            }
            hint="Empty: as above"
            short
            inputmode="decimal"
            unit="h"
          />
          <TextField
            {...of("parts.electric-compressor")}
            label={
              <>
                Parts in {currency}
                <span class="visually-hidden">, high-voltage compressor</span>
              </>
            }
            hint="Empty: as above"
            short
            inputmode="decimal"
            unit={currency}
          />
        </fieldset>
      </Entry>
      <Entry name="Service">
        <div class="field-grid">
          {price("recover", `Recover, in ${currency}`)}
          {price("evacuate", `Evacuate, in ${currency}`)}
          {price("charge", `Charge by weight, in ${currency}`, "Without the refrigerant")}
        </div>
      </Entry>
      <Entry name="Refrigerant">
        {REFRIGERANTS.map((refrigerant) => (
          <RefrigerantFields refrigerant={refrigerant} of={of} currency={currency} />
        ))}
      </Entry>
      <Entry name="Leak tests">
        <div class="field-grid">
          {price("electronic", `Electronic test, in ${currency}`)}
          {price("dye", `Dye, in ${currency}`, "Put in with the charge")}
          {price("dye_inspection", `Looking for the dye, in ${currency}`, "About five weeks later")}
        </div>
      </Entry>
      <Entry name="Your own lines" note={<p>To be added to a quote with one press</p>}>
        {OWN_LINES.map((n) => (
          <OwnLineFields n={n} of={of} currency={currency} />
        ))}
      </Entry>
      <Entry name="On top">
        <div class="field-grid">
          <TextField
            {...of("parts_markup")}
            label="Markup on parts (percent)"
            hint="Empty where the parts above are what the customer pays"
            short
            inputmode="decimal"
            unit="%"
          />
          {price("minimum", `Minimum charge before tax, in ${currency}`, "Empty for none")}
        </div>
      </Entry>
      <Entry name="Shop supplies">
        <div class="field-grid">
          <TextField {...of("supplies")} label="Percent of labor and service" short inputmode="decimal" unit="%" />
          {price("supplies_most", `At most, in ${currency}`, "Empty for no limit")}
        </div>
      </Entry>
      <Entry name="Taxes" note={<p>Enter 0 for no tax. Two taxes with the same name and rate count as one.</p>}>
        <TaxFields on="parts" of={of} />
        <TaxFields on="labor" of={of} />
      </Entry>
      <Entry name="Warranty and validity">
        <div class="field-grid">
          <TextField
            {...of("warranty_months")}
            label="Warranty on repairs, in months"
            hint="0 for none"
            short
            inputmode="numeric"
            unit="months"
          />
          <TextField {...of("valid_days")} label="Quotes are valid for (days)" short inputmode="numeric" unit="days" />
        </div>
        <TextAreaField {...of("warranty_words")} label="What the warranty covers" rows={2} />
      </Entry>
    </>
  );
}

type Of = (id: string) => { id: string; name: string; value: string; error: string | undefined };

function PlaceFields({ place, of, currency }: { place: LocationId; of: Of; currency: string }) {
  const { name } = PLACE_NAMES[place];
  const opened = of(`opened.${place}`);
  const of_place = <span class="visually-hidden">, {name}</span>;
  return (
    <fieldset class="place-prices">
      <legend>{name}</legend>
      <TextField {...of(`hours.${place}`)} label={<>Hours{of_place}</>} short inputmode="decimal" unit="h" />
      <TextField
        {...of(`parts.${place}`)}
        label={
          <>
            Parts in {currency}
            {of_place}
          </>
        }
        short
        inputmode="decimal"
        unit={currency}
      />
      <label class="choice">
        <input type="checkbox" id={opened.id} name={opened.name} value="yes" checked={opened.value === "yes"} />
        <span>The system is opened{of_place}</span>
      </label>
    </fieldset>
  );
}

function OwnLineFields({ n, of, currency }: { n: string; of: Of; currency: string }) {
  const always = of(`own_always.${n}`);
  const of_line = <span class="visually-hidden">, own line {n}</span>;
  return (
    <fieldset class="place-prices">
      <legend>Line {n}</legend>
      <TextField {...of(`own_text.${n}`)} label={<>For{of_line}</>} words />
      <TextField
        {...of(`own_price.${n}`)}
        label={
          <>
            Price in {currency}
            {of_line}
          </>
        }
        short
        inputmode="decimal"
        unit={currency}
      />
      <SelectField
        {...withUsual(of(`own_kind.${n}`), "service")}
        label={<>Kind{of_line}</>}
        choices={LINE_KINDS.map((kind) => ({ value: kind, label: LINE_KIND_NAMES[kind] }))}
        class="short-select"
      />
      <label class="choice">
        <input type="checkbox" id={always.id} name={always.name} value="yes" checked={always.value === "yes"} />
        <span>On every option that handles refrigerant{of_line}</span>
      </label>
    </fieldset>
  );
}

function withUsual<Field extends { value: string }>(field: Field, usual: string): Field {
  return field.value === "" ? { ...field, value: usual } : field;
}

function RefrigerantFields({ refrigerant, of, currency }: { refrigerant: RefrigerantId; of: Of; currency: string }) {
  return (
    <fieldset class="place-prices">
      <legend>{refrigerant}</legend>
      <TextField
        {...of(`refrigerant.${refrigerant}`)}
        label={
          <>
            Price in {currency}
            <span class="visually-hidden">, {refrigerant}</span>
          </>
        }
        short
        inputmode="decimal"
        unit={currency}
      />
      <SelectField
        {...of(`per.${refrigerant}`)}
        label={
          <>
            for each<span class="visually-hidden">, {refrigerant}</span>
          </>
        }
        choices={PRICED_PER.map((per) => ({ value: per, label: per }))}
        class="short-select"
      />
      <TextField
        {...of(`service_extra.${refrigerant}`)}
        label={
          <>
            Extra for its machine in {currency}
            <span class="visually-hidden">, {refrigerant}</span>
          </>
        }
        hint="Empty for none"
        short
        inputmode="decimal"
        unit={currency}
      />
    </fieldset>
  );
}

function TaxFields({ on, of }: { on: "parts" | "labor"; of: Of }) {
  const of_tax = <span class="visually-hidden"> of the tax on {on}</span>;
  return (
    <fieldset class="place-prices">
      <legend>On {on}</legend>
      <TextField {...of(`tax_${on}`)} label={<>Percent{of_tax}</>} short inputmode="decimal" unit="%" />
      <TextField {...of(`tax_${on}_name`)} label={<>Name on the invoice{of_tax}</>} words />
    </fieldset>
  );
}
