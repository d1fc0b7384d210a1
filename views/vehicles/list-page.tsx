import { isTopUpDue } from "../../src/core/options/top-up-due.ts";
import { formatMass } from "../../src/core/quantities/format.ts";
import type { UnitSystem } from "../../src/core/quantities/units.ts";
import type { AssessAnswer } from "../../src/core/question/contract.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { saidMass } from "../words/numbers.ts";
import { OPTION_NAMES } from "../words/places.ts";
import { Charge, Day } from "../words/said.tsx";
import { saidMonth } from "../words/times.ts";
import { type ShownVehicle, vehiclePath } from "./record/record.ts";

/** A vehicle and the answer about it. */
export interface ListedVehicle {
  vehicle: ShownVehicle;
  answer: AssessAnswer;
}

export interface ListPageProps {
  vehicles: readonly ListedVehicle[];
  /** How many there are on all pages. */
  found: number;
  archived: boolean;
  /** How many there are on the other side of the archive. */
  others: number;
  search: string;
  /** Addresses of the first page and of the next; null where there is none. */
  first: string | null;
  next: string | null;
  /** Whether there are invented vehicles, archived ones too. */
  has_examples: boolean;
  /** What was just done with the examples. */
  examples_were: "loaded" | "removed" | null;
  units: UnitSystem;
  may_edit: boolean;
  submit_key: string;
  asset: AssetUrl;
}

/** `/vehicles`: every vehicle with its answer. */
export function ListPage(props: ListPageProps) {
  const { vehicles, found, archived, search, examples_were, asset } = props;
  const nothing_yet = found === 0 && search === "" && !archived && props.others === 0;
  return (
    <Layout title="Vehicles · Seepwise" path="/vehicles" asset={asset}>
      {examples_were !== null && (
        <p class="saved" id="saved" role="status" tabindex={-1} autofocus>
          {examples_were === "loaded" ? "The examples are in the list." : "The examples are gone."}
        </p>
      )}
      <div class="page-head">
        <h1>{archived ? "Archived vehicles" : "Vehicles"}</h1>
      </div>
      {nothing_yet ? (
        <Empty {...props} />
      ) : (
        <>
          <Finder {...props} />
          {vehicles.length === 0 ? <NoneFound {...props} /> : <Table {...props} />}
          <Pages {...props} />
          <Ways {...props} />
        </>
      )}
    </Layout>
  );
}

function Empty({ may_edit, submit_key }: ListPageProps) {
  return (
    <div class="empty">
      <p>
        No vehicle is kept here yet. A kept vehicle has a charge log that grows, and an answer that gets better with
        every entry.
      </p>
      {may_edit && (
        <>
          <p class="actions">
            <a class="button" href="/?blank=1">
              Begin with the quick question
            </a>
            <a href="/vehicles/new">Enter a vehicle without it</a>
          </p>
          <ExampleButton submit_key={submit_key} />
        </>
      )}
    </div>
  );
}

/** Loads the invented vehicles. */
function ExampleButton({ submit_key }: { submit_key: string }) {
  return (
    <form class="example-button" method="post" action="/vehicles/examples">
      <input type="hidden" name="submit_key" value={submit_key} />
      <p>
        Or look around first, in vehicles that are invented and have years of history. They are marked as examples, and
        one press takes them away again.
      </p>
      <button type="submit" class="button-quiet">
        Load the examples
      </button>
    </form>
  );
}

function Finder({ search, archived, found, others }: ListPageProps) {
  return (
    <search>
      <form class="finder" method="get" action="/vehicles">
        {archived && <input type="hidden" name="archived" value="1" />}
        <div class="field">
          <label class="label-text" for="q">
            Search names, groups, notes
          </label>
          <input type="search" id="q" name="q" value={search} dir="auto" autocomplete="off" />
        </div>
        <button type="submit" class="button-quiet">
          Search
        </button>
        <p class="found">
          {found === 1 ? "One vehicle" : `${found} vehicles`}
          {search !== "" && (
            <>
              {" found. "}
              <a href={archived ? "/vehicles?archived=1" : "/vehicles"}>All of them</a>
            </>
          )}
          {archived ? (
            <>
              {" · "}
              <a href="/vehicles">Those in use</a>
            </>
          ) : (
            others > 0 && (
              <>
                {" · "}
                <a href="/vehicles?archived=1">Archived ({others})</a>
              </>
            )
          )}
        </p>
      </form>
    </search>
  );
}

function NoneFound({ search, archived }: ListPageProps) {
  if (search !== "") return <p>Nothing fits these words. Try fewer, or only the beginning of one.</p>;
  return <p>{archived ? "Nothing is archived." : "Every vehicle is archived."}</p>;
}

function Table({ vehicles, units }: ListPageProps) {
  return (
    <table class="vehicles">
      <thead>
        <tr>
          <th scope="col">Vehicle</th>
          <th scope="col">What to do</th>
          <th scope="col">Low again</th>
          <th scope="col" class="figure-cell">
            Leak
          </th>
        </tr>
      </thead>
      <tbody>
        {vehicles.map((listed) => (
          <Row listed={listed} units={units} />
        ))}
      </tbody>
    </table>
  );
}

function Row({ listed: { vehicle, answer }, units }: { listed: ListedVehicle; units: UnitSystem }) {
  const { id, label, refrigerant, nameplate_g, fleet_group, depot, example } = vehicle;
  const also = [refrigerant, formatMass(nameplate_g, units), fleet_group, depot].filter((part) => part !== null);
  return (
    <tr>
      <th scope="row">
        <a href={vehiclePath(id)} dir="auto">
          {label}
        </a>
        {example && <span class="tag">example</span>}
        <small>{also.join(" · ")}</small>
      </th>
      <td data-heading="What to do">
        <WhatToDo answer={answer} />
      </td>
      <td data-heading="Low again">
        <LowAgain answer={answer} />
      </td>
      <td class="figure-cell" data-heading="Leak">
        <Charge>{saidMass(answer.leak.g_per_year.mean, units)} a year</Charge>
      </td>
    </tr>
  );
}

function WhatToDo({ answer }: { answer: AssessAnswer }) {
  const { option, guard } = answer.verdict;
  if (option === null) return <>Ask a shop, nothing is open</>;
  if (option === "check-first") return <>Check first: it may not be low</>;
  if (option !== "top-off")
    return <>{guard === "floor" || guard === "empty" ? "Repair it, do not top off" : OPTION_NAMES[option].name}</>;
  const due = isTopUpDue(answer);
  const watch_date = answer.options.find(({ id }) => id === option)?.watch_date ?? null;
  return (
    <>
      {due ? "Top it off" : "Leave it for now"}
      {watch_date !== null && watch_date > answer.as_of && (
        <small>
          low {due && "again "}before <Day iso={watch_date} />: repair
        </small>
      )}
    </>
  );
}

function LowAgain({ answer }: { answer: AssessAnswer }) {
  const { p10, p50, p90 } = answer.forecast.next_low;
  if (isTopUpDue(answer)) return <strong>Low now</strong>;
  if (p50 === null) return <>Not within 20 years</>;
  return (
    <>
      <time datetime={p50}>{saidMonth(p50)}</time>
      <small>
        {p10 === answer.as_of ? "now" : saidMonth(p10 ?? p50)} to{" "}
        {p90 === null ? "later than 20 years" : saidMonth(p90)}
      </small>
    </>
  );
}

function Pages({ first, next }: ListPageProps) {
  if (first === null && next === null) return null;
  return (
    <nav class="pages" aria-label="Pages">
      {first !== null && <a href={first}>First page</a>}
      {next !== null && (
        <a href={next} rel="next">
          Next page
        </a>
      )}
    </nav>
  );
}

function Ways({ may_edit, has_examples, submit_key }: ListPageProps) {
  if (!may_edit) return null;
  return (
    <div class="ways">
      <p class="actions">
        <a class="button" href="/?blank=1">
          Add a vehicle by the quick question
        </a>
        <a href="/vehicles/new">Enter one without it</a>
      </p>
      {has_examples ? (
        <form class="example-button" id="examples" method="post" action="/vehicles/examples/removal">
          <p>The vehicles marked as examples are invented.</p>
          <button type="submit" class="button-quiet">
            Take the examples away
          </button>
        </form>
      ) : (
        <ExampleButton submit_key={submit_key} />
      )}
    </div>
  );
}
