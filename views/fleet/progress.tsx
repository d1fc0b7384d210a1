import type { FleetRun } from "../../src/core/fleet/row.ts";
import { Day } from "../words/said.tsx";
import { saidNumber, vehicles } from "./shown.ts";

export interface ProgressProps {
  run: FleetRun | null;
  /** Vehicles that are new, changed, or whose answer is older than a week. */
  due: number;
  may_edit: boolean;
}

const PROGRESS_ID = "fleet-progress";

/** The progress of the run, with a way to stop it; or what there is to compute, with a way to start. */
export function Progress(props: ProgressProps) {
  const { run } = props;
  const under_way = run !== null && run.state !== "done" && run.state !== "cancelled";
  return (
    <div
      class="fleet-progress"
      id={PROGRESS_ID}
      role="status"
      {...(under_way
        ? { "hx-get": "/fleet/progress", "hx-trigger": "load delay:500ms", "hx-target": "this", "hx-swap": "outerHTML" }
        : {})}
    >
      {under_way ? <UnderWay run={run} may_edit={props.may_edit} /> : <AtRest {...props} />}
    </div>
  );
}

function UnderWay({ run, may_edit }: { run: FleetRun; may_edit: boolean }) {
  const { step, done, all } = shareOf(run);
  return (
    <>
      <p>
        <label for="fleet-meter">
          {step}: {saidNumber(done)} of {vehicles(all)}
        </label>
      </p>
      <progress id="fleet-meter" max={all} value={done} />
      {may_edit && (
        <form method="post" action="/fleet/reckoning/stop">
          <button type="submit" class="button-quiet">
            Stop
          </button>
        </form>
      )}
      <noscript>
        <p>
          It goes on by itself. <a href="/fleet">See how far it is</a>
        </p>
      </noscript>
    </>
  );
}

function shareOf({ state, logs, answers }: FleetRun): { step: string; done: number; all: number } {
  if (state === "answers")
    return { step: "Calculating the answers", done: answers.all - answers.left, all: answers.all };
  if (state === "cohorts") return { step: "Comparing the groups", done: logs.all, all: logs.all };
  return { step: "Reading the logs", done: logs.all - logs.left, all: logs.all };
}

function AtRest({ run, due, may_edit }: ProgressProps) {
  return (
    <>
      <p>
        {run?.state === "cancelled" && "Stopped. What was calculated so far is kept. "}
        {run?.state === "done" && (
          <>
            Calculated <Day iso={run.as_of} />
            {due === 0 ? "." : ". "}
          </>
        )}
        {due > 0 && `${vehicles(due)} ${due === 1 ? "needs" : "need"} updating.`}
      </p>
      {may_edit && due > 0 && (
        <form method="post" action="/fleet/reckoning">
          <button type="submit" class="button">
            {run === null ? "Calculate the fleet" : "Update"}
          </button>
        </form>
      )}
    </>
  );
}
