import { formatDate } from "../../src/core/quantities/dates.ts";
import { currencyName } from "../words/currency.ts";

interface ShownBook {
  id: string;
  name: string;
  /** Null: what was worked out rests on the book as it was before it was changed. */
  changed_on: string | null;
}

/** Whose prices a page was worked out with. */
export interface PricesUsed {
  /** What its money is in, ISO 4217. */
  currency: string;
  /** Whether there are no prices in this currency for an owner's own work, so that a shop tops it off. */
  by_shop?: boolean;
  /** The workspace's own currency, where there are no prices in it. */
  wanted: string | null;
  /** The workspace's price book; null: the general prices. */
  book: ShownBook | null;
  /** On a page of many vehicles, the book for those that have a group, where that is another one. */
  book_of_groups?: ShownBook | null;
  /** The currency of the vehicle's own prices, where they are left out because of it. */
  left_out?: string | null;
}

/**
 * `Prices: your price book Retail, changed 3 May 2026.`, with a way to it; and what is missing. `among_books`: on the
 * page of the price books itself, where no link leads to them.
 */
export function PricesUsedLine({ prices, among_books = false }: { prices: PricesUsed; among_books?: boolean }) {
  const { currency, wanted, book, book_of_groups = null, left_out = null, by_shop = false } = prices;
  return (
    <div class="prices-used">
      <p class="small soft">
        {book === null ? (
          <>
            <a href="/method#parameters">General prices</a>, {currencyName(currency)}.
          </>
        ) : (
          <>
            Prices: your price book <Book book={book} />
            {book_of_groups !== null && (
              <>
                , and for vehicles with a group <Book book={book_of_groups} />
              </>
            )}
            . Money is in {currencyName(currency)}.
            {by_shop && " Topping off is priced as a shop does it: your book has no prices for cans and tools."}
          </>
        )}{" "}
        {book === null && wanted === null && !among_books && <a href="/prices">Use your own</a>}
      </p>
      {wanted !== null && (
        <p class="note">
          There are no prices in {currencyName(wanted)} yet, so all money here is in {currencyName(currency)}.{" "}
          <a href="/prices/new">Enter your prices in {currencyName(wanted)}</a>
        </p>
      )}
      {left_out !== null && (
        <p class="small soft">This vehicle's own prices are in {currencyName(left_out)}, so they do not count here.</p>
      )}
    </div>
  );
}

function Book({ book: { id, name, changed_on } }: { book: ShownBook }) {
  return (
    <>
      <a href={`/prices/${id}`}>{name}</a>,{" "}
      {changed_on === null ? "as it was before its last change" : `changed ${formatDate(changed_on)}`}
    </>
  );
}
