import { hindsight } from "../../data/hindsight.ts";
import type { Comparison, TrackRecord } from "../../src/core/hindsight/track-record.ts";
import { pageNumber } from "../../src/core/quantities/number-text.ts";
import { Fold } from "../answer/fold.tsx";
import type { AssetUrl } from "../assets.ts";
import { TableHead } from "../parts/table-head.tsx";
import { saidPercent } from "../words/numbers.ts";
import { Day } from "../words/said.tsx";
import { FleetFrame } from "./frame.tsx";
import { type PredictedMark, PredictedPicture } from "./predicted-picture.tsx";
import { saidNumber, vehicles } from "./shown.ts";

/** How far the run is over the vehicles whose past charges are predicted again. */
export interface HindsightProgress {
  all: number;
  left: number;
  /** Whether the fleet's answers come first. */
  waits: boolean;
}

export interface PredictionsPageProps {
  /** Known up to that day; null before the first run. */
  as_of: string | null;
  progress: HindsightProgress | null;
  /** Vehicles in use, and those that have changed since. */
  vehicles: number;
  due: number;
  record: TrackRecord;
  groups: readonly { name: string; record: TrackRecord }[];
  marks: readonly PredictedMark[];
  may_edit: boolean;
  asset: AssetUrl;
}

/** `/fleet/predictions`: past charges as they would have been predicted, beside what came. */
export function PredictionsPage(props: PredictionsPageProps) {
  const { as_of, progress, record, marks, may_edit, asset } = props;
  const shown = progress === null && as_of !== null;
  return (
    <FleetFrame title="Past predictions" path="/fleet/predictions" asset={asset} may_edit={may_edit} charts>
      <p class="page-name">How well has it predicted?</p>
      <h1 class="page-title">{finding(props)}</h1>
      {progress !== null && <Hindsight {...progress} />}
      {shown && record.charges > 0 && (
        <>
          <Judgement record={record} />
          {marks.length > 0 && (
            <section aria-labelledby="pictures">
              <h2 class="visually-hidden" id="pictures">
                In pictures
              </h2>
              <PredictedPicture marks={marks} came={record.came} />
            </section>
          )}
          <Counts {...props} />
          <Limits record={record} />
        </>
      )}
      {shown && record.charges === 0 && props.vehicles > 0 && (
        <p>
          A vehicle needs a charge in its log, and a later entry that says it was low.{" "}
          <a href="/vehicles">To the vehicles</a>
        </p>
      )}
      {props.vehicles === 0 && <p>No vehicles yet. {may_edit && <a href="/fleet/import">Import a file</a>}</p>}
      {progress === null && <AtRest {...props} />}
    </FleetFrame>
  );
}

function charges(count: number): string {
  return `${saidNumber(count)} ${count === 1 ? "charge" : "charges"}`;
}

function finding({ as_of, progress, vehicles: count, record }: PredictionsPageProps): string {
  if (count === 0) return "Past charges, predicted again and held against what came";
  if (progress !== null) return "Past charges are being predicted again";
  if (as_of === null) return "Past charges have not been predicted again yet";
  if (record.charges === 0) return "No past charge can be held against a prediction yet";
  const { inside, known } = record;
  if (inside !== null)
    return `Of ${charges(record.charges)}, ${saidPercent(inside.share)} came inside the likely range`;
  if (known >= hindsight.share_least)
    return `Of ${charges(record.charges)}, none is known as far as the end of its likely range`;
  return `Too few to judge: ${saidNumber(known)} of the ${hindsight.share_least} charges needed have come due`;
}

/** How it did, in a sentence or two each: the range, then the middle date beside the simple rule. */
function Judgement({ record: { inside, off, compared } }: { record: TrackRecord }) {
  return (
    <div class="fleet-worth">
      {inside !== null && (
        <p>
          About 90% were expected, so {rangeSays(inside.low, inside.high)} Counting chance, the true share lies between{" "}
          {saidPercent(inside.low)} and {saidPercent(inside.high)}.
        </p>
      )}
      {off !== null && (
        <p>
          The middle date was off by <strong>{months(off.mean)}</strong> on average, half of them by less than{" "}
          {months(off.median)}. {sideSays(off.later)}
        </p>
      )}
      {compared !== null && <p>{comparisonSays(compared)}</p>}
    </div>
  );
}

function rangeSays(low: number, high: number): string {
  const promised = hindsight.to_chance - hindsight.from_chance;
  if (high < promised) return "our ranges were too narrow.";
  if (low > promised) return "our ranges were wider than needed.";
  return "our ranges fit.";
}

function sideSays(later: number): string {
  if (Math.abs(later) < 0.05) return "They came neither earlier nor later on the whole.";
  return `On the whole they came ${months(Math.abs(later))} ${later > 0 ? "later" : "earlier"} than said.`;
}

/** Who came nearer, also when it is the rule. */
function comparisonSays({ charges: count, model, rule, better }: Comparison): string {
  const both = `On the ${charges(count)} that can be compared, ours was off by ${months(model.mean)}, “as long as last time” by ${months(rule.mean)}.`;
  if (better === "few") return `${both} Too few to say who does better: ${hindsight.compare_least} are needed.`;
  if (better === "open") return `${both} That difference may be chance.`;
  return `${both} ${better === "model" ? "Ours was the better date." : "The simple rule was the better date here."}`;
}

/** `2.1 months`. */
function months(count: number): string {
  const rounded = count < 10 ? count.toFixed(1) : String(Math.round(count));
  return `${pageNumber(Number(rounded))}\u00a0${rounded === "1.0" ? "month" : "months"}`;
}

function Counts({ record, groups }: PredictionsPageProps) {
  const rows = [
    { name: "Low again", count: record.came },
    { name: "Not low again yet", count: record.open },
    { name: "Charged while not low, or repaired, before", count: record.otherwise },
  ];
  return (
    <>
      <Fold id="what-came" title="What came of them">
        <table class="plain-table">
          <TableHead words={["Afterwards"]} figures={["Charges"]} />
          <tbody>
            {rows.map(({ name, count }) => (
              <tr>
                <th scope="row">{name}</th>
                <td class="figure-cell">{saidNumber(count)}</td>
              </tr>
            ))}
          </tbody>
        </table>
        {record.early !== null && record.late !== null && (
          <p>
            An estimated {saidPercent(record.early)} came before the likely range and {saidPercent(record.late)} after
            it.
          </p>
        )}
        <p>
          <a href="/fleet/predictions.csv">All predictions as a file (CSV)</a>
        </p>
      </Fold>
      {groups.length > 1 && (
        <Fold id="by-group" title="By group">
          <section class="table-scroll" aria-label="By group" tabindex={0}>
            <table class="plain-table">
              <TableHead
                words={["Group"]}
                figures={["Charges", "Low again", "In the range", "Ours off, months", "Last time off, months"]}
              />
              <tbody>
                {groups.map(({ name, record: of }) => (
                  <tr>
                    <th scope="row" dir="auto">
                      {name}
                    </th>
                    <td class="figure-cell">{saidNumber(of.charges)}</td>
                    <td class="figure-cell">{saidNumber(of.came)}</td>
                    <td class="figure-cell">{saidInside(of)}</td>
                    <td class="figure-cell">{of.compared?.model.mean.toFixed(1) ?? "–"}</td>
                    <td class="figure-cell">{of.compared?.rule.mean.toFixed(1) ?? "–"}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </section>
          <p>Months are of the charges that both can be held against.</p>
        </Fold>
      )}
    </>
  );
}

/** The share in the likely range; of a group that nobody followed to the end of it, it is not known. */
function saidInside({ inside, known }: TrackRecord): string {
  if (inside !== null) return saidPercent(inside.share);
  return known < hindsight.share_least ? "too few" : "not known yet";
}

/** What the figures cannot tell. */
function Limits({ record }: { record: TrackRecord }) {
  return (
    <Fold id="limits" title="What these figures cannot tell">
      <ul class="bullets">
        <li>
          Nobody logs the day a system becomes low. We take the middle between the last day it still cooled, at most
          three months back, and the day it was found low.
        </li>
        {record.charged > 0 && (
          <li>
            {charges(record.charged)} with nothing said of how it cooled count as low. A service may be among them.
          </li>
        )}
        <li>A charge that nobody entered makes one long interval out of two, and our dates look too early.</li>
        {record.overdue > 0 && (
          <li>
            {charges(record.overdue)} went past the end of the range without an entry. They count as outside: it lasted
            longer, or the entry is missing.
          </li>
        )}
        <li>
          What has not come yet, or ended otherwise, counts as far as it was followed (Kaplan–Meier). Months off are of
          those that came, the sooner ones.
        </li>
        <li>
          Each prediction uses the entries up to its charge as they stand today, and what we believe of that kind of
          vehicle. It does not use the group, which was learned from later entries too.
        </li>
        <li>
          The first {hindsight.most_a_vehicle} charges of each vehicle in the last {hindsight.years_back} years.
        </li>
      </ul>
      <p>
        <a href="/method#past-predictions">How it is calculated</a>
      </p>
    </Fold>
  );
}

const PROGRESS_ID = "hindsight-progress";

/** How far it is; it asks again by itself. */
export function Hindsight({ all, left, waits }: HindsightProgress) {
  return (
    <div
      class="fleet-progress"
      id={PROGRESS_ID}
      role="status"
      hx-get="/fleet/predictions/progress"
      hx-trigger="load delay:500ms"
      hx-target="this"
      hx-swap="outerHTML"
    >
      {waits ? (
        <p>The fleet's answers come first. It starts when they are done.</p>
      ) : (
        <>
          <p>
            <label for="hindsight-meter">
              {saidNumber(all - left)} of {vehicles(all)}
            </label>
          </p>
          <progress id="hindsight-meter" max={Math.max(1, all)} value={all - left} />
        </>
      )}
      <noscript>
        <p>
          It goes on by itself. <a href="/fleet/predictions">See how far it is</a>
        </p>
      </noscript>
    </div>
  );
}

function AtRest({ as_of, due, may_edit, vehicles: count }: PredictionsPageProps) {
  if (count === 0) return null;
  return (
    <div class="fleet-progress">
      {as_of !== null && (
        <p>
          Known up to <Day iso={as_of} />.{due > 0 && ` ${vehicles(due)} changed since.`}
        </p>
      )}
      {as_of === null && !may_edit && <p>Ask someone who may edit to start it.</p>}
      {may_edit && (as_of === null || due > 0) && (
        <form method="post" action="/fleet/predictions">
          <button type="submit" class={as_of === null ? "button" : "button-quiet"}>
            {as_of === null ? "Predict past charges again" : "Update"}
          </button>
        </form>
      )}
    </div>
  );
}
