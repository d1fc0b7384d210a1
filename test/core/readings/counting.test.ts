import { describe, expect, it } from "vitest";
import type { LogEntry } from "../../../src/core/question/contract.ts";
import { countingReadings } from "../../../src/core/readings/counting.ts";

const READ = { date: "2026-05-01", recorded_at: "2026-05-01T12:00:00.000Z" };
const entry = (entry: LogEntry, time = "12:00:01") => ({ ...entry, recorded_at: `2026-05-01T${time}.000Z` });

describe("countingReadings(readings, log, as_of)", () => {
  it("is the latest of the day or earlier", () => {
    const earlier = { ...READ, date: "2026-04-28" };
    const later = { ...READ, date: "2026-05-03" };
    expect(countingReadings([earlier, READ, later], [], "2026-05-02")).toBe(READ);
    expect(countingReadings([earlier, READ, later], [], "2026-05-03")).toBe(later);
    expect(countingReadings([], [], "2026-05-02")).toBeNull();
    expect(countingReadings([later], [], "2026-05-02")).toBeNull();
  });

  it("of two on a day it is the one that was written down last", () => {
    const second = { ...READ, recorded_at: "2026-05-01T13:00:00.000Z" };
    expect(countingReadings([READ, second], [], "2026-05-01")).toBe(second);
  });

  it.each([
    ["2026-05-15", true],
    ["2026-05-16", false],
  ])("counts for two weeks: %s %s", (as_of, counts) => {
    expect(countingReadings([READ], [], as_of) !== null).toBe(counts);
  });

  it.each<[string, LogEntry, boolean]>([
    ["an amount added", { date: "2026-05-02", added_g: 100 }, false],
    ["filled, amount not known", { date: "2026-05-02", finish: "unknown" }, false],
    ["charged by weight", { date: "2026-05-02", finish: "weighed", added_g: 0 }, false],
    ["recovered", { date: "2026-05-02", recovered_g: 200 }, false],
    ["repaired", { date: "2026-05-02", repair: "hose" }, false],
    ["only looked", { date: "2026-05-02", cooling: "weak" }, true],
    ["level checked, nothing added", { date: "2026-05-02", added_g: 0, finish: "gauges" }, true],
    ["added before", { date: "2026-04-30", added_g: 100 }, true],
    ["added after the day of the question", { date: "2026-05-04", added_g: 100 }, true],
  ])("%s", (_what, done, counts) => {
    expect(countingReadings([READ], [entry(done)], "2026-05-03") !== null).toBe(counts);
  });

  it("on the day itself, what was written down first was first", () => {
    const filled = { date: "2026-05-01", added_g: 100 };
    expect(countingReadings([READ], [entry(filled, "12:00:01")], "2026-05-01")).toBeNull();
    expect(countingReadings([READ], [entry(filled, "11:59:59")], "2026-05-01")).toBe(READ);
    expect(countingReadings([READ], [entry(filled, "12:00:00")], "2026-05-01")).toBeNull();
  });
});
