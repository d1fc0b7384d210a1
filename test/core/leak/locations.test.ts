import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { assess } from "../../../src/core/assess.ts";
import {
  afterFinding,
  findingsSinceRepair,
  locationBeliefs,
  testOutcomes,
  testSees,
} from "../../../src/core/leak/locations.ts";
import { type Finding, LOCATION_IDS, type LocationId, type TestId } from "../../../src/core/question/contract.ts";
import { questionOf } from "../../../src/core/question/question.ts";
import { AS_OF, carRequest, toppedOffEvery } from "../samples.ts";

const question = questionOf(carRequest());
const { prices } = question;
/** A leak so big that every test detects it as well as it can. */
const BIG = 1e6;
const at = (id: LocationId) => LOCATION_IDS.indexOf(id);
const finding = (test: TestId, location: Finding["location"], result: Finding["result"] = "leak"): Finding => ({
  date: AS_OF,
  test,
  location,
  result,
});
const shares = (findings: Finding[], k_g = BIG) => locationBeliefs(question, findings, k_g);
const total = (values: readonly number[]) => values.reduce((sum, one) => sum + one, 0);

describe("testSees(test) fades for tiny leaks", () => {
  it.each([
    // 1 − 1/e of its best at 5, 10 and 40 g a year.
    { test: "electronic", k_g: 4, place: "condenser", sees: 0.65 * (1 - Math.exp(-1)) },
    { test: "dye", k_g: 10, place: "joint", sees: 0.85 * (1 - Math.exp(-1)) },
    { test: "visual", k_g: 40, place: "evaporator", sees: 0.05 * (1 - Math.exp(-1)) },
    { test: "dye", k_g: 100, place: "evaporator", sees: 0.25 * (1 - Math.exp(-10)) },
  ] as const)("$test at $k_g g a year", ({ test, k_g, place, sees }) => {
    expect(testSees(prices, test, k_g)[at(place)]).toBeCloseTo(sees, 14);
  });
});

describe("locationBeliefs, by hand", () => {
  it("are the shares without findings", () => {
    expect(shares([])).toEqual([0.15, 0.25, 0.15, 0.2, 0.1, 0.15]);
  });

  it("after dye at a joint: 0.85 there against a false alarm of 0.02/5 elsewhere", () => {
    const joint = 0.25 * 0.85;
    const elsewhere = 0.75 * 0.004;
    const after = shares([finding("dye", "joint")]);
    expect(after[at("joint")]).toBeCloseTo(joint / (joint + elsewhere), 14);
    expect(after[at("condenser")]).toBeCloseTo((0.2 * 0.004) / (joint + elsewhere), 14);
  });

  it("after an electronic test found the condenser clean: 1 − 0.65 there, 1 − 0.08/5 elsewhere", () => {
    const condenser = 0.2 * 0.35;
    const elsewhere = 0.8 * 0.984;
    expect(shares([finding("electronic", "condenser", "clean")])[at("condenser")]).toBeCloseTo(
      condenser / (condenser + elsewhere),
      14,
    );
  });

  it("after a look everywhere that saw nothing: the hidden evaporator is likelier", () => {
    // Shares 0.15 0.25 0.15 0.20 0.10 0.15 times the misses 0.70 0.65 0.60 0.65 0.95 0.55.
    const joint = [0.105, 0.1625, 0.09, 0.13, 0.095, 0.0825];
    const after = shares([finding("visual", "anywhere", "clean")]);
    for (const [l, one] of joint.entries()) expect(after[l]).toBeCloseTo(one / 0.665, 14);
  });

  it("two findings multiply, in either order", () => {
    const dye = finding("dye", "evaporator");
    const sniffed = finding("electronic", "evaporator");
    const right = 0.1 * 0.25 * 0.6;
    const wrong = 0.9 * 0.004 * 0.016;
    expect(shares([dye, sniffed])[at("evaporator")]).toBeCloseTo(right / (right + wrong), 14);
    expect(shares([sniffed, dye])[at("evaporator")]).toBeCloseTo(right / (right + wrong), 14);
  });

  it("a finding of a tiny leak says little", () => {
    const eye = 1 - Math.exp(-0.2 / 40);
    const joint = 0.25 * 0.35 * eye;
    expect(shares([finding("visual", "joint")], 0.2)[at("joint")]).toBeCloseTo(joint / (joint + 0.75 * 0.02), 14);
  });

  it("a finding that contradicts every place left is no news", () => {
    const sure = questionOf(
      carRequest([], {
        prices: {
          locations: Object.fromEntries(
            LOCATION_IDS.map((id) => [id, id === "joint" ? { share: 1, electronic: 1 } : { share: 0 }]),
          ),
        },
      }),
    );
    expect(afterFinding(sure.prices.share, finding("electronic", "joint", "clean"), sure.prices, BIG)).toEqual([
      0, 1, 0, 0, 0, 0,
    ]);
    expect(testOutcomes([0, 1, 0, 0, 0, 0], sure.prices, "electronic", BIG).map(({ place }) => place)).toEqual([1]);
  });

  it("that contradiction leaves every cost of an answer in place", () => {
    const places = (found: Finding[]) =>
      assess(
        carRequest(toppedOffEvery(90, 3, 9000), {
          vehicle: { refrigerant: "R-134a", nameplate_g: 9000 },
          findings: found,
          prices: {
            locations: Object.fromEntries(
              LOCATION_IDS.map((id) => [id, id === "joint" ? { share: 1, electronic: 1 } : { share: 0 }]),
            ),
          },
        }),
        { sensitivity: false },
      );
    const before = places([]);
    const after = places([finding("electronic", "joint", "clean")]);
    expect(before.leak.g_per_year.mean).toBeGreaterThan(1000);
    expect(total(after.locations.map(({ probability }) => probability))).toBe(1);
    expect(after.options[0]!.expected_cost).toBe(before.options[0]!.expected_cost);
  });
});

describe("findingsSinceRepair", () => {
  it("drops those of the repair's day and before", () => {
    const dated = (date: string): Finding => ({ ...finding("dye", "hose"), date });
    const request = carRequest(
      [
        { date: "2024-06-01", repair: "hose" },
        { date: "2025-06-01", cooling: "ok" },
      ],
      { findings: [dated("2024-05-31"), dated("2024-06-01"), dated("2024-06-02"), dated("2025-07-01")] },
    );
    expect(findingsSinceRepair(questionOf(request)).map(({ date }) => date)).toEqual(["2024-06-02", "2025-07-01"]);
    expect(findingsSinceRepair(questionOf({ ...request, log: [] }))).toHaveLength(4);
  });
});

describe("testOutcomes", () => {
  it("of an electronic test, by hand", () => {
    const outcomes = testOutcomes(prices.share, prices, "electronic", BIG);
    expect(outcomes.map(({ place }) => place)).toEqual([0, 1, 2, 3, 4, 5, null]);
    const joint = outcomes[at("joint")]!;
    // Seen at a joint: truly there with 0.80; otherwise missed with 1 − d and falsely there with 0.08/5.
    expect(joint.chance_given[at("joint")]).toBeCloseTo(0.8, 14);
    expect(joint.chance_given[at("hose")]).toBeCloseTo(0.25 * 0.016, 14);
    // Σ share·(1 − d) elsewhere: 0.15·0.10 + 0.15·0.25 + 0.20·0.35 + 0.10·0.40 + 0.15·0.30 = 0.2075.
    expect(joint.chance).toBeCloseTo(0.25 * 0.8 + 0.2075 * 0.016, 14);
    expect(joint.belief[at("joint")]).toBeCloseTo(0.2 / (0.2 + 0.2075 * 0.016), 14);
    const nothing = outcomes[6]!;
    // Σ share·(1 − d) over all, 0.2575, and no false alarm.
    expect(nothing.chance).toBeCloseTo(0.2575 * 0.92, 14);
    expect(nothing.belief[at("evaporator")]).toBeCloseTo(0.04 / 0.2575, 14);
  });

  it("add to 1, given any place and over all, and average to the belief before", () => {
    const weights = fc
      .array(fc.integer({ min: 0, max: 100 }), { minLength: 6, maxLength: 6 })
      .filter((parts) => parts.some((part) => part > 0))
      .map((parts) => parts.map((part) => part / total(parts)));
    const leak = fc.integer({ min: 1, max: 5000 });
    fc.assert(
      fc.property(weights, fc.constantFrom("dye", "electronic", "visual"), leak, (belief, test, k_g) => {
        const outcomes = testOutcomes(belief, prices, test, k_g);
        expect(total(outcomes.map(({ chance }) => chance))).toBeCloseTo(1, 12);
        for (let l = 0; l < 6; l++) {
          if (belief[l]! > 0) expect(total(outcomes.map((one) => one.chance_given[l]!))).toBeCloseTo(1, 12);
          expect(total(outcomes.map((one) => one.chance * one.belief[l]!))).toBeCloseTo(belief[l]!, 12);
        }
        for (const { belief: after } of outcomes) expect(total(after)).toBeCloseTo(1, 12);
      }),
    );
  });
});
