import { sumOf } from "../../src/core/quantities/money.ts";
import type { Discount, LineTotal, OptionTotal, QuoteLine, QuoteOption } from "../../src/core/quotes/quote.ts";
import { TableHead } from "../parts/table-head.tsx";
import { Unbroken } from "../words/said.tsx";
import type { CustomerSaid } from "./customer-said.tsx";

interface PriceTableProps {
  option: Pick<QuoteOption, "title" | "lines" | "discount">;
  /** Lines that came to it later. */
  extra?: readonly QuoteLine[];
  /** Its lines, then the later ones. */
  price: OptionTotal;
  said: CustomerSaid;
}

/** What the price of an option is made of, to be added up by hand. */
export function PriceTable({ option, extra = [], price, said }: PriceTableProps) {
  const figures = [said.word("price.quantity"), said.word("price.each"), said.word("price.amount")];
  const quoted = price.lines.slice(0, option.lines.length);
  const subtotal_minor = sumOf(quoted.map(({ net_minor }) => net_minor));
  const discounted = option.discount !== null && price.discount_minor > 0;
  return (
    <table class="price-table">
      <caption>{option.title}</caption>
      <TableHead words={[said.word("price.for")]} figures={figures} />
      <tbody>
        <LineRows lines={option.lines} totals={quoted} said={said} />
      </tbody>
      {extra.length > 0 && (
        <tbody>
          {discounted && <SumRow name={said.word("price.subtotal")} amount={said.amount(subtotal_minor)} />}
          <DiscountRow option={option} price={price} said={said} />
          <tr>
            <th scope="rowgroup" colspan={4}>
              {said.word("invoice.extra")}
            </th>
          </tr>
          <LineRows lines={extra} totals={price.lines.slice(option.lines.length)} said={said} />
        </tbody>
      )}
      <tfoot>
        {(discounted || price.taxes.length > 0) && (
          <SumRow
            name={said.word("price.subtotal")}
            amount={said.amount(extra.length > 0 ? price.net_minor : price.subtotal_minor)}
          />
        )}
        {extra.length === 0 && <DiscountRow option={option} price={price} said={said} />}
        {price.taxes.map(({ name, rate_ppm, taxable_minor, tax_minor }) => (
          <SumRow
            name={said.word("price.tax", { name, percent: said.percent(rate_ppm), sum: said.amount(taxable_minor) })}
            amount={said.amount(tax_minor)}
          />
        ))}
        <tr class="price-total">
          <th scope="row" colspan={3}>
            {said.word("price.total")}
          </th>
          <td class="figure-cell">{said.amount(price.total_minor)}</td>
        </tr>
      </tfoot>
    </table>
  );
}

interface LineRowsProps {
  lines: readonly QuoteLine[];
  totals: readonly LineTotal[];
  said: CustomerSaid;
}

function LineRows({ lines, totals, said }: LineRowsProps) {
  return (
    <>
      {lines.map((line, i) => {
        const total = totals[i];
        if (total === undefined) return null;
        return (
          <tr>
            <th scope="row">
              {(line.kind === "labor" || line.kind === "parts" || line.kind === "credit") && (
                <span class="soft">{said.word(`kind.${line.kind}`)}: </span>
              )}
              <Unbroken text={line.text} />
            </th>
            <td class="figure-cell">
              {said.quantity(line.quantity_milli)}
              {line.unit !== "" && `\u00a0${line.unit}`}
            </td>
            <td class="figure-cell">{said.unitPrice(line.unit_price_micro)}</td>
            <td class="figure-cell">
              {said.amount(total.net_minor)}
              {line.discount !== null && <small>{discountText(line.discount, total.discount_minor, said)}</small>}
            </td>
          </tr>
        );
      })}
    </>
  );
}

/** The discount on the whole of what was quoted. */
function DiscountRow({ option: { discount }, price, said }: PriceTableProps) {
  if (discount === null || price.discount_minor === 0) return null;
  return <SumRow name={discountName(discount, said)} amount={said.amount(-price.discount_minor)} />;
}

function SumRow({ name, amount }: { name: string; amount: string }) {
  return (
    <tr>
      <th scope="row" colspan={3}>
        {name}
      </th>
      <td class="figure-cell">{amount}</td>
    </tr>
  );
}

function discountName(discount: Discount, said: CustomerSaid): string {
  if (discount.kind !== "percent") return said.word("price.less");
  return said.word("price.less-percent", { percent: said.percent(discount.rate_ppm) });
}

function discountText(discount: Discount, discount_minor: number, said: CustomerSaid): string {
  const sum = said.amount(discount_minor);
  if (discount.kind !== "percent") return said.word("price.less-sum", { sum });
  return said.word("price.less-percent-sum", { percent: said.percent(discount.rate_ppm), sum });
}
