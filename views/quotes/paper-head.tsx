import type { Child } from "hono/jsx";
import type { PrintedLetterhead, QuoteSnapshot } from "../../src/core/quotes/quote-document.ts";
import type { CustomerSaid } from "./customer-said.tsx";

interface PaperHeadProps {
  letterhead: PrintedLetterhead;
  said: CustomerSaid;
  /** The shop's; "" for none. */
  logo?: string;
  children: Child;
}

/** The shop on the left, and on the right the facts of the paper. */
export function PaperHead({ letterhead, said, logo = "", children }: PaperHeadProps) {
  const { shop, address, phone, email, certificate, tax_number } = letterhead;
  const reach = [phone, email].filter((text) => text !== "");
  const papers = [certificate, tax_number === "" ? "" : said.word("head.tax-number", { number: tax_number })].filter(
    (text) => text !== "",
  );
  return (
    <div class="offer-head">
      <div class="letterhead">
        {logo !== "" && <img class="letterhead-logo" src={logo} alt={said.word("head.logo", { shop })} />}
        <p class="letterhead-shop">{shop}</p>
        {address !== "" && <p class="letterhead-text">{address}</p>}
        {reach.length > 0 && <p>{reach.join(" · ")}</p>}
        {papers.length > 0 && <p class="soft">{papers.join(" · ")}</p>}
      </div>
      <dl class="offer-facts">{children}</dl>
    </div>
  );
}

/** The vehicle as the shop named it for paper; without a name, what its system is. */
export function vehicleFacts(
  { label, refrigerant, shown }: Pick<QuoteSnapshot["vehicle"], "label" | "refrigerant" | "shown">,
  said: CustomerSaid,
): [name: string, text: string][] {
  const named = label === "" ? said.word("head.system", { refrigerant }) : label;
  const facts: [string, string][] = [[said.word("head.vehicle"), named]];
  if (shown === undefined) return facts;
  const more: [string, string][] = [
    [said.word("head.plate"), shown.plate],
    [said.word("head.vin"), shown.vin],
    [said.word("head.odometer"), shown.odometer],
  ];
  return [...facts, ...more.filter(([, text]) => text !== "")];
}

/** One named fact in the head of a paper. */
export function Fact({ name, children }: { name: string; children: Child }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  );
}

/** At the foot of each printed sheet: which paper it is, and whose, beside its page number. */
export function SheetFoot({ name, shop }: { name: string; shop: string }) {
  return (
    <p class="sheet-foot" aria-hidden="true">
      {name} · {shop}
    </p>
  );
}
