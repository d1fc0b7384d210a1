import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { pageAnswer } from "../../src/core/page-answer.ts";
import type { UnitSystem } from "../../src/core/quantities/units.ts";
import type { AssessRequest, LogEntry, Verdict } from "../../src/core/question/contract.ts";
import { AnswerDetail, AnswerGrounds } from "../../views/answer/answer.tsx";
import { type Outcome, outcomeOf } from "../../views/answer/outcome.ts";
import { Sentence } from "../../views/answer/sentence.tsx";
import { VerdictBlock } from "../../views/answer/verdict.tsx";
import { validRequests } from "../support/requests.ts";

const AS_OF = "2026-05-01";

function request(log: LogEntry[], changes: Partial<AssessRequest> = {}): AssessRequest {
  return { as_of: AS_OF, vehicle: { refrigerant: "R-134a", nameplate_g: 650 }, log, ...changes };
}

function outcome(asked: AssessRequest, units: UnitSystem = "metric"): Outcome {
  return outcomeOf(asked, pageAnswer(asked), units);
}

/** The words of some markup, as one line. */
function text(markup: unknown): string {
  return String(markup)
    .replace(/<[^>]+>/g, "")
    .replaceAll("&#39;", "'")
    .replace(/\s+/g, " ")
    .trim();
}

/** The same question with another verdict, to read the sentence of each. */
function withVerdict(base: Outcome, verdict: Partial<Verdict>): Outcome {
  return { ...base, answer: { ...base.answer, verdict: { ...base.answer.verdict, ...verdict } } };
}

/** Topped off once a year from cans, weak again now: what the trade tops off again (common practice, no source). */
const ONCE_A_YEAR: LogEntry[] = [
  { date: "2024-05-05", cooling: "weak", added_g: 300, finish: "gauges" },
  { date: "2025-05-10", cooling: "weak", added_g: 300, finish: "gauges" },
  { date: AS_OF, cooling: "weak" },
];
const EVERY_FOUR_MONTHS: LogEntry[] = [
  { date: "2025-09-01", cooling: "weak", added_g: 300, finish: "gauges" },
  { date: "2026-01-01", cooling: "weak", added_g: 300, finish: "gauges" },
  { date: AS_OF, cooling: "weak" },
];

describe("the sentence", () => {
  const yearly = outcome(request(ONCE_A_YEAR));

  test("top-off: with the switch rule as a date, the watch date of the answer", () => {
    const watch_date = yearly.answer.options.find(({ id }) => id === "top-off")?.watch_date;
    expect(text(<Sentence outcome={yearly} />)).toMatch(
      /^Top it off\. If it is low again before \d{1,2} [A-Z][a-z]+ 20\d\d, repair it\.$/,
    );
    expect(String(<Sentence outcome={yearly} />)).toContain(`datetime="${watch_date}"`);
  });

  test("not low now: leave it, and the date is that of the charge that is in it", () => {
    const full = outcome(request([...ONCE_A_YEAR.slice(0, 2), { date: "2026-04-01", added_g: 300, finish: "gauges" }]));
    expect(text(<Sentence outcome={full} />)).toMatch(
      /^Leave it for now\. Top it off when it cools poorly\. If it is low before .* repair it instead\.$/,
    );
  });

  test("a charge that does not last: repair it", () => {
    expect(text(<Sentence outcome={outcome(request(EVERY_FOUR_MONTHS))} />)).toBe(
      "Repair it. A full charge is low again in under 6 months, so do not top it off again.",
    );
  });

  test("never switching: no date", () => {
    const never = outcome(request(ONCE_A_YEAR, { plan: { floor_months: 0, keep_years: 1 } }));
    expect(text(<Sentence outcome={never} />)).toBe("Top it off. Keep doing so for as long as you keep it.");
  });

  test.each([
    ["dye-test", null, /^Top it off with dye\. Look for the dye around 7 June 2026, and repair/],
    ["electronic-test", null, /^Have a shop find the leak first, with an electronic leak test\./],
    ["live-without", null, /^Go without air conditioning\./],
    ["check-first", "readings", /^Don't add refrigerant yet\. The readings show it is not low\./],
    ["repair", "empty", /^Repair it\. No pressure is left: .* evacuated and charged by weight\.$/],
    ["electronic-test", "empty", /^Have a shop find the leak first\. No pressure is left, .* no cans, no dye\.$/],
    ["repair", null, /^Repair it\.$/],
    [null, null, /^Your local rules allow none of these options\./],
  ] as const)("%s", (option, guard, says) => {
    expect(text(<Sentence outcome={withVerdict(yearly, { option, guard })} />)).toMatch(says);
  });
});

describe("the answer", () => {
  test("says plainly when nothing is logged", () => {
    const nothing = outcome(request([]));
    expect(text(<VerdictBlock outcome={nothing} />)).toContain(
      "There are no entries yet, so this is based on typical leaking vehicles, not on yours.",
    );
    expect(text(<VerdictBlock outcome={outcome(request(ONCE_A_YEAR))} />)).not.toContain("typical leaking vehicles");
  });

  test.each([
    ["once a year", ONCE_A_YEAR, {}],
    ["every four months", EVERY_FOUR_MONTHS, {}],
    ["at a shop", ONCE_A_YEAR, { plan: { service: "shop" } }],
    ["nothing logged", [], {}],
  ] as const)("has three reasons, each with a number and a comparison: %s", (_name, log, changes) => {
    const grounds = String(<AnswerGrounds outcome={outcome(request([...log], changes as Partial<AssessRequest>))} />);
    const reasons = [...grounds.matchAll(/<li><p>(.*?)<\/p><\/li>/g)].map((match) => text(match[1]));
    expect(reasons).toHaveLength(3);
    for (const reason of reasons) expect(reason.match(/\d+/g)?.length, reason).toBeGreaterThanOrEqual(2);
  });

  test("warns of what can hurt, and of what burns where it does", () => {
    const cautions = text(<AnswerGrounds outcome={outcome(request(ONCE_A_YEAR))} />);
    for (const word of ["Never vent", "gloves", "eye protection", "low side only", "high voltage"]) {
      expect(cautions).toContain(word);
    }
    expect(cautions).not.toContain("R-1234yf is flammable");
    const yf = request(ONCE_A_YEAR, { vehicle: { refrigerant: "R-1234yf", nameplate_g: 500 } });
    expect(text(<AnswerGrounds outcome={outcome(yf)} />)).toContain("R-1234yf is flammable");
  });

  test("every number of the options table is the answer's own, and every id is there once", () => {
    const asked = outcome(request(ONCE_A_YEAR));
    const page = String(
      <>
        <AnswerGrounds outcome={asked} />
        <AnswerDetail outcome={asked} />
      </>,
    );
    for (const { expected_cost, release_g, co2e_kg } of asked.answer.options) {
      for (const value of [expected_cost, release_g, co2e_kg]) expect(page).toContain(`value="${value}"`);
    }
    const ids = [...page.matchAll(/ id="([^"]+)"/g)].map((match) => match[1]);
    expect(new Set(ids).size).toBe(ids.length);
  });

  test("an everyday equivalent: 8,887 g of CO₂ per gallon of gasoline (US EPA)", () => {
    const asked = outcome(request(ONCE_A_YEAR), "us");
    const { co2e_kg } = asked.answer.options.find(({ id }) => id === asked.answer.verdict.option) ?? { co2e_kg: 0 };
    const said = /warms like burning ([\d,]+) gallons/.exec(text(<AnswerDetail outcome={asked} />))?.[1] ?? "";
    const gallons = (co2e_kg * 1000) / 8887;
    expect(Math.abs(Number(said.replace(",", "")) - gallons) / gallons).toBeLessThan(0.06);
  });

  test("renders for any question that the contract allows, and never says NaN or undefined", () => {
    fc.assert(
      fc.property(validRequests({ max_entries: 4 }), fc.constantFrom<UnitSystem>("us", "metric"), (asked, units) => {
        const shown = outcome(asked, units);
        const page = text(
          <>
            <VerdictBlock outcome={shown} />
            <AnswerGrounds outcome={shown} />
            <AnswerDetail outcome={shown} />
          </>,
        );
        expect(page).not.toMatch(/NaN|undefined|Infinity|\bnull\b|\[object/);
      }),
      { numRuns: 60 },
    );
  }, 120_000);
});
