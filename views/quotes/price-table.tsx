import { LINE_KIND_NAMES } from "../../data/quote-words.ts";
import { formatAmount, formatPercent, formatQuantity, formatUnitPrice } from "../../src/core/quantities/money.ts";
import type { Discount, OptionTotal, QuoteOption } from "../../src/core/quotes/quote.ts";
import { TableHead } from "../parts/table-head.tsx";
import type { MoneyStyle } from "./said-quote.ts";

interface PriceTableProps {
  option: Pick<QuoteOption, "title" | "lines" | "discount">;
  price: OptionTotal;
  money: MoneyStyle;
}

/** What the price of an option is made of, to be added up by hand. */
export function PriceTable({ option, price, money }: PriceTableProps) {
  const { currency, number_format } = money;
  const amount = (minor: number) => formatAmount(minor, currency, number_format);
  return (
    <table class="price-table">
      <caption>{option.title}</caption>
      <TableHead words={["For"]} figures={["Quantity", "Price each", "Amount"]} />
      <tbody>
        {option.lines.map((line, i) => {
          const total = price.lines[i];
          if (total === undefined) return null;
          return (
            <tr>
              <th scope="row">
                {(line.kind === "labor" || line.kind === "parts" || line.kind === "credit") && (
                  <span class="soft">{LINE_KIND_NAMES[line.kind]}: </span>
                )}
                {line.text}
              </th>
              <td class="figure-cell">
                {formatQuantity(line.quantity_milli, number_format)}
                {line.unit !== "" && `\u00a0${line.unit}`}
              </td>
              <td class="figure-cell">{formatUnitPrice(line.unit_price_micro, currency, number_format)}</td>
              <td class="figure-cell">
                {amount(total.net_minor)}
                {line.discount !== null && <small>{discountText(line.discount, total.discount_minor, money)}</small>}
              </td>
            </tr>
          );
        })}
      </tbody>
      <tfoot>
        {(price.discount_minor > 0 || price.taxes.length > 0) && (
          <SumRow name="Subtotal" amount={amount(price.subtotal_minor)} />
        )}
        {option.discount !== null && price.discount_minor > 0 && (
          <SumRow name={discountName(option.discount, money)} amount={amount(-price.discount_minor)} />
        )}
        {price.taxes.map(({ name, rate_ppm, taxable_minor, tax_minor }) => (
          <SumRow
            name={`${name}, ${formatPercent(rate_ppm, number_format)} % of ${amount(taxable_minor)}`}
            amount={amount(tax_minor)}
          />
        ))}
        <tr class="price-total">
          <th scope="row" colspan={3}>
            Total
          </th>
          <td class="figure-cell">{amount(price.total_minor)}</td>
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

function discountName(discount: Discount, { number_format }: MoneyStyle): string {
  return discount.kind === "percent" ? `Less ${formatPercent(discount.rate_ppm, number_format)} %` : "Less";
}

function discountText(discount: Discount, discount_minor: number, money: MoneyStyle): string {
  const off = formatAmount(discount_minor, money.currency, money.number_format);
  return discount.kind === "percent" ? `${discountName(discount, money)}: ${off}` : `Less ${off}`;
}
