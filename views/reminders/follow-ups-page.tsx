import type { LocationId } from "../../src/core/question/contract.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Entry } from "../parts/entry.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { messagesOf, TextField } from "../parts/field.tsx";
import { Finder, SearchField } from "../parts/finder.tsx";
import { capitalized } from "../words/in-sentence.ts";
import { PLACE_NAMES } from "../words/places.ts";
import { Day } from "../words/said.tsx";
import { type DueFollowUp, followUpWords, resultsOf } from "./follow-up-item.ts";

/** A follow-up that is done with, for the end of the list. */
export interface ShownClosed {
  vehicle: { id: string; label: string };
  key: string;
  outcome: "done" | "dismissed";
  words: string;
  /** When and by whom, in words. */
  closed: string;
}

/** A reason that was refused, with the follow-up that it was for. */
export interface RefusedReason {
  key: string;
  vehicle_id: string;
  reason: string;
  errors: readonly FieldError[];
}

interface FollowUpsPageProps {
  due: readonly DueFollowUp[];
  /** In all, before the search. */
  count: number;
  overdue: number;
  search: string;
  /** Addresses of the pages before and after; null at the ends. */
  before: string | null;
  next: string | null;
  /** What was just done, in a sentence; "" for nothing. */
  said: string;
  /** Where the leak is that was just recorded as found; null for none. */
  leak_at: { vehicle_id: string; place: LocationId } | null;
  closed: readonly ShownClosed[];
  refused: RefusedReason | null;
  /** Vehicles whose estimates are still to be worked out. */
  waiting: number;
  may_change: boolean;
  submit_key: string;
  asset: AssetUrl;
}

/** `/follow-ups`: whom to call and what to look at, the longest overdue first. */
export function FollowUpsPage(props: FollowUpsPageProps) {
  const { due, count, overdue, search, refused, said, leak_at, asset } = props;
  const errors = refused?.errors ?? [];
  return (
    <Layout title="Follow-ups" path="/follow-ups" asset={asset} errors={errors}>
      <h1 class="page-title">{heading(count, overdue)}</h1>
      {said !== "" && (
        <p class="note" role="status">
          {said}
          {leak_at !== null && (
            <>
              {" "}
              <a href={`/vehicles/${leak_at.vehicle_id}/quotes#begin`}>
                Quote the repair at {PLACE_NAMES[leak_at.place].at}
              </a>
            </>
          )}
        </p>
      )}
      {count > 0 && (
        <Finder path="/follow-ups">
          <SearchField label="Search by customer, vehicle or plate" value={search} />
        </Finder>
      )}
      <Entry name="To do">
        {due.length === 0 ? (
          <Nothing search={search} />
        ) : (
          <ol class="lines follow-ups">
            {due.map((one, i) => (
              <FollowUp one={one} n={i} {...props} />
            ))}
          </ol>
        )}
        <Pages before={props.before} next={props.next} />
        {props.waiting > 0 && (
          <p class="soft">
            {props.waiting === 1 ? "The estimate of 1 vehicle is" : `The estimates of ${props.waiting} vehicles are`}{" "}
            not calculated yet: open this list again. What their records say is in it.
          </p>
        )}
      </Entry>
      {props.closed.length > 0 && <Closed {...props} />}
    </Layout>
  );
}

function heading(count: number, overdue: number): string {
  if (count === 0) return "No follow-ups";
  const all = count === 1 ? "1 follow-up" : `${count} follow-ups`;
  return overdue === 0 ? all : `${all}, ${overdue} overdue`;
}

function Nothing({ search }: { search: string }) {
  if (search !== "")
    return (
      <p>
        Nothing is due for “{search}”. <a href="/follow-ups">Show all</a>
      </p>
    );
  return (
    <p>
      Nothing is due in the next two weeks. Dye to look for, repairs to check, watch dates and open quotes appear here
      by themselves, and stay until you record a result.
    </p>
  );
}

function Pages({ before, next }: Pick<FollowUpsPageProps, "before" | "next">) {
  if (before === null && next === null) return null;
  return (
    <p class="actions">
      {before !== null && <a href={before}>Back</a>}
      {next !== null && <a href={next}>More follow-ups</a>}
    </p>
  );
}

function FollowUp({ one, n, refused, may_change, submit_key }: FollowUpsPageProps & { one: DueFollowUp; n: number }) {
  const { vehicle, customer, plate, due, overdue, key } = one;
  const { title, text } = followUpWords(one);
  const of_this = refused?.key === key && refused.vehicle_id === vehicle.id ? refused : null;
  return (
    <li>
      <h3>{capitalized(title)}</h3>
      <p>
        {overdue ? <strong>Overdue since </strong> : "Due "}
        <Day iso={due} />
        {" · "}
        <a href={`/vehicles/${vehicle.id}`} dir="auto">
          {vehicle.label}
        </a>
        {/* A vehicle that nobody named is called by its words and its plate. */}
        {plate !== "" && !vehicle.label.includes(plate) && `, ${plate}`}
      </p>
      {customer !== null && (
        <p>
          <a href={`/customers/${customer.id}`} dir="auto">
            {customer.name}
          </a>
          {customer.phone !== "" && (
            <>
              {", "}
              <a href={`tel:${customer.phone.replace(/[^\d+]/g, "")}`}>{customer.phone}</a>
            </>
          )}
        </p>
      )}
      <p class="small soft">{text}</p>
      {may_change && (
        <>
          <Record one={one} submit_key={`${submit_key}-${n}`} />
          <Dismiss one={one} submit_key={`${submit_key}-${n}d`} refused={of_this} />
        </>
      )}
    </li>
  );
}

function HiddenFields({ one, submit_key }: { one: DueFollowUp; submit_key: string }) {
  return (
    <>
      <input type="hidden" name="vehicle" value={one.vehicle.id} />
      <input type="hidden" name="key" value={one.key} />
      <input type="hidden" name="submit_key" value={submit_key} />
    </>
  );
}

/** One press records what was seen or said; a quote is answered and logged on its own page. */
function Record({ one, submit_key }: { one: DueFollowUp; submit_key: string }) {
  if (one.what.kind !== "reminder") {
    const [to, name] =
      one.what.kind === "not-logged" ? ["#log-work", "Log the work"] : ["#record-answer", "Record the answer"];
    return (
      <p class="actions">
        <a class="button-quiet" href={`${one.what.quote.path}${to}`}>
          {name}
        </a>
      </p>
    );
  }
  const results = resultsOf(one);
  const places = results.filter(({ id }) => id.startsWith("dye-"));
  const presses = results.filter((result) => !places.includes(result));
  const button = ({ id, button, words }: (typeof results)[number]) => (
    <button type="submit" class="button-quiet" name="result" value={id} aria-label={`${words}, ${one.vehicle.label}`}>
      {button}
    </button>
  );
  return (
    <form method="post" action="/follow-ups">
      <HiddenFields one={one} submit_key={submit_key} />
      <p class="actions">{presses.map(button)}</p>
      {places.length > 0 && (
        <details>
          <summary>Dye seen at…</summary>
          <p class="actions">{places.map(button)}</p>
        </details>
      )}
    </form>
  );
}

function Dismiss({
  one,
  submit_key,
  refused,
}: {
  one: DueFollowUp;
  submit_key: string;
  refused: RefusedReason | null;
}) {
  const id = reasonInput(one);
  return (
    <details class="confirm" open={refused !== null}>
      <summary class="button-quiet" aria-label={`Dismiss, ${one.vehicle.label}`}>
        Dismiss…
      </summary>
      <form method="post" action="/follow-ups/dismissals" novalidate>
        <HiddenFields one={one} submit_key={submit_key} />
        <TextField
          id={id}
          name="reason"
          label="Why"
          hint="Like sold, or goes elsewhere"
          words
          value={refused?.reason ?? ""}
          error={messagesOf(refused?.errors ?? []).get(id)}
        />
        <button type="submit" class="button">
          Dismiss
        </button>
      </form>
    </details>
  );
}

/** Id of the field for a reason. */
export function reasonInput({ vehicle, key }: DueFollowUp): string {
  return `reason-${vehicle.id}-${key}`;
}

/** What was done lately; a dismissal can be taken back. */
function Closed({ closed, may_change }: FollowUpsPageProps) {
  return (
    <Entry name="Done lately">
      <ul class="people">
        {closed.map(({ vehicle, key, outcome, words, closed: when }) => (
          <li>
            <p>
              <a href={`/vehicles/${vehicle.id}`} dir="auto">
                {vehicle.label}
              </a>
              {outcome === "done" ? ": " : ", dismissed: "}
              <span dir="auto">{words}</span>
            </p>
            <p class="small soft">{when}</p>
            {outcome === "dismissed" && may_change && (
              <form method="post" action="/follow-ups/reopenings">
                <input type="hidden" name="vehicle" value={vehicle.id} />
                <input type="hidden" name="key" value={key} />
                <button type="submit" class="button-quiet" aria-label={`Open again, ${vehicle.label}`}>
                  Open again
                </button>
              </form>
            )}
          </li>
        ))}
      </ul>
    </Entry>
  );
}
