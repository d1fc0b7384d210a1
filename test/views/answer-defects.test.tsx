import { describe, expect, test } from "vitest";
import { pageAnswer } from "../../src/core/page-answer.ts";
import type { AssessRequest, LogEntry } from "../../src/core/question/contract.ts";
import { supposing } from "../../src/core/question/suppose.ts";
import { localRules, underLocalRules } from "../../src/core/rules/local-rules.ts";
import { AnswerDetail, AnswerGrounds } from "../../views/answer/answer.tsx";
import { RepairHeld } from "../../views/answer/dates.tsx";
import { type Outcome, outcomeOf, repairToday } from "../../views/answer/outcome.ts";
import { VerdictBlock } from "../../views/answer/verdict.tsx";

/** Sentences that once denied what was seen, or a figure beside them; each test is one of those cases. */

const AS_OF = "2026-11-29";
const OUNCE_G = 28.349523125;
const WAYS = {
  top_off: "/top-off",
  readings: "/readings",
  leak_tests: "/leak-tests",
  quote: null,
  log_look: null,
  log_repair: null,
};

function asked(nameplate_oz: number, log: LogEntry[], changes: Partial<AssessRequest> = {}): AssessRequest {
  return { as_of: AS_OF, vehicle: { refrigerant: "R-134a", nameplate_g: nameplate_oz * OUNCE_G }, log, ...changes };
}

function can(date: string, ounces = 12): LogEntry {
  return { date, cooling: "weak", added_g: ounces * OUNCE_G, added_by: "cans" };
}

const WEAK_TODAY: LogEntry = { date: AS_OF, cooling: "weak" };

function shown(request: AssessRequest): { outcome: Outcome; verdict: string; grounds: string; detail: string } {
  const outcome = outcomeOf(request, pageAnswer(request), "us");
  return {
    outcome,
    verdict: text(<VerdictBlock outcome={outcome} ways={WAYS} />),
    grounds: text(<AnswerGrounds outcome={outcome} ways={WAYS} />),
    detail: text(<AnswerDetail outcome={outcome} />),
  };
}

function text(markup: unknown): string {
  return String(markup)
    .replace(/<\/(td|th|p|li|dt|dd|h2|h3|summary)>/g, " ")
    .replace(/<[^>]+>/g, "")
    .replaceAll("&#39;", "'")
    .replace(/[\s\u00a0]+/g, " ")
    .trim();
}

/** Whole dollars in words like `$1,050`. */
function dollars(words: string): number {
  return Number(words.replace(/[$,]/g, ""));
}

describe("what was seen is not denied", () => {
  test.each([0, 9, 30, 60, 120, 400])("cooling poorly today, %d days after a can, is never left alone", (days) => {
    const filled = new Date(Date.parse(AS_OF) - days * 86_400_000).toISOString().slice(0, 10);
    const { verdict } = shown(asked(17, [can("2024-06-15"), can(filled), WEAK_TODAY]));
    expect(verdict).not.toMatch(/^Leave it/);
    expect(verdict).not.toContain("when it cools poorly");
  });

  test("poor cooling 5 days after a full charge by weight asks for readings, and says why", () => {
    const { outcome, verdict } = shown(asked(23, [{ date: "2026-11-24", finish: "weighed" }, WEAK_TODAY]));
    expect(outcome.answer.verdict.guard).toBe("surprise");
    expect(verdict).toMatch(
      /^Take readings before you buy anything\. It cooled poorly 5 days after it was charged full by weight: either the leak is sudden, or low charge is not the trouble\./,
    );
    expect(verdict).toContain("Look for the leak yourself");
  });

  test.each([
    ["two cans before", [can("2024-06-15"), can("2025-07-15")]],
    ["nothing logged before", []],
    ["charged full 10 days before", [{ date: "2026-11-19", finish: "weighed" } as LogEntry]],
  ])("no pressure left, %s: found, evacuated, weighed in; no can and no dye", (_name, log) => {
    const { outcome, verdict, grounds } = shown(asked(17, [...log, { date: AS_OF, cooling: "empty" }]));
    expect(outcome.answer.verdict.guard).toBe("empty");
    expect(verdict).toContain("No pressure is left");
    expect(verdict).toMatch(/evacuated and charged by weight/);
    expect(verdict).not.toMatch(/^(Top it off|Leave it)/);
    expect(grounds).not.toContain("enough until");
  });

  test("a charge that is said not to last is denied by no figure beside it", () => {
    const { outcome, verdict } = shown(
      asked(20, [can("2025-09-01", 10), can("2026-07-29", 10), { date: AS_OF, cooling: "weak" }]),
    );
    const { reasons, guard } = outcome.answer.verdict;
    const floor = reasons.find((reason) => reason.code === "floor");
    if (guard !== "floor" || floor === undefined) {
      expect(verdict).not.toContain("low again in under 6 months, so");
    } else {
      expect(verdict).toContain(
        floor.values.probability > 0.7 ? "A full charge is low again" : "The last charge was low again",
      );
    }
  });

  test("a repair after which it is low again has not held", () => {
    const held = text(<RepairHeld held={0.71} sure_date="2027-05-31" as_of={AS_OF} low_as_seen />);
    expect(held).toContain("that repair did not hold, or it leaks at another location");
    expect(held).not.toContain("the repair held.");
    expect(text(<RepairHeld held={0.71} sure_date="2027-05-31" as_of={AS_OF} low_as_seen={false} />)).toContain(
      "If it still cools well on 31 May 2027, the repair held.",
    );
  });

  test("with nothing but today's look, the answer says that it rests on typical vehicles", () => {
    expect(shown(asked(23, [WEAK_TODAY])).verdict).toContain("based on typical leaking vehicles");
    expect(shown(asked(23, [can("2025-06-15"), WEAK_TODAY])).verdict).not.toContain("typical leaking vehicles");
  });
});

describe("the watch date", () => {
  test("is not spoken of when the vehicle is gone by then", () => {
    const { verdict, grounds } = shown(asked(23, [can("2025-06-15"), WEAK_TODAY], { plan: { keep_years: 0.25 } }));
    expect(verdict + grounds).not.toMatch(/Watch date|low again before \d/);
  });

  test("is not spoken of under an answer without topping off", () => {
    const { outcome, grounds } = shown(asked(17, [can("2026-06-15")], { plan: { readings: "not-low" } }));
    expect(outcome.answer.verdict.option).toBe("check-first");
    expect(grounds).not.toMatch(/Watch date|If it is topped off/);
  });

  test("and waiting is no way to find out under a repair", () => {
    const { outcome, detail } = shown(
      asked(20, [can("2025-12-01", 10), can("2026-04-01", 10), can("2026-08-01", 10), WEAK_TODAY]),
    );
    expect(outcome.answer.verdict.option).toBe("repair");
    expect(detail).not.toContain("Wait for the next low charge");
  });
});

const CASES: [string, AssessRequest][] = [
  ["topped off yearly", asked(23, [can("2024-07-15"), can("2025-07-15"), WEAK_TODAY])],
  ["every half year", asked(17, [can("2025-11-15"), can("2026-05-15"), WEAK_TODAY])],
  ["kept for long", asked(17, [can("2025-11-15"), can("2026-05-15"), WEAK_TODAY], { plan: { keep_years: 20 } })],
  ["fast", asked(20, [can("2026-01-01", 10), can("2026-05-01", 10), can("2026-09-01", 10), WEAK_TODAY])],
  [
    "with a carbon price",
    asked(17, [can("2024-07-15"), can("2025-08-15"), WEAK_TODAY], { plan: { carbon_price_per_t: 190 } }),
  ],
  ["at a shop", asked(23, [can("2024-07-15"), can("2025-07-15"), WEAK_TODAY], { plan: { service: "shop" } })],
  [
    "R-1234yf",
    asked(20, [can("2024-07-15", 8), WEAK_TODAY], { vehicle: { refrigerant: "R-1234yf", nameplate_g: 560 } }),
  ],
  ["nothing logged", asked(23, [])],
];

describe("figures that stand beside each other", () => {
  test.each(CASES)("%s: what one option costs less is the difference of the costs shown", (_name, request) => {
    const { grounds, detail } = shown(request);
    const title =
      /(\S+ it off|repairing it|going without it) costs (\$[\d,]+) less than (\S+ it off|repairing it|going without it)/.exec(
        detail,
      );
    const costs =
      /(?:topping it off|repairing it) costs about (\$[\d,]+); (?:topping it off|repairing it) costs about (\$[\d,]+)/.exec(
        grounds,
      );
    if (title === null || costs === null) return;
    expect(dollars(title[2]!)).toBe(Math.abs(dollars(costs[1]!) - dollars(costs[2]!)));
  });

  test.each(CASES)(
    "%s: the cost in the reasons is the cost in the table, with carbon where it has a price",
    (_name, request) => {
      const { outcome, grounds } = shown(request);
      const table = String(<AnswerGrounds outcome={outcome} />);
      const chosen = outcome.answer.options.find(({ id }) => id === outcome.answer.verdict.option);
      if (chosen === undefined) throw new Error("no option is the answer");
      expect(table).toContain(`<data class="money" value="${chosen.expected_cost_with_carbon}"`);
      const said = /costs about (\$[\d,]+);/.exec(grounds)?.[1];
      if (said !== undefined)
        expect(grounds.split(said).length, `${said} once in the reasons, once in the table`).toBeGreaterThan(2);
      if (outcome.question.plan.carbon_price_per_t > 0) expect(grounds).toContain("with CO₂e at $190 a metric ton");
    },
  );

  test.each(CASES)("%s: no break-even on the wrong side, and none that nobody can act on", (_name, request) => {
    const { outcome, grounds, detail } = shown(request);
    const { leak, break_even, options } = outcome.answer;
    const cost = (id: string) => options.find((one) => one.id === id)?.expected_cost_with_carbon ?? Number.NaN;
    const at = break_even.leak_g_per_year;
    const wrong = at === null || cost("top-off") < cost("repair") === at < leak.g_per_year.median;
    if (wrong) expect(detail).not.toMatch(/would cost the same if [^.]*the leak were/);
    const carbon = /metric ton of CO₂e cost (\$[\d,]+)/.exec(detail)?.[1];
    if (carbon !== undefined) expect(dollars(carbon)).toBeLessThanOrEqual(1000);
    expect(grounds + detail).not.toContain("Cheapest in");
    expect(detail).not.toMatch(/saved|lost/);
  });

  test.each(CASES)("%s: a test that costs less than the answer is accounted for", (_name, request) => {
    const { outcome, verdict } = shown(request);
    const { options, verdict: is } = outcome.answer;
    const chosen = options.find(({ id }) => id === is.option);
    if (chosen === undefined || chosen.leads_to_repair !== null || is.guard !== null) return;
    const cheaper = options.filter(
      (one) =>
        one.offered &&
        one.leads_to_repair !== null &&
        one.expected_cost_with_carbon < chosen.expected_cost_with_carbon - 6,
    );
    if (cheaper.length > 0)
      expect(verdict).toMatch(/less on average, (too little to be worth the trouble|but it would hardly ever)/);
  });
});

describe("a quote for the repair", () => {
  test.each([650, 850, 1200])("of %d is what the repair costs on the day", (quote) => {
    const { outcome, grounds } = shown(supposing(asked(23, [can("2025-07-15"), WEAK_TODAY]), { quote }));
    expect(repairToday(outcome)).toBeCloseTo(quote, 6);
    expect(grounds).toContain(`Repairing it: $${quote.toLocaleString("en-US")} on the day, and about $`);
    const repair = outcome.answer.options.find(({ id }) => id === "repair");
    expect(repair?.expected_cost).toBeGreaterThan(quote);
  });
});

describe("a rule that bars the owner", () => {
  test("stands beside the answer, not folded", () => {
    const request = asked(40, [can("2020-07-15"), WEAK_TODAY], { vehicle: { refrigerant: "R-12", nameplate_g: 1134 } });
    const local = localRules(request, "us", "USD");
    const ruled = underLocalRules(request, local);
    const outcome = outcomeOf(ruled, pageAnswer(ruled), "us", { local, found: null });
    if (local.barred.length === 0) throw new Error("R-12 is no longer barred to owners in the US");
    expect(String(<AnswerGrounds outcome={outcome} />)).toContain('id="local-rules"');
  });
});
