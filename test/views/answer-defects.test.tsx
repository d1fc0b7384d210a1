import { describe, expect, test } from "vitest";
import type { PlaceId } from "../../data/rules.ts";
import { pageAnswer } from "../../src/core/page-answer.ts";
import type { AssessRequest, LogEntry } from "../../src/core/question/contract.ts";
import { supposing } from "../../src/core/question/suppose.ts";
import { localCase, localRules, underLocalRules } from "../../src/core/rules/local-rules.ts";
import { AnswerDetail, AnswerGrounds } from "../../views/answer/answer.tsx";
import { Sensitivity } from "../../views/answer/charts/sensitivity.tsx";
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
  leave_out: null,
};

function asked(nameplate_oz: number, log: LogEntry[], changes: Partial<AssessRequest> = {}): AssessRequest {
  return { as_of: AS_OF, vehicle: { refrigerant: "R-134a", nameplate_g: nameplate_oz * OUNCE_G }, log, ...changes };
}

function can(date: string, ounces = 12): LogEntry {
  return { date, cooling: "weak", added_g: ounces * OUNCE_G, added_by: "cans" };
}

const WEAK_TODAY: LogEntry = { date: AS_OF, cooling: "weak" };

function shown(request: AssessRequest): { outcome: Outcome; verdict: string; grounds: string; detail: string } {
  return saidOf(outcomeOf(request, pageAnswer(request), "us"));
}

function saidOf(outcome: Outcome) {
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
    const said = { full: 0, last: 0, none: 0 };
    for (const first of ["2024-06-01", "2025-09-01", "2026-01-01", "2026-02-01"]) {
      for (const second of ["2026-04-01", "2026-07-01", "2026-07-29", "2026-09-15"]) {
        const { outcome, verdict } = shown(asked(20, [can(first, 10), can(second, 10), WEAK_TODAY]));
        const months = outcome.answer.leak.full_charge_lasts_months;
        const lasted_months = (Date.parse(AS_OF) - Date.parse(second)) / 86_400_000 / 30.44;
        if (verdict.includes("A full charge is low again in under 6 months")) {
          said.full++;
          expect(months.median, `${first}, ${second}`).toBeLessThan(6);
        } else if (verdict.includes("The last charge was low again in under 6 months")) {
          said.last++;
          expect(lasted_months, `${first}, ${second}`).toBeLessThan(6);
        } else {
          said.none++;
          expect(verdict, `${first}, ${second}`).not.toContain("low again in under 6 months");
        }
      }
    }
    // Each of them was there to be looked at.
    for (const count of Object.values(said)) expect(count, JSON.stringify(said)).toBeGreaterThan(0);
  });

  test("after a repair, poor cooling that surprises is a repair that did not hold, or no low charge", () => {
    const { verdict, grounds } = shown(
      asked(23, [{ date: "2025-07-15", cooling: "weak", repair: "condenser", finish: "weighed" }, WEAK_TODAY]),
    );
    expect(verdict).toContain("after it was repaired: either it leaks again, or low charge is not the trouble.");
    expect(grounds).toContain("If the readings say low, the repair did not hold, or it leaks at another location");
    expect(grounds).not.toContain("sudden");
  });

  test("once readings say that it is not low, nothing asks for readings before something is bought", () => {
    const { outcome, grounds } = shown(asked(23, [can("2026-06-15"), WEAK_TODAY], { plan: { readings: "not-low" } }));
    expect(outcome.answer.verdict.guard).toBe("readings");
    expect(grounds).toContain("Neither would bring the cooling back");
    expect(grounds).not.toContain("Without readings");
  });

  test("readings that say low take the surprise away, and are not asked for again", () => {
    const log: LogEntry[] = [{ date: "2026-11-24", finish: "weighed" }, WEAK_TODAY];
    expect(shown(asked(23, log)).verdict).toMatch(/^Take readings/);
    const { verdict, grounds } = shown(asked(23, log, { plan: { readings: "low" } }));
    expect(verdict).not.toContain("Take readings before");
    expect(verdict + grounds).not.toMatch(/Leave it for now|enough until|is not low/);
  });

  test("more than it holds is asked about, in the amount that a can was taken for", () => {
    expect(shown(asked(17, [can("2024-07-15", 18), WEAK_TODAY])).grounds).toContain(
      "Check the amount: 1 lb 2 oz on 15 July 2024 is more than the 1 lb 1 oz it holds.",
    );
    expect(shown(asked(17, [can("2024-07-15", 12), WEAK_TODAY])).grounds).not.toContain("Check the amount");
    expect(
      shown(asked(17, [{ date: "2024-07-15", added_g: 600, recovered_g: 100, finish: "weighed" }, WEAK_TODAY])).grounds,
    ).not.toContain("Check the amount");
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
  ["close to the floor", asked(20, [can("2025-09-01", 10), can("2026-07-29", 10), WEAK_TODAY])],
];

describe("figures that stand beside each other", () => {
  test("what one option costs less is the difference of the costs shown", () => {
    const compared = CASES.filter(([name, request]) => {
      const { grounds, detail } = shown(request);
      const [, , less] =
        /(topping it off|repairing it) costs (\$[\d,]+) less than (?:topping it off|repairing it)/i.exec(detail) ?? [];
      const [, one, other] =
        /(?:topping it off|repairing it) costs about (\$[\d,]+); (?:topping it off|repairing it) costs about (\$[\d,]+)/.exec(
          grounds,
        ) ?? [];
      if (less === undefined || one === undefined || other === undefined) return false;
      expect(dollars(less), name).toBe(Math.abs(dollars(one) - dollars(other)));
      return true;
    });
    expect(compared.length, compared.map(([name]) => name).join("; ")).toBeGreaterThanOrEqual(3);
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

  test("a test that costs less than the answer is accounted for", () => {
    const accounted = CASES.filter(([name, request]) => {
      const { outcome, verdict } = shown(request);
      const { options, verdict: is } = outcome.answer;
      const chosen = options.find(({ id }) => id === is.option);
      if (chosen === undefined || chosen.leads_to_repair !== null || is.guard !== null) return false;
      const cheaper = options.some(
        (one) =>
          one.offered &&
          one.leads_to_repair !== null &&
          one.expected_cost_with_carbon < chosen.expected_cost_with_carbon - 6,
      );
      if (cheaper)
        expect(verdict, name).toMatch(/A tie on cost: .* costs about \$\d+ less\. Less trouble decides it\./);
      return cheaper;
    });
    expect(accounted.map(([name]) => name)).toContain("close to the floor");
  });

  test("an assumption that changes the answer says to what, and none is counted that does not", () => {
    const turned = CASES.filter(([name, request]) => {
      const { outcome, detail } = shown(request);
      const { sensitivity, verdict } = outcome.answer;
      const turning = sensitivity.filter(({ low, high }) =>
        [low, high].some((side) => side.verdict !== verdict.option),
      );
      const markup = String(<Sensitivity outcome={outcome} />);
      expect(markup.split('data-kind="turns"').length - 1, name).toBe(turning.length);
      expect(markup.split("data-turns-to=").length - 1, name).toBe(turning.length);
      if (turning.length === 0) expect(detail, name).toContain("No single assumption changes the answer");
      else expect(detail, name).toMatch(/could change the answer(:|,) [^()]+ \(at [^)]+: [a-z][^)]+\)/i);
      return turning.length > 0;
    });
    expect(turned.length).toBeGreaterThanOrEqual(2);
  });
});

describe("a quote for the repair", () => {
  test.each([650, 850, 1200])("of %d is what the repair costs on the day", (quote) => {
    const { outcome, grounds } = shown(supposing(asked(23, [can("2025-07-15"), WEAK_TODAY]), { quote }));
    expect(repairToday(outcome)).toBeCloseTo(quote, 6);
    expect(grounds).toContain(`Repairing it: $${quote.toLocaleString("en-US")} on the day, about $`);
    const repair = outcome.answer.options.find(({ id }) => id === "repair");
    expect(repair?.expected_cost).toBeGreaterThan(quote);
  });
});

describe("who may not do it themselves", () => {
  const LOG = [can("2020-07-15"), WEAK_TODAY];
  const R12 = { refrigerant: "R-12", nameplate_g: 1134 } as const;

  function where(
    request: AssessRequest,
    surrounding: { place: PlaceId; electric?: boolean },
  ): ReturnType<typeof shown> {
    const { place, electric = false } = surrounding;
    const { request: ruled, local } = localCase(request, { place, electric, currency: "USD" });
    return saidOf(outcomeOf(ruled, pageAnswer(ruled), "us", { local, found: null, electric: electric ? "yes" : "no" }));
  }

  test("an owner whom a rule bars has a shop do it, at a shop's prices, and reads which rule", () => {
    const { outcome, verdict } = where(asked(40, LOG, { vehicle: R12, plan: { keep_years: 6 } }), { place: "us" });
    expect(outcome.answer.verdict.option).toBe("top-off");
    expect(verdict).toMatch(/^Have a shop top it off\./);
    expect(verdict).toMatch(/By a shop, because you may not top it off yourself here: .*R-12/);
    expect(outcome.question.plan.service).toBe("shop");
  });

  test("a rule that bars nobody leaves it to the owner", () => {
    const { verdict } = where(asked(23, LOG), { place: "us" });
    expect(verdict).toMatch(/^Top it off\./);
    expect(verdict).not.toContain("By a shop");
  });

  test("high voltage is said first and for certain, by a shop, at a shop's prices, without dye", () => {
    const { outcome, verdict, grounds } = where(asked(23, LOG), { place: "elsewhere", electric: true });
    expect(verdict).toMatch(/^Have a shop top it off\./);
    expect(verdict).toContain("By a shop, because high voltage drives its compressor");
    expect(grounds).toMatch(/Safety first High voltage drives this compressor and can kill\./);
    expect(grounds).not.toContain("Hybrid or electric?");
    expect(outcome.question.plan.service).toBe("shop");
    expect(outcome.answer.options.find(({ id }) => id === "dye-test")?.offered).toBe(false);
    expect(grounds).toContain("not with high voltage");
    expect(verdict + grounds).not.toMatch(/local rules do not allow|not allowed here|Plan the top-off/);
    const own = where(asked(23, LOG), { place: "elsewhere" });
    const cost = (of: Outcome) => of.answer.options.find(({ id }) => id === "top-off")!.expected_cost;
    expect(cost(outcome)).toBeGreaterThan(cost(own.outcome));
    expect(own.grounds).not.toMatch(/high voltage/i);
  });

  test("where nobody said, the caution asks", () => {
    expect(shown(asked(23, LOG)).grounds).toContain("Hybrid or electric? The compressor may run on high voltage");
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
