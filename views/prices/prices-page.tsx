import type { NumberFormatId } from "../../data/number-formats.ts";
import { SAMPLE_PRICES_NOTE } from "../../data/price-book.ts";
import { formatPercent, formatUnitPrice } from "../../src/core/quantities/money.ts";
import type { PriceBook } from "../../src/core/quotes/price-book.ts";
import type { Letterhead } from "../../src/core/quotes/quote-document.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Entry } from "../parts/entry.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { ErrorText, SelectField, TextField } from "../parts/field.tsx";
import { FileField } from "../parts/file-field.tsx";
import { FormFoot } from "../parts/form-foot.tsx";
import { type PricesUsed, PricesUsedLine } from "../parts/prices-used.tsx";
import { TableHead } from "../parts/table-head.tsx";
import { currencyName } from "../words/currency.ts";

/** A price book in the list. */
export interface ShownBook {
  id: string;
  version: number;
  sample: boolean;
  book: PriceBook;
}

export interface PricesPageProps {
  books: readonly ShownBook[];
  /** Taken out of the list. */
  retired: readonly ShownBook[];
  letterhead: Letterhead;
  /** What answers are worked out with. */
  used: PricesUsed;
  format: NumberFormatId;
  may_change: boolean;
  submit_key: string;
  /** What is wrong with a file or a name that was sent in. */
  errors: readonly FieldError[];
  asset: AssetUrl;
}

/** `/prices`: the price books, and what stands at the head of a quote. */
export function PricesPage(props: PricesPageProps) {
  const { books, letterhead, may_change, errors, asset } = props;
  return (
    <Layout title="Prices" path="/prices" asset={asset} errors={errors}>
      <h1 class="page-title">Prices</h1>
      <p class="page-lead">
        Your shop's prices, or what your shop charges you. Answers, lists, the fleet and quotes use your price book once
        you have saved one. Changes here never affect a quote you have started.
      </p>
      <PricesUsedLine prices={props.used} among_books />
      <Entry name="Price books">
        {books.some(({ sample }) => sample) && <p class="note">{SAMPLE_PRICES_NOTE}</p>}
        <Books {...props} />
      </Entry>
      <Entry name="Letterhead">
        {letterhead.shop === "" ? (
          <p>Your shop's name is missing. You can send quotes once it is set.</p>
        ) : (
          <p class="letterhead-text">
            <strong>{letterhead.shop}</strong>
            {letterhead.address !== "" && `\n${letterhead.address}`}
          </p>
        )}
        <p>
          <a href="/prices/letterhead">{letterhead.shop === "" ? "Set up your letterhead" : "Change the letterhead"}</a>
        </p>
      </Entry>
      {may_change && <NewBook {...props} />}
      {may_change && <FromFile {...props} />}
      {may_change && props.retired.length > 0 && <Retired {...props} />}
    </Layout>
  );
}

function Books({ books, used, format }: PricesPageProps) {
  return (
    <table class="price-books">
      <TableHead words={["Book"]} figures={["Labor, an hour", "Tax on parts", "on labor"]} />
      <tbody>
        {books.map(({ id, book, sample }) => (
          <tr>
            <th scope="row">
              <a href={`/prices/${id}`}>{book.name}</a>
              {sample && <small>sample prices</small>}
              {!sample && book.currency !== used.currency && <small>in {currencyName(book.currency)}, not used</small>}
              {(id === used.book?.id || id === used.book_of_groups?.id) && <small>used for answers</small>}
            </th>
            <td class="figure-cell">{formatUnitPrice(book.labor_rate_micro, book.currency, format)}</td>
            <td class="figure-cell">{formatPercent(book.taxes.parts.rate_ppm, format)} %</td>
            <td class="figure-cell">{formatPercent(book.taxes.labor.rate_ppm, format)} %</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function NewBook({ books, submit_key, errors }: PricesPageProps) {
  return (
    <Entry name="Another book" note={<p>For a fleet account, or for the winter</p>}>
      <form method="post" action="/prices" class="stack">
        <input type="hidden" name="submit_key" value={submit_key} />
        <div class="field-grid">
          <TextField id="new-name" name="name" label="Name" value="" words error={messageAt(errors, "new-name")} />
          <SelectField
            id="new-from"
            name="from"
            label="Begin with the prices of"
            value={books[0]?.id ?? ""}
            choices={books.map(({ id, book }) => ({ value: id, label: book.name }))}
          />
        </div>
        <FormFoot submit="Make the book" quiet />
      </form>
    </Entry>
  );
}

function FromFile({ books, errors, submit_key }: PricesPageProps) {
  return (
    <Entry name="From a file" note={<p>Export a book, change it in a spreadsheet, and bring it back</p>}>
      <form method="post" action="/prices/import" enctype="multipart/form-data" class="stack">
        <input type="hidden" name="submit_key" value={submit_key} />
        <FileField id="file" label="Price book as CSV" accept=".csv,text/csv" error={messageAt(errors, "file")} />
        <SelectField
          id="into"
          name="into"
          label="Put it"
          value=""
          choices={[
            { value: "", label: "into a new book" },
            ...books.map(({ id, version, book }) => ({ value: `${id} ${version}`, label: `in place of ${book.name}` })),
          ]}
        />
        <FormFoot submit="Import" quiet />
      </form>
    </Entry>
  );
}

/** Books that were taken out of the list, and the way back. */
function Retired({ retired, errors }: PricesPageProps) {
  return (
    <Entry name="Retired books">
      <ul class="people">
        {retired.map(({ id, version, book }) => {
          const message = messageAt(errors, `restore-${id}`);
          return (
            <li>
              <form method="post" action={`/prices/${id}/restoration`}>
                <input type="hidden" name="version" value={version} />
                <p>
                  {book.name} <small class="soft">in {currencyName(book.currency)}</small>
                </p>
                {message !== undefined && <ErrorText id={`restore-${id}`} message={message} />}
                <button type="submit" class="button-quiet" id={`restore-${id}`}>
                  Bring it back<span class="visually-hidden">: {book.name}</span>
                </button>
              </form>
            </li>
          );
        })}
      </ul>
    </Entry>
  );
}

function messageAt(errors: readonly FieldError[], field: string): string | undefined {
  return errors.find((error) => error.field === field)?.message;
}
