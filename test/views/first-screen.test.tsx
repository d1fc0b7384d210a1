import { describe, expect, test } from "vitest";
import { pageAnswer } from "../../src/core/page-answer.ts";
import type { AssessRequest, LogEntry, OptionAnswer, OptionId } from "../../src/core/question/contract.ts";
import { localCase } from "../../src/core/rules/local-rules.ts";
import { Dates } from "../../views/answer/dates.tsx";
import { limitOf } from "../../views/answer/limit.ts";
import { type Outcome, outcomeOf } from "../../views/answer/outcome.ts";
import { Reasons } from "../../views/answer/reasons.tsx";
import { Sentence } from "../../views/answer/sentence.tsx";
import { HowSure } from "../../views/answer/sure.tsx";
import { tieOf } from "../../views/answer/tie.tsx";
import { VerdictBlock } from "../../views/answer/verdict.tsx";
import { sureness } from "../../views/words/answer-words.ts";

/** What someone reads first, as someone who has never seen it would: one limit, one price, no riddle. */

const AS_OF = "2026-05-04";
const OUNCE_G = 28.349523125;
const WEAK_TODAY: LogEntry = { date: AS_OF, cooling: "weak" };

function asked(log: LogEntry[], changes: Partial<AssessRequest> = {}): AssessRequest {
  return { as_of: AS_OF, vehicle: { refrigerant: "R-134a", nameplate_g: 23 * OUNCE_G }, log, ...changes };
}

function shown(request: AssessRequest): Outcome {
  return outcomeOf(request, pageAnswer(request, { sensitivity: false }), "us");
}

function filled(date: string, added_by: "cans" | "scale" = "cans"): LogEntry {
  return { date, cooling: "weak", added_g: 12 * OUNCE_G, added_by };
}

function text(markup: unknown): string {
  return String(markup)
    .replace(/<details.*?<\/details>/gs, "")
    .replace(/<\/(td|th|p|li|dt|dd|h2|h3|summary)>/g, " ")
    .replace(/<[^>]+>/g, "")
    .replaceAll("&#39;", "'")
    .replace(/[\s\u00a0]+/g, " ")
    .trim();
}

function firstScreen(outcome: Outcome): string {
  return text(
    <>
      <VerdictBlock outcome={outcome} />
      <Reasons outcome={outcome} />
      <Dates outcome={outcome} />
    </>,
  );
}

const YEARLY = shown(asked([filled("2024-05-01"), filled("2025-05-20"), WEAK_TODAY]));
const WELL = shown(asked([filled("2024-05-01"), filled("2025-05-20"), { date: AS_OF, cooling: "ok" }]));
const NOTHING = shown(asked([WEAK_TODAY]));
const NO_ENTRY = shown(asked([]));
const DYE = shown(
  asked([filled("2024-05-01"), filled("2025-05-20"), WEAK_TODAY], { plan: { carbon_price_per_t: 190 } }),
);
const AT_A_SHOP = [filled("2024-03-15", "scale"), filled("2025-03-20", "scale"), WEAK_TODAY];
const SEARCHED = shown(asked(AT_A_SHOP, { plan: { keep_years: 7, service: "shop" } }));
const KEPT_LONG = shown(asked(AT_A_SHOP, { plan: { keep_years: 12, service: "shop" } }));

describe("one limit to act on", () => {
  test.each([
    ["a date", YEARLY],
    ["a date, nothing logged", NOTHING],
    ["months, while there is no date yet", WELL],
  ])("%s: the reasons name no other", (_name, outcome) => {
    const limit = limitOf(outcome);
    expect(limit).not.toBeNull();
    const words = firstScreen(outcome);
    expect(words).not.toMatch(/Under \d|cheaper only|never worth it/);
    if (limit?.kind === "date") {
      expect(words).not.toMatch(/\b6 months/);
      expect(text(<Reasons outcome={outcome} />)).toMatch(/last until about [A-Z][a-z]+ 20\d\d, past \d{1,2} [A-Z]/);
      expect(String(<Reasons outcome={outcome} />)).toContain(`datetime="${limit.iso}"`);
    } else {
      expect(words).toMatch(/if a charge lasts less than about 6 months\./);
      expect(words).toMatch(/beyond those 6 months\./);
    }
  });

  test("its other forms stand folded under the date, and are said to be the same", () => {
    const dates = String(<Dates outcome={YEARLY} />);
    const folded = /<details class="fold-in"><summary>Why this date<\/summary>(.*?)<\/details>/s.exec(dates)?.[1] ?? "";
    expect(text(folded)).toMatch(/It is 6 months of leaking after today's top-off/);
    expect(text(folded)).toMatch(/from about \d+ oz a year, repairing at once costs less/);
    expect(text(folded)).toContain("All of this is one limit. The date is all you have to watch.");
  });
});

test.each([
  ["dye", DYE, "dye-test"],
  ["electronic", SEARCHED, "electronic-test"],
])("after the %s test, the price is said up to which a repair is worth it", (_name, outcome, option) => {
  expect(outcome.answer.verdict.option).toBe(option);
  const sentence = text(<Sentence outcome={outcome} />);
  const said = /if that costs less than about \$([\d,]+) in all\.$/.exec(sentence)?.[1] ?? "";
  const worth = outcome.answer.repair_worth ?? Number.NaN;
  expect(Math.abs(Number(said.replace(",", "")) / worth - 1), sentence).toBeLessThan(0.05);
});

test("where a test leaves nothing but a repair, no price is named", () => {
  const only = { ...SEARCHED, answer: { ...SEARCHED.answer, repair_worth: null } };
  expect(text(<Sentence outcome={only} />)).toMatch(/with an electronic leak test\. Then repair it\.$/);
});

test.each([
  ["low", YEARLY, /It is low now\. Topped off today, it would be low again around/],
  ["nothing logged", NO_ENTRY, /We can't tell whether it is low now\. Choose how it cools today\. Topped off today,/],
  [
    "fast",
    shown(asked([filled("2025-09-06"), filled("2026-01-04"), WEAK_TODAY])),
    /It is low now\. Topped off today instead, it would/,
  ],
  [
    "empty",
    shown(asked([filled("2024-12-20"), { date: AS_OF, cooling: "empty" }])),
    /No pressure is left, so don't add any before the leak is repaired\./,
  ],
  [
    "nearly full by the log",
    shown(asked([filled("2024-09-10"), filled("2026-04-25"), WEAK_TODAY])),
    /It cools poorly, but by the log there is enough in it\. Readings tell which is right\./,
  ],
])("the next low charge fits the case: %s", (_name, outcome, says) => {
  const dates = text(<Dates outcome={outcome} />);
  expect(dates).toMatch(says);
  expect(dates).not.toContain("Filled today");
});

describe("how sure, with nothing logged", () => {
  test.each([
    ["no entry", NO_ENTRY],
    ["no top-off", NOTHING],
  ])("%s: of typical vehicles, a rung lower than their share, and not “like yours”", (_name, outcome) => {
    const words = text(<VerdictBlock outcome={outcome} />);
    expect(words).toContain("based on typical leaking vehicles");
    const [, rung, share] =
      /(Very sure|Fairly sure|Leaning this way|Close call|No clear winner): .* in (\d+) of 100 such vehicles\./.exec(
        words,
      ) ?? [];
    expect(rung).toBe(sureness(Number(share) / 100, true));
    expect(rung).not.toBe(sureness(Number(share) / 100));
    expect(words).not.toContain("like yours");
  });

  test("the ladder of the guide, and a rung lower: 95, 80, 60, 40", () => {
    expect([0.95, 0.8, 0.6, 0.4, 0.39].map((chance) => sureness(chance))).toEqual([
      "Very sure",
      "Fairly sure",
      "Leaning this way",
      "Close call",
      "No clear winner",
    ]);
    expect([0.95, 0.8, 0.6, 0.4, 0.39].map((chance) => sureness(chance, true))).toEqual([
      "Fairly sure",
      "Leaning this way",
      "Close call",
      "No clear winner",
      "No clear winner",
    ]);
  });
});

describe("a tie is said to be one, with what decides it", () => {
  /** The same outcome with the answer `option` at $1,000, and others as given. */
  function at(
    option: OptionId,
    costs: Partial<Record<OptionId, number>>,
    releases: Partial<Record<OptionId, number>> = {},
  ) {
    const options = YEARLY.answer.options.map((one): OptionAnswer => {
      const cost = costs[one.id] ?? 5000;
      return { ...one, offered: true, expected_cost_with_carbon: cost, release_g: releases[one.id] ?? 500 };
    });
    const verdict = { option, guard: null, tie_break: false, reasons: [] };
    return { ...YEARLY, answer: { ...YEARLY.answer, options, verdict } };
  }

  test.each([
    [
      "less release",
      { repair: 1000, "top-off": 1001 },
      { repair: 100 },
      "topping it off costs about the same. Less refrigerant released decides it.",
    ],
    [
      "a little less cost",
      { repair: 1000, "top-off": 1040 },
      { repair: 100 },
      "topping it off costs about $50 more. The lower average cost decides it.",
    ],
    [
      "less trouble",
      { repair: 1000, "electronic-test": 995 },
      {},
      "an electronic leak test first costs about the same. Less trouble decides it.",
    ],
  ] as const)("%s", (_name, costs, releases, says) => {
    expect(text(<HowSure outcome={at("repair", costs, releases)} />)).toContain(`A tie on cost: ${says}`);
  });

  test("the law, also where it costs more", () => {
    const request = asked(AT_A_SHOP, { plan: { keep_years: 5, service: "shop" } });
    const { request: ruled, local } = localCase(request, { place: "us-wi", currency: "USD", electric: false });
    const outcome = outcomeOf(ruled, pageAnswer(ruled, { sensitivity: false }), "us", { local, found: null });
    expect(tieOf(outcome)).toMatchObject({ by: "law", rival: { id: "top-off" } });
    expect(text(<HowSure outcome={outcome} />)).toMatch(
      /(A tie on cost|On cost alone): topping it off costs about (the same|\$\d+ (less|more))\. Your local rules decide it\.$/,
    );
  });

  test("of the model's own tie-breaks, the rival is the option that it was dearer than", () => {
    const reason = KEPT_LONG.answer.verdict.reasons.find(({ code }) => code === "tie-break");
    expect(reason).toBeDefined();
    expect(text(<HowSure outcome={KEPT_LONG} />)).toMatch(/A tie on cost: .* Less refrigerant released decides it\.$/);
    expect(tieOf(KEPT_LONG)?.by).toBe("release");
  });

  test("no word of a tie where costs lie apart", () => {
    expect(tieOf(at("repair", { repair: 1000 }))).toBeNull();
    expect(text(<HowSure outcome={at("repair", { repair: 1000 })} />)).not.toMatch(/tie|decide/);
  });
});

test("a leak that is too fast: the sentence says why, the line under it how sure, the reasons how short", () => {
  const fast = shown(asked([filled("2025-09-06"), filled("2026-01-04"), WEAK_TODAY]));
  expect(text(<Sentence outcome={fast} />)).toMatch(/A full charge is low again in under 6 months/);
  expect(text(<HowSure outcome={fast} />)).toMatch(/^(Fairly|Very) sure: that is so in \d+ of 100 cases like yours\.$/);
  expect(text(<Reasons outcome={fast} />)).toMatch(/^A full charge lasts about \d months\. Under 6 months, it is not/);
});
