import type { Child } from "hono/jsx";
import type { PrintedLetterhead, QuoteSnapshot } from "../../src/core/quotes/quote-document.ts";

/** The shop on the left, and on the right the facts of the paper. */
export function PaperHead({ letterhead, children }: { letterhead: PrintedLetterhead; children: Child }) {
  const { shop, address, phone, email, certificate, tax_number } = letterhead;
  const reach = [phone, email].filter((text) => text !== "");
  const papers = [certificate, tax_number === "" ? "" : `Tax number ${tax_number}`].filter((text) => text !== "");
  return (
    <div class="offer-head">
      <div class="letterhead">
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
export function vehicleFacts({
  label,
  refrigerant,
  shown,
}: Pick<QuoteSnapshot["vehicle"], "label" | "refrigerant" | "shown">): [name: string, text: string][] {
  const facts: [string, string][] = [["Vehicle", label === "" ? `Air conditioning with ${refrigerant}` : label]];
  if (shown === undefined) return facts;
  const more: [string, string][] = [
    ["Plate", shown.plate],
    ["VIN", shown.vin],
    ["Odometer", shown.odometer],
  ];
  return [...facts, ...more.filter(([, text]) => text !== "")];
}

export function Fact({ name, children }: { name: string; children: Child }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  );
}
