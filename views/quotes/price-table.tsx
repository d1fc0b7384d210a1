import type { Discount, OptionTotal, QuoteOption } from "../../src/core/quotes/quote.ts";
import { TableHead } from "../parts/table-head.tsx";
import type { CustomerSaid } from "./customer-said.tsx";

interface PriceTableProps {
  option: Pick<QuoteOption, "title" | "lines" | "discount">;
  price: OptionTotal;
  said: CustomerSaid;
}

/** What the price of an option is made of, to be added up by hand. */
export function PriceTable({ option, price, said }: PriceTableProps) {
  const figures = [said.word("price.quantity"), said.word("price.each"), said.word("price.amount")];
  return (
    <table class="price-table">
      <caption>{option.title}</caption>
      <TableHead words={[said.word("price.for")]} figures={figures} />
      <tbody>
        {option.lines.map((line, i) => {
          const total = price.lines[i];
          if (total === undefined) return null;
          return (
            <tr>
              <th scope="row">
                {(line.kind === "labor" || line.kind === "parts" || line.kind === "credit") && (
                  <span class="soft">{said.word(`kind.${line.kind}`)}: </span>
                )}
                {line.text}
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
      </tbody>
      <tfoot>
        {(price.discount_minor > 0 || price.taxes.length > 0) && (
          <SumRow name={said.word("price.subtotal")} amount={said.amount(price.subtotal_minor)} />
        )}
        {option.discount !== null && price.discount_minor > 0 && (
          <SumRow name={discountName(option.discount, said)} amount={said.amount(-price.discount_minor)} />
        )}
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
