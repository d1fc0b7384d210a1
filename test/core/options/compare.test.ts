import { describe, expect, it } from "vitest";
import { assess } from "../../../src/core/assess.ts";
import type { Guards } from "../../../src/core/options/guard.ts";
import type { Option } from "../../../src/core/options/option.ts";
import { cheapest, verdictOf } from "../../../src/core/options/verdict.ts";
import type { AssessRequest, Finding, OptionId, Reason } from "../../../src/core/question/contract.ts";
import { AS_OF, carRequest, optionOf, toppedOffEvery } from "../samples.ts";

type Row = [
  id: OptionId,
  cost: number,
  release_g: number,
  leads_to_repair?: number | undefined,
  because?: "rule" | "floor" | "done",
];

/** An option as the verdict sees it: its cost, its release, and how often a test leads to a repair. */
function optionsOf(rows: Row[]): Option[] {
  return rows.map(([id, cost, release_g, leads_to_repair, because]) => ({
    id,
    offered: because === undefined,
    not_offered_because: because ?? null,
    fixed: 0,
    branches: [],
    expected_cost: cost,
    release_g,
    expected_cost_with_carbon: cost,
    leads_to_repair: leads_to_repair ?? null,
  }));
}

const cost = (next: OptionId, cheaper_by: number): Reason => ({ code: "cost", values: { next, cheaper_by } });
const tie = (dearer_by: number, release_saved_g: number): Reason => ({
  code: "tie-break",
  values: { dearer_by, release_saved_g },
});
const rule = (option: OptionId): Reason => ({ code: "rule", values: { option } });

interface Story {
  says: string;
  rows: Row[];
  floor?: number;
  readings?: "not-low" | "low";
  option: OptionId | "check-first" | null;
  tie_break?: boolean;
  reasons: Reason[];
}

const STORIES: Story[] = [
  {
    says: "the cheapest of the courses, and what the next costs more",
    rows: [
      ["repair", 900, 300],
      ["top-off", 400, 900],
    ],
    option: "top-off",
    reasons: [cost("repair", 500)],
  },
  {
    says: "living without it where that is cheapest",
    rows: [
      ["repair", 900, 300],
      ["top-off", 400, 900],
      ["live-without", 300, 850],
    ],
    option: "live-without",
    reasons: [cost("top-off", 100)],
  },
  {
    says: "the earlier of two that cost the same",
    rows: [
      ["repair", 400, 900],
      ["top-off", 400, 900],
    ],
    option: "repair",
    reasons: [cost("top-off", 0)],
  },

  // A test must save more than 15 and lead to a repair at least one time in ten.
  {
    says: "a test that saves 16",
    rows: [
      ["repair", 900, 300],
      ["dye-test", 384, 700, 0.3],
      ["top-off", 400, 900],
    ],
    option: "dye-test",
    reasons: [cost("top-off", 16)],
  },
  {
    says: "not a test that saves 15",
    rows: [
      ["repair", 900, 300],
      ["dye-test", 385, 700, 0.3],
      ["top-off", 400, 900],
    ],
    option: "top-off",
    reasons: [cost("dye-test", -15)],
  },
  {
    says: "a test that leads to a repair one time in ten",
    rows: [
      ["repair", 900, 300],
      ["dye-test", 300, 700, 0.1],
      ["top-off", 400, 900],
    ],
    option: "dye-test",
    reasons: [cost("top-off", 100)],
  },
  {
    says: "not one that leads to a repair less often",
    rows: [
      ["repair", 900, 300],
      ["dye-test", 300, 700, 0.099],
      ["top-off", 400, 900],
    ],
    option: "top-off",
    reasons: [cost("dye-test", -100)],
  },
  {
    says: "the cheaper of two tests, and the other test is next",
    rows: [
      ["repair", 900, 300],
      ["dye-test", 370, 700, 0.3],
      ["electronic-test", 360, 700, 0.3],
      ["top-off", 400, 900],
    ],
    option: "electronic-test",
    reasons: [cost("dye-test", 10)],
  },
  {
    says: "the dearer test where the cheaper one hardly ever leads to a repair",
    rows: [
      ["repair", 900, 300],
      ["dye-test", 340, 700, 0.05],
      ["electronic-test", 360, 700, 0.3],
      ["top-off", 400, 900],
    ],
    option: "electronic-test",
    reasons: [cost("dye-test", -20)],
  },

  // Within 5 % or 25, whichever is more, and less than 0.8 of the release: the cleaner.
  {
    says: "the cleaner of two within 25",
    rows: [
      ["repair", 425, 719],
      ["top-off", 400, 900],
    ],
    option: "repair",
    tie_break: true,
    reasons: [tie(25, 181)],
  },
  {
    says: "not beyond 25",
    rows: [
      ["repair", 425.01, 300],
      ["top-off", 400, 900],
    ],
    option: "top-off",
    reasons: [cost("repair", 425.01 - 400)],
  },
  {
    says: "not one that releases 0.8 of it",
    rows: [
      ["repair", 420, 720],
      ["top-off", 400, 900],
    ],
    option: "top-off",
    reasons: [cost("repair", 20)],
  },
  {
    says: "within 5 % of a dear choice",
    rows: [
      ["repair", 1050, 300],
      ["top-off", 1000, 900],
    ],
    option: "repair",
    tie_break: true,
    reasons: [tie(50, 600)],
  },
  {
    says: "the cheapest of the cleaner ones, not the cleanest",
    rows: [
      ["repair", 420, 100],
      ["top-off", 400, 900],
      ["live-without", 410, 600],
    ],
    option: "live-without",
    tie_break: true,
    reasons: [tie(10, 300)],
  },
  {
    says: "a course instead of a test that is hardly cheaper and less clean",
    rows: [
      ["repair", 400, 300],
      ["dye-test", 380, 700, 0.5],
      ["top-off", 600, 900],
    ],
    option: "repair",
    tie_break: true,
    reasons: [tie(20, 400)],
  },
  {
    says: "never a test for being cleaner",
    rows: [
      ["repair", 900, 300],
      ["dye-test", 410, 100, 0.5],
      ["top-off", 400, 900],
    ],
    option: "top-off",
    reasons: [cost("dye-test", 10)],
  },

  // What is not offered takes no part.
  {
    says: "a rule bars the cheapest",
    rows: [
      ["repair", 900, 300],
      ["dye-test", 700, 300, 1],
      ["top-off", 400, 900, undefined, "rule"],
    ],
    option: "dye-test",
    reasons: [cost("repair", 200), rule("top-off")],
  },
  {
    says: "the floor takes top-off out",
    rows: [
      ["repair", 900, 300],
      ["dye-test", 700, 300, 1, "floor"],
      ["top-off", 400, 900, undefined, "floor"],
    ],
    floor: 0.7,
    option: "repair",
    reasons: [{ code: "floor", values: { floor_months: 6, probability: 0.7 } }],
  },
  {
    says: "nothing is left",
    rows: [
      ["repair", 900, 300, undefined, "rule"],
      ["dye-test", 700, 300, 1, "floor"],
      ["top-off", 400, 900, undefined, "floor"],
    ],
    floor: 0.7,
    option: null,
    reasons: [{ code: "floor", values: { floor_months: 6, probability: 0.7 } }, rule("repair")],
  },
  {
    says: "only one is left",
    rows: [
      ["repair", 900, 300],
      ["top-off", 400, 900, undefined, "rule"],
    ],
    option: "repair",
    reasons: [rule("top-off")],
  },
  {
    says: "only a test is left: there is nothing it must beat",
    rows: [
      ["repair", 900, 300, undefined, "rule"],
      ["dye-test", 700, 300, 0.5],
      ["top-off", 400, 900, undefined, "rule"],
    ],
    option: "dye-test",
    reasons: [rule("repair"), rule("top-off")],
  },

  // Readings that say "not low" come before everything.
  {
    says: "check first",
    rows: [
      ["repair", 900, 300, undefined, "rule"],
      ["top-off", 400, 900],
    ],
    floor: 0.7,
    readings: "not-low",
    option: "check-first",
    reasons: [{ code: "readings", values: {} }, rule("repair")],
  },
  {
    says: "readings that say low change nothing",
    rows: [
      ["repair", 900, 300],
      ["top-off", 400, 900],
    ],
    readings: "low",
    option: "top-off",
    reasons: [cost("repair", 500)],
  },
];

describe("verdictOf(options)", () => {
  it.each(STORIES)("$says: $option", ({ rows, floor, readings, option, tie_break, reasons }) => {
    const guards: Guards = {
      not_low: readings === "not-low",
      surprise: null,
      empty: false,
      floor_probability: floor ?? null,
    };
    expect(verdictOf(6, optionsOf(rows), guards)).toEqual({
      option,
      guard: readings === "not-low" ? "readings" : floor === undefined ? null : "floor",
      tie_break: tie_break ?? false,
      reasons,
    });
  });

  it("cheapest of none is null", () => {
    expect(cheapest([])).toBeNull();
  });
});

describe("why an option is not offered: the first of rule, floor, done", () => {
  const YEARLY = toppedOffEvery(365, 3);
  /**
   * Low again, and a full charge lasts 100 days: guarded. The mean charge is low, so a dye test would need a top-up.
   */
  const FAST = toppedOffEvery(100, 3);
  /** As fast, but filled today: nothing needs to go in now. */
  const FAST_FULL = [...FAST.slice(0, 3), { date: AS_OF, cooling: "weak", finish: "weighed" } as const];
  const found = (test: Finding["test"]): Finding => ({ date: AS_OF, test, location: "joint", result: "clean" });

  const ROWS: { says: string; request: AssessRequest; because: (null | "rule" | "floor" | "done")[] }[] = [
    // In the order repair, dye test, electronic test, top-off.
    { says: "everything is open", request: carRequest(YEARLY), because: [null, null, null, null] },
    { says: "repair barred", request: barred(YEARLY, "repair"), because: ["rule", null, null, null] },
    { says: "top-off barred", request: barred(YEARLY, "top-off"), because: [null, null, null, "rule"] },
    { says: "dye test barred", request: barred(YEARLY, "dye-test"), because: [null, "rule", null, null] },
    { says: "electronic test barred", request: barred(YEARLY, "electronic-test"), because: [null, null, "rule", null] },
    {
      says: "repair and top-off barred: no test either",
      request: barred(YEARLY, "repair", "top-off"),
      because: ["rule", "rule", "rule", "rule"],
    },
    { says: "a fast leak", request: carRequest(FAST), because: [null, "floor", null, "floor"] },
    {
      says: "a fast leak, full now: dye needs no top-up",
      request: carRequest(FAST_FULL),
      because: [null, null, null, "floor"],
    },
    {
      says: "a fast leak, repair barred: a test leads nowhere",
      request: barred(FAST_FULL, "repair"),
      because: ["rule", "floor", "floor", "floor"],
    },
    {
      says: "a fast leak, top-off barred too",
      request: barred(FAST, "top-off"),
      because: [null, "floor", null, "rule"],
    },
    {
      says: "a fast leak, repair and top-off barred",
      request: barred(FAST, "repair", "top-off"),
      because: ["rule", "rule", "rule", "rule"],
    },
    {
      says: "a fast leak, dye barred: the rule comes first",
      request: barred(FAST, "dye-test"),
      because: [null, "rule", null, "floor"],
    },
    {
      says: "dye done",
      request: carRequest(YEARLY, { findings: [found("dye")] }),
      because: [null, "done", null, null],
    },
    {
      says: "both done, dye barred",
      request: { ...barred(YEARLY, "dye-test"), findings: [found("dye"), found("electronic")] },
      because: [null, "rule", "done", null],
    },
    {
      says: "both done and a fast leak: the floor comes first",
      request: carRequest(FAST, { findings: [found("dye"), found("electronic")] }),
      because: [null, "floor", "done", "floor"],
    },
    {
      says: "a look-over is no test that is offered",
      request: carRequest(YEARLY, { findings: [found("visual")] }),
      because: [null, null, null, null],
    },
  ];

  function barred(log: AssessRequest["log"], ...options: OptionId[]): AssessRequest {
    return { ...carRequest(), log, plan: { barred: options } };
  }

  it.each(ROWS)("$says", ({ request, because }) => {
    const { options } = assess(request, { sensitivity: false });
    expect(options.map((one) => one.not_offered_because)).toEqual(because);
    expect(options.map((one) => one.offered)).toEqual(because.map((one) => one === null));
    for (const one of options) {
      expect(one.expected_cost).toBeGreaterThan(0);
      if (!one.offered) expect(one.probability_cheapest).toBe(0);
    }
  });

  it("living without it is there only with a worth, and a rule may bar it", () => {
    const ids = (plan: AssessRequest["plan"]) =>
      assess(carRequest(YEARLY, { plan: plan ?? null }), { sensitivity: false }).options.map(({ id }) => id);
    expect(ids(null)).toEqual(["repair", "dye-test", "electronic-test", "top-off"]);
    expect(ids({ season_worth: 0 })).toContain("live-without");
    expect(ids({ other_trouble: "compressor-failing" })).toContain("live-without");
    const answer = assess(carRequest(YEARLY, { plan: { season_worth: 1, barred: ["live-without"] } }), {
      sensitivity: false,
    });
    expect(optionOf(answer, "live-without")).toMatchObject({ offered: false, not_offered_because: "rule" });
    expect(answer.verdict.option).not.toBe("live-without");
  });

  it("no verdict where every way is closed", () => {
    const { verdict, value_of } = assess(barred(FAST, "repair"), { sensitivity: false });
    expect(verdict).toMatchObject({ option: null, guard: "floor", tie_break: false });
    expect(verdict.reasons.map(({ code }) => code)).toEqual(["floor", "rule"]);
    expect(Object.values(value_of)).toEqual([null, null, null, null, null]);
  });

  it("a failing compressor is worth 150 a season unless said otherwise", () => {
    const worth = (season_worth: number | null) =>
      optionOf(
        assess(carRequest(YEARLY, { plan: { other_trouble: "compressor-failing", season_worth } }), {
          sensitivity: false,
        }),
        "live-without",
      ).expected_cost;
    // 150·∫ e^{−(0.03 + 0.35)t} over five years.
    expect(worth(null)).toBeCloseTo((150 * (1 - Math.exp(-0.38 * 5))) / 0.38, 9);
    expect(worth(75)).toBeCloseTo(worth(null) / 2, 9);
  });
});
