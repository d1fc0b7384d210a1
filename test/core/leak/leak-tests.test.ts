import { describe, expect, it } from "vitest";
import { LEAK_TESTS, PLACES_TO_LOOK } from "../../../data/tests.ts";
import { LOCATION_IDS, TESTS } from "../../../src/core/question/contract.ts";

describe("leak tests", () => {
  it.each(TESTS)("%s: how to do it, what it looks like, what it misses", (id) => {
    const test = LEAK_TESTS[id];
    expect(test.steps.length).toBeGreaterThanOrEqual(3);
    expect(test.steps.some(({ caution }) => caution !== null)).toBe(true);
    for (const words of [test.name, test.what, test.positive, test.clean, test.limits]) expect(words).not.toBe("");
  });

  it.each(LOCATION_IDS)("%s: where it is, and what each test shows there", (id) => {
    expect(PLACES_TO_LOOK[id].where).not.toBe("");
    for (const test of TESTS) expect(PLACES_TO_LOOK[id].positive[test]).not.toBe("");
  });
});
