import { execFileSync } from "node:child_process";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { assessBench } from "./assess.bench.ts";
import { coverageBench } from "./coverage.bench.ts";
import { digestOf, lineOf, medianOf } from "./measurement.ts";
import { plainCBench } from "./plain-c.bench.ts";

/** The benches run on demand; here at their tiniest, so that they cannot rot. Nothing is timed. */
describe("the assess bench", () => {
  it("measures a baseline and five works, twice with the same results", () => {
    const first = assessBench({ rounds: 1, times: 1, questions: 6 });
    expect(first.map(({ name }) => name)).toEqual([
      "a million exponentials",
      "6 varied, with sensitivity",
      "6 varied, without sensitivity",
      "ten entries: posterior",
      "ten entries: without sensitivity",
      "ten entries: with sensitivity",
    ]);
    for (const { value } of first) expect(value).toBeGreaterThan(0);
    const digests = first.map(({ digest }) => digest);
    expect(new Set(digests).size).toBe(6);
    expect(assessBench({ rounds: 1, times: 1, questions: 6 }).map(({ digest }) => digest)).toEqual(digests);
  });
});

describe("the bench beside plain C", () => {
  it("comes to the same there, or says that there is no compiler", () => {
    const names = plainCBench({ rounds: 1, questions: 3 }).map(({ name }) => name);
    expect([
      ["posterior", "years ahead", "both"].flatMap((name) => [
        `${name} of 3 varied, in plain C`,
        `${name} of 3 varied`,
      ]),
      ["plain C: no compiler here"],
    ]).toContainEqual(names);
  });
});

describe("the bench of a fleet's likely ranges", () => {
  it("has a line for each world, slice and audited year", () => {
    const lines = [...coverageBench(1, 9, 5)];
    expect(lines).toHaveLength(7 * (1 + 4 + 2));
    expect(lines.filter((one) => one.includes("release"))).toHaveLength(14);
  });
});

describe("npm run bench", () => {
  it("names the benches there are when asked for another", () => {
    const run = () =>
      execFileSync(process.execPath, [join(import.meta.dirname, "run.ts"), "nothing"], { stdio: "pipe" });
    expect(run).toThrow(/No bench is named nothing\. There are: .*assess.*startup/);
  });
});

describe("a measurement", () => {
  it("reads as a line with its budget", () => {
    const measurement = {
      name: "work",
      value: 1.2345,
      unit: "ms",
      most: 2,
      digest: "abc",
      beside: "0.5 × other",
    } as const;
    expect(lineOf(measurement)).toBe("work: 1.23 ms  = 0.5 × other  ok (at most 2 ms)  [abc]");
    expect(lineOf({ ...measurement, value: 3 })).toContain("TOO MUCH (at most 2 ms)");
    expect(lineOf({ name: "work", value: 12, unit: "MB", most: null, digest: null })).toBe("work: 12.0 MB");
  });

  it("has a digest that sees the ninth digit of a number, not the order of its sum", () => {
    expect(digestOf([0.1 + 0.2, { a: 1 }])).toBe(digestOf([0.3, { a: 1 }]));
    expect(digestOf([1.000_000_01])).not.toBe(digestOf([1]));
    expect(digestOf({ a: 1 })).not.toBe(digestOf({ b: 1 }));
  });

  it("is a median", () => {
    expect(medianOf([3, 1, 2])).toBe(2);
    expect(medianOf([4, 1, 2, 3])).toBe(2.5);
    expect(medianOf([7])).toBe(7);
  });
});
