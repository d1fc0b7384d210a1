import type { Child } from "hono/jsx";
import { formatDate } from "../../src/core/quantities/dates.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Entry } from "../parts/entry.tsx";
import { type ListedQuote, QuoteTable } from "../quotes/quotes-page.tsx";
import { type DueFollowUp, followUpWords } from "../reminders/follow-up-item.ts";

/** Follow-ups that stand here; the list has them all. */
const SHOWN = 5;

interface ShopTodayProps {
  today: string;
  /** Sent, without an answer yet. */
  waiting: readonly ListedQuote[];
  /** Accepted, and the work is not logged. */
  to_log: readonly ListedQuote[];
  drafts: readonly ListedQuote[];
  /** Overdue or due soon, the earliest first. */
  follow_ups: readonly DueFollowUp[];
  asset: AssetUrl;
}

/** `/shop`: what waits for a shop today, the most urgent first. */
export function ShopTodayPage({ today, waiting, to_log, drafts, follow_ups, asset }: ShopTodayProps) {
  return (
    <Layout title="Today" path="/shop" asset={asset}>
      <div class="page-head">
        <h1>{heading(to_log.length, follow_ups.length, waiting.length)}</h1>
        <p class="facts">
          <time datetime={today}>{formatDate(today)}</time>
        </p>
      </div>
      <Quotes name="Accepted, not logged" quotes={to_log} empty="Every accepted job is logged." />
      <Entry name="Follow-ups due">
        {follow_ups.length === 0 ? (
          <p>None in the next two weeks.</p>
        ) : (
          <ol class="lines">
            {follow_ups.slice(0, SHOWN).map((one) => {
              const { vehicle, due, overdue } = one;
              const { title, text } = followUpWords(one);
              return (
                <li>
                  <p>
                    {overdue && <strong>Overdue since </strong>}
                    <time datetime={due}>{formatDate(due)}</time>:{" "}
                    <a href={`/vehicles/${vehicle.id}`} dir="auto">
                      {vehicle.label}
                    </a>
                    , {title}
                  </p>
                  <p class="small soft">{text}</p>
                </li>
              );
            })}
          </ol>
        )}
        {follow_ups.length > 0 && (
          <p>
            <a class="button-quiet" href="/follow-ups">
              Record the results
            </a>
          </p>
        )}
      </Entry>
      <Quotes name="Waiting for an answer" quotes={waiting} empty="No quote is waiting for an answer." />
      {drafts.length > 0 && <Quotes name="Drafts" quotes={drafts} empty="" />}
      <Entry name="Start">
        <p class="actions">
          <a class="button" href="/vehicles">
            Open a vehicle
          </a>
          <a href="/vehicles/new">Add a vehicle</a>
          <a href="/prices">Set your prices</a>
        </p>
      </Entry>
    </Layout>
  );
}

function Quotes({ name, quotes, empty }: { name: string; quotes: readonly ListedQuote[]; empty: Child }) {
  return (
    <Entry name={name}>{quotes.length === 0 ? <p>{empty}</p> : <QuoteTable quotes={quotes} with_vehicle />}</Entry>
  );
}

/** The first thing to do, with its number. */
function heading(to_log: number, follow_ups: number, waiting: number): string {
  const count = (n: number, one: string, many: string) => (n === 1 ? `1 ${one}` : `${n} ${many}`);
  const said = [
    ...(to_log > 0 ? [`${count(to_log, "accepted job", "accepted jobs")} to log`] : []),
    ...(follow_ups > 0 ? [count(follow_ups, "follow-up due", "follow-ups due")] : []),
    ...(waiting > 0 ? [`${count(waiting, "quote", "quotes")} waiting`] : []),
  ];
  return said.length === 0 ? "Nothing is waiting today" : said.join(", ");
}
