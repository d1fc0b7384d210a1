import { describe, expect, it } from "vitest";
import { assess } from "../../../src/core/assess.ts";
import { withReadings } from "../../../src/core/leak/readings-look.ts";
import { isTopUpDue } from "../../../src/core/options/top-up-due.ts";
import type { LogEntry } from "../../../src/core/question/contract.ts";
import { AS_OF, carRequest, daysAgo, toppedOffEvery } from "../samples.ts";

const filled = (days: number): LogEntry => ({ date: daysAgo(days), finish: "weighed" });
const ok = (days: number): LogEntry => ({ date: daysAgo(days), cooling: "ok" });

describe("withReadings(request, says, date)", () => {
  it("that say low are a low look of their day, where none stands", () => {
    const request = carRequest([filled(400), ok(3), ok(1)]);
    expect(withReadings(request, "low", daysAgo(2))).toEqual({
      ...request,
      log: [filled(400), ok(3), { date: daysAgo(2), cooling: "weak" }, ok(1)],
      plan: { readings: "low" },
    });
  });

  it("that say low add nothing to a low look that stands", () => {
    const request = carRequest(toppedOffEvery(365, 2));
    expect(withReadings(request, "low", AS_OF)).toEqual({ ...request, plan: { readings: "low" } });
  });

  it.each(["not-low", "undecided"] as const)("that say %s leave the log as it is", (says) => {
    const request = carRequest([filled(400)], { plan: { keep_years: 3 } });
    expect(withReadings(request, says, AS_OF)).toEqual({ ...request, plan: { keep_years: 3, readings: says } });
  });

  it("move the answer: low today, though the log alone would leave it for later", () => {
    const request = carRequest([filled(300)]);
    const before = assess(request, { sensitivity: false });
    const after = assess(withReadings(request, "low", AS_OF), { sensitivity: false });
    expect([isTopUpDue(before), isTopUpDue(after)]).toEqual([false, true]);
    expect(after.verdict.option).not.toBe("check-first");
  });
});
