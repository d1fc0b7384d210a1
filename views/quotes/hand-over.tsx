import { formatDate } from "../../src/core/quantities/dates.ts";
import { type QuoteSnapshot, quoteNumber } from "../../src/core/quotes/quote-document.ts";
import { type QrCode, QrPicture } from "../parts/qr-picture.tsx";

interface HandOverProps {
  link: string;
  code: QrCode;
  snapshot: QuoteSnapshot;
  /** Of the customer, "" where nobody said. */
  email: string;
  phone: string;
}

/** The customer's link in each way to give it away: to copy, by mail, by message, as a code to scan. */
export function HandOver({ link, code, snapshot, email, phone }: HandOverProps) {
  const text = messageOf(snapshot, link);
  const subject = `Quote ${quoteNumber(snapshot)} from ${snapshot.letterhead.shop}`;
  return (
    <div class="hand-over">
      <div class="field">
        <label class="label-text" for="message">
          Message to the customer
        </label>
        <textarea id="message" rows={7} readonly>
          {text}
        </textarea>
      </div>
      <p class="actions">
        <button type="button" class="button-quiet" data-copy="message" hidden>
          Copy the message
        </button>
        <a class="button-quiet" href={`mailto:${encodeURIComponent(email)}?${asQuery({ subject, body: text })}`}>
          Write an e-mail
        </a>
        <a class="button-quiet" href={`sms:${phone.replace(/[^\d+]/g, "")}?${asQuery({ body: text })}`}>
          Write a text message
        </a>
      </p>
      <QrPicture code={code} label="Code to scan: it opens the quote" />
    </div>
  );
}

/** What a shop would write. */
function messageOf(snapshot: QuoteSnapshot, link: string): string {
  const { customer, valid_until, vehicle, letterhead } = snapshot;
  const words = vehicle.shown?.words ?? "";
  const sign = [letterhead.shop, letterhead.phone].filter((part) => part !== "").join(", ");
  return [
    customer === "" ? "Hello," : `Hello ${customer},`,
    "",
    `here is our quote ${quoteNumber(snapshot)}${words === "" ? "" : ` for your ${words}`}: ${link}`,
    "",
    `It holds until ${formatDate(valid_until)}. You can choose and answer on that page.`,
    sign,
  ].join("\n");
}

/** With %20 for a space: mail programs show a plus as a plus (RFC 6068, RFC 5724). */
function asQuery(parts: Readonly<Record<string, string>>): string {
  return Object.entries(parts)
    .map(([name, value]) => `${name}=${encodeURIComponent(value)}`)
    .join("&");
}
