import type { PageAnswer } from "../../src/core/page-answer.ts";
import type { UnitSystem } from "../../src/core/quantities/units.ts";
import type { Vehicle } from "../../src/core/question/record.ts";
import { watchDateIn } from "../answer/outcome.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { FigureCell } from "../parts/figure-cell.tsx";
import { SearchField } from "../parts/finder.tsx";
import { type PricesUsed, PricesUsedLine } from "../parts/prices-used.tsx";
import { TableHead } from "../parts/table-head.tsx";
import { answerWords } from "../words/answer-words.ts";
import { saidYearlyLeak } from "../words/estimates.ts";
import { LowAgain } from "../words/low-again.tsx";
import { Charge, Day, Facts } from "../words/said.tsx";
import { vehiclePath } from "./record/record.ts";

/** A vehicle and the answer about it. */
export interface ListedVehicle {
  vehicle: Vehicle;
  answer: PageAnswer;
  /** Whether nothing is in its log. */
  no_entries: boolean;
  keep_years: number;
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
  prices: PricesUsed;
  may_edit: boolean;
  submit_key: string;
  asset: AssetUrl;
}

/** `/vehicles`: every vehicle with its answer. */
export function ListPage(props: ListPageProps) {
  const { vehicles, found, archived, search, examples_were, asset } = props;
  const nothing_yet = found === 0 && search === "" && !archived && props.others === 0;
  return (
    <Layout title="Vehicles" path="/vehicles" asset={asset}>
      {examples_were !== null && (
        <p class="saved" id="saved" role="status" tabindex={-1} autofocus>
          {examples_were === "loaded" ? "The samples are on the list." : "The samples are removed."}
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
          <PricesUsedLine prices={props.prices} />
          <Ways {...props} />
        </>
      )}
    </Layout>
  );
}

function Empty({ may_edit, submit_key }: ListPageProps) {
  return (
    <div class="empty">
      <p>No vehicles yet. Save one to keep its charge log. Each entry makes the answer better.</p>
      {may_edit && (
        <>
          <p class="actions">
            <a class="button" href="/">
              Start with the quick question
            </a>
            <a href="/vehicles/new">Add a vehicle</a>
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
      <p>Want to look around first? Load sample vehicles with years of history. You can remove them at any time.</p>
      <button type="submit" class="button-quiet">
        Load the samples
      </button>
    </form>
  );
}

function Finder({ search, archived, found, others, first, next }: ListPageProps) {
  // A list on one page shows how many there are.
  const counted = search !== "" || first !== null || next !== null;
  return (
    <search>
      <form class="finder" method="get" action="/vehicles">
        {archived && <input type="hidden" name="archived" value="1" />}
        <SearchField label="Name, group or note" within value={search} />
        <button type="submit" class="button-quiet">
          Search
        </button>
        <p class="found">
          {counted && (found === 1 ? "1 vehicle" : `${found} vehicles`)}
          {search !== "" && (
            <>
              {" found. "}
              <a href={archived ? "/vehicles?archived=1" : "/vehicles"}>All of them</a>
            </>
          )}
          {archived ? (
            <>
              {counted && " · "}
              <a href="/vehicles">Those in use</a>
            </>
          ) : (
            others > 0 && (
              <>
                {counted && " · "}
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
  if (search !== "") return <p>No match. Try fewer words, or just the start of one.</p>;
  return <p>{archived ? "Nothing is archived." : "Every vehicle is archived."}</p>;
}

function Table({ vehicles, units }: ListPageProps) {
  // Where all of them are samples, it is said once.
  const tagged = vehicles.some(({ vehicle }) => !vehicle.example);
  return (
    <table class="vehicles">
      <TableHead words={["Vehicle", "What to do", "Low again"]} figures={["Leak a year"]} />
      <tbody>
        {vehicles.map((listed) => (
          <Row listed={listed} tagged={tagged} units={units} />
        ))}
      </tbody>
    </table>
  );
}

function Row({ listed, tagged, units }: { listed: ListedVehicle; tagged: boolean; units: UnitSystem }) {
  const { vehicle, answer } = listed;
  const { id, label, refrigerant, fleet_group, example } = vehicle;
  return (
    <tr>
      <th scope="row">
        <a href={vehiclePath(id)} dir="auto">
          {label}
        </a>
        {example && tagged && <span class="tag">sample</span>}
        <small>
          <Facts of={[refrigerant, fleet_group]} />
        </small>
      </th>
      <td data-heading="What to do">
        <WhatToDo listed={listed} />
      </td>
      <td data-heading="Low again">
        <LowAgain {...answer} next_low={answer.forecast.next_low} />
      </td>
      <FigureCell heading="Leak a year">
        <Charge>{saidYearlyLeak(answer.leak.g_per_year, units).best}</Charge>
      </FigureCell>
    </tr>
  );
}

function WhatToDo({ listed: { answer, no_entries, keep_years } }: { listed: ListedVehicle }) {
  const ground = { verdict: answer.verdict, low_now: answer.low_now, no_entries };
  const watch_date = watchDateIn(answer, keep_years);
  return (
    <>
      {answerWords(ground)}
      {watch_date !== null && (
        <small>
          watch date <Day iso={watch_date} />
        </small>
      )}
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
        <a class="button" href="/">
          Quick question
        </a>
        <a href="/vehicles/new">Add a vehicle</a>
      </p>
      {has_examples ? (
        <form class="example-button" id="examples" method="post" action="/vehicles/examples/removal">
          <button type="submit" class="button-quiet">
            Remove the samples
          </button>
        </form>
      ) : (
        <ExampleButton submit_key={submit_key} />
      )}
    </div>
  );
}
