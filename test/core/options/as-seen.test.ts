import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { assess } from "../../../src/core/assess.ts";
import { standingLookOf, visitsOf } from "../../../src/core/leak/charge-log.ts";
import { outlookOfRequest } from "../../../src/core/options/outlook.ts";
import { isTopUpDue } from "../../../src/core/options/top-up-due.ts";
import { dayNumber } from "../../../src/core/quantities/dates.ts";
import type { AssessAnswer, AssessRequest, LogEntry } from "../../../src/core/question/contract.ts";
import { validRequests } from "../../support/requests.ts";
import { AS_OF, carRequest, daysAgo, optionOf } from "../samples.ts";

/** The answer never denies what was just seen at the vehicle. */

const answerTo = (request: AssessRequest) => assess(request, { sensitivity: false });
const on = (days: number, entry: Omit<LogEntry, "date">): LogEntry => ({ date: daysAgo(days), ...entry });

describe("the standing look: the first low one that nothing since has ended", () => {
  const [weak, empty, ok] = [{ cooling: "weak" }, { cooling: "empty" }, { cooling: "ok" }] as const;
  it.each([
    { says: "no entries", log: [], is: null },
    { says: "weak", log: [on(0, weak)], is: { entry: 0, kind: "weak" } },
    { says: "weak twice: since the first", log: [on(9, weak), on(0, weak)], is: { entry: 0, kind: "weak" } },
    { says: "weak, then empty: of that kind", log: [on(9, weak), on(0, empty)], is: { entry: 0, kind: "empty" } },
    { says: "weak, then well", log: [on(9, weak), on(0, ok)], is: null },
    { says: "well, then weak", log: [on(9, ok), on(0, weak)], is: { entry: 1, kind: "weak" } },
    { says: "weak and filled at once", log: [on(0, { ...weak, added_g: 200 })], is: null },
    { says: "weak, filled later", log: [on(9, weak), on(0, { added_g: 200 })], is: null },
    { says: "weak, its level checked", log: [on(9, weak), on(0, { added_g: 0, finish: "gauges" })], is: null },
    { says: "weak, nothing added", log: [on(9, weak), on(0, { added_g: 0 })], is: { entry: 0, kind: "weak" } },
    { says: "weak, recovered", log: [on(9, weak), on(0, { recovered_g: 90 })], is: null },
    { says: "weak, repaired", log: [on(9, weak), on(0, { repair: "hose" })], is: null },
    { says: "filled, then weak", log: [on(9, { added_g: 200 }), on(0, weak)], is: { entry: 1, kind: "weak" } },
  ] satisfies { says: string; log: LogEntry[]; is: object | null }[])("$says", ({ log, is }) => {
    expect(standingLookOf(visitsOf(log, dayNumber(AS_OF), 650, 0.1))).toEqual(is);
  });
});

/** Any request, with one more look at its end, nothing done at it. */
const endingIn = (cooling: "weak" | "short-cycling" | "empty") =>
  validRequests({ max_entries: 6 }).map(
    (request): AssessRequest => ({
      ...request,
      log: [...(request.log ?? []), { date: request.as_of, cooling }],
    }),
  );

describe("for any request", () => {
  it("no pressure left never leads to topping off, nor to dye", () => {
    fc.assert(
      fc.property(endingIn("empty"), (request) => {
        const answer = answerTo(request);
        expect(["top-off", "dye-test"]).not.toContain(answer.verdict.option);
        expect([optionOf(answer, "top-off").offered, optionOf(answer, "dye-test").offered]).toEqual([false, false]);
        expect(answer.verdict.guard).not.toBe("surprise");
      }),
      { numRuns: 30 },
    );
  });

  it("a standing low look is low today: topping off starts at once, and nothing is left for later", () => {
    const looks = fc.oneof(endingIn("weak"), endingIn("short-cycling"), endingIn("empty"));
    fc.assert(
      fc.property(looks, (request) => {
        const answer = answerTo(request);
        const { as_of, forecast } = answer;
        expect(forecast.next_low).toEqual({ p10: as_of, p50: as_of, p90: as_of });
        expect(isTopUpDue(answer)).toBe(true);
        expect(outlookOfRequest(request).start.top_up_now).toBe(true);
      }),
      { numRuns: 20 },
    );
  });
});

describe("the longer a fill has lasted, the milder the answer", () => {
  /** From "stop and look" to "carry on". */
  const STRICT = ["check-first", "repair", "electronic-test", "dye-test", "top-off"] as const;
  const strictness = ({ verdict }: AssessAnswer): number => {
    const at = (STRICT as readonly (string | null)[]).indexOf(verdict.option);
    if (at < 0) throw new Error(`No place for ${verdict.option}`);
    return -at;
  };
  /** Weak today; the charge before it, full by weight, was `weeks` ago; earlier fills each a year before. */
  const lowAfter = (weeks: number, before: number): LogEntry[] => [
    ...Array.from({ length: before }, (_, i) => on(7 * weeks + 365 * (before - i), { finish: "weighed" })),
    on(7 * weeks, { cooling: before > 0 ? "weak" : null, finish: "weighed" }),
    on(0, { cooling: "weak" }),
  ];
  it.each([
    { says: "one fill", before: 0, changes: {} },
    { says: "yearly before", before: 2, changes: {} },
    { says: "at a shop", before: 0, changes: { plan: { service: "shop" } } },
    { says: "kept ten years", before: 1, changes: { plan: { keep_years: 10 } } },
    { says: "kept one year", before: 1, changes: { plan: { keep_years: 1 } } },
    {
      says: "a small system of R-1234yf",
      before: 0,
      changes: { vehicle: { refrigerant: "R-1234yf", nameplate_g: 400 } },
    },
  ] satisfies { says: string; before: number; changes: Partial<AssessRequest> }[])("$says", ({ before, changes }) => {
    const strict = Array.from({ length: 40 }, (_, i) =>
      strictness(answerTo(carRequest(lowAfter(4 * i + 1, before), changes))),
    );
    expect(strict).toEqual(strict.toSorted((a, b) => b - a));
    // From the strictest to the mildest: the test can fail.
    expect(new Set(strict).size).toBeGreaterThan(1);
  });
});
