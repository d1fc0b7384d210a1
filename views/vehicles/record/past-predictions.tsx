import type { Prediction } from "../../../src/core/hindsight/replay.ts";
import { heldBy } from "../../../src/core/hindsight/track-record.ts";
import { Day } from "../../words/said.tsx";
import { saidMonth } from "../../words/times.ts";

const HELD = { inside: "within", early: "earlier than", late: "later than" } as const;

/** When it was last low beside the range that would have been given; nothing before it was low again once. */
export function PastPredictions({ predictions }: { predictions: readonly Prediction[] }) {
  const came = predictions.flatMap((one) => (one.low_on === null ? [] : [{ ...one, low_on: one.low_on }]));
  const last = came.at(-1);
  if (last === undefined) return null;
  const within = came.filter((one) => heldBy(one) === "inside").length;
  return (
    <p id="past-predictions">
      It was last low about <Day iso={last.low_on} />, {HELD[heldBy(last) ?? "inside"]} the likely range at the time (
      {saidRange(last)}).{came.length > 1 && ` Within it: ${within} of ${came.length} times.`}{" "}
      <a href="/fleet/predictions">Past predictions</a>
    </p>
  );
}

function saidRange({ p05, p95 }: Prediction): string {
  if (p05 === null) return "more than 20 years later";
  const [from, to] = [saidMonth(p05), p95 === null ? null : saidMonth(p95)];
  if (to === null) return `${from} or later`;
  return from === to ? from : `${from} to ${to}`;
}
