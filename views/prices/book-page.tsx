import { SAMPLE_PRICES_NOTE } from "../../data/price-book.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Confirm } from "../parts/confirm.tsx";
import { Entry } from "../parts/entry.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { FormFoot } from "../parts/form-foot.tsx";
import { currencyName } from "../words/currency.ts";
import { type BookFields, BookForm } from "./book-form.tsx";

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
          <BookForm fields={props.fields} errors={errors} currency={currency} />
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
