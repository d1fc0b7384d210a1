import { describe, expect, it } from "vitest";
import { NODES } from "../../../src/core/leak/leak-grid.ts";
import { type Posterior, posteriorOf } from "../../../src/core/leak/posterior.ts";
import type { AssessRequest, LogEntry } from "../../../src/core/question/contract.ts";
import { questionOf } from "../../../src/core/question/question.ts";
import { variedRequests } from "../../../src/invented-requests.ts";

/** Of the largest weight: what `nodesOf` leaves out counts for nothing. */
const COUNTS = 1e-7;

/** Of two posteriors: the largest difference of weights, of mean charges and variances where there is any weight. */
function apart(a: Posterior, b: Posterior, nameplate_g: number): number {
  const largest = Math.max(...a.weight);
  let most = Math.abs(a.log_evidence - b.log_evidence);
  for (let n = 0; n < NODES; n++) {
    most = Math.max(most, Math.abs(a.weight[n]! - b.weight[n]!) / largest);
    if (a.weight[n]! < COUNTS * largest) continue;
    most = Math.max(most, Math.abs(a.mean_m[n]! - b.mean_m[n]!) / nameplate_g);
    most = Math.max(most, Math.abs(a.var_m[n]! - b.var_m[n]!) / nameplate_g ** 2);
  }
  for (const [entry, mean_m] of a.after_mean_m) {
    const other = b.after_mean_m.get(entry)!;
    const left = (of: Float64Array) => of.reduce((sum, one, n) => sum + a.weight[n]! * one, 0);
    most = Math.max(most, Math.abs(left(mean_m) - left(other)) / nameplate_g);
  }
  return most;
}

function withLog(
  request: AssessRequest,
  entryOf: (entry: LogEntry, index: number) => Partial<LogEntry>,
): AssessRequest {
  return { ...request, log: (request.log ?? []).map((entry, index) => ({ ...entry, ...entryOf(entry, index) })) };
}

/** Logs as nobody should keep them: what one entry says, the next denies. */
const HOSTILE: Readonly<Record<string, (request: AssessRequest) => AssessRequest>> = {
  "of varied questions": (request) => request,
  "in which every second look is turned round": (request) =>
    withLog(request, ({ cooling }, i) => (i % 2 === 0 ? { cooling: cooling === "ok" ? "weak" : "ok" } : {})),
  "of weighed charges that contradict each other": (request) =>
    withLog(request, (_, i) => ({
      recovered_g: Math.round(((i * 7) % 10) * 0.1 * request.vehicle.nameplate_g!),
      finish: "weighed",
      added_g: null,
      repair: null,
    })),
  "with a repair at every fourth entry": (request) =>
    withLog(request, (_, i) => ({ repair: i % 4 === 3 ? "evaporator" : null })),
  "that cool well for ever and are empty in the end": (request) =>
    withLog(request, (_, i) => ({ cooling: i === (request.log?.length ?? 0) - 1 ? "empty" : "ok", added_g: null })),
  "of days that are not known": (request) => withLog(request, (_, i) => (i % 5 === 1 ? { date_within_days: 40 } : {})),
};

describe("what scouts allow to leave out", () => {
  it.each(Object.keys(HOSTILE))("counts for nothing, as a run of all nodes shows, in logs %s", (kind) => {
    for (const [i, request] of variedRequests(16).map(HOSTILE[kind]!).entries()) {
      const question = questionOf(request);
      const record = i % 3 === 0;
      const run = posteriorOf(question, { record });
      expect(apart(posteriorOf(question, { record, within: [] }), run, question.nameplate_g)).toBeLessThan(1e-11);
    }
  });

  it("is much of the grid after a long log", () => {
    const shares = variedRequests(16)
      .filter(({ log }) => log!.length > 20)
      .map((request) => withLog(request, () => ({ repair: null })))
      .map((request) => {
        const { weight } = posteriorOf(questionOf(request), { record: false });
        return weight.reduce((none, one) => none + (one === 0 ? 1 : 0), 0) / NODES;
      });
    expect(shares.length).toBeGreaterThan(3);
    expect(Math.max(...shares)).toBeGreaterThan(0.5);
  });
});
