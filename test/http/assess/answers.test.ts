import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { AssessAnswer } from "../../../src/core/question/contract.ts";
import { TODAY } from "../../support/deps.ts";
import { validRequests } from "../../support/requests.ts";
import { RuntimeDesk } from "../../support/runtime-desk.ts";
import { runtimes } from "../../support/runtimes.ts";
import { QUESTION, VEHICLE } from "./questions.ts";

/** Where the contract has `number | null`, by the last name of the path. */
const MAY_BE_NULL = new Set([
  "first_step",
  "repair_held",
  "repair_sure_date",
  "annualizing_percent",
  "rolling_percent",
  "p10",
  "p50",
  "p90",
  "not_offered_because",
  "leads_to_repair",
  "switch_months",
  "watch_date",
  "option",
  "guard",
  "perfect_leak_rate",
  "perfect_location",
  "dye_test_net",
  "electronic_test_net",
  "look_over",
  "leak_g_per_year",
  "repair_price_factor",
  "carbon_price_per_t",
  "season_worth",
  "verdict",
]);

/** Paths where the answer has `null` and the contract has none: JSON writes NaN and Infinity so. */
function unpromisedNulls(value: unknown, path: string[] = []): string[] {
  if (value === null) return MAY_BE_NULL.has(path.at(-1) ?? "") ? [] : [path.join(".")];
  if (typeof value !== "object") return [];
  return Object.entries(value as object).flatMap(([key, part]) => unpromisedNulls(part, [...path, key]));
}

describe.each(runtimes)("what POST /api/assess answers on $name", ({ name, start }) => {
  const desk = new RuntimeDesk(start);
  // The Workers runtime answers over a socket: some eight milliseconds a call before the model has begun.
  const few = { numRuns: name === "Node" ? 100 : 25 };

  test("answers a charge log with everything that the contract lists", async () => {
    const response = await desk.ask("/api/assess", QUESTION);
    const answer = (await response.json()) as AssessAnswer;
    expect(response.status).toBe(200);
    expect(response.headers.get("Content-Type")).toMatch("application/json");
    expect(response.headers.get("Cache-Control")).toBe("no-store");
    expect(Object.keys(answer)).toEqual([
      "as_of",
      "leak",
      "forecast",
      "locations",
      "options",
      // Beside the contract's options: what is cheapest first.
      "first_step",
      "verdict",
      "value_of",
      "break_even",
      "sensitivity",
    ]);
    expect(answer.options.map(({ id }) => id)).toEqual(["repair", "dye-test", "electronic-test", "top-off"]);
    expect(answer.leak.learned).toHaveLength(3);
    expect(answer.sensitivity).toHaveLength(11);
  });

  test("an empty log is answered from the prior", async () => {
    const response = await desk.ask("/api/assess", { as_of: TODAY, vehicle: VEHICLE });
    const answer = (await response.json()) as AssessAnswer;
    expect(response.status).toBe(200);
    expect(answer.leak.learned).toEqual([]);
    expect(answer.leak.repair_held).toBeNull();
  });

  test("200 entries are answered", async () => {
    const log = Array.from({ length: 200 }, (_, i) => ({
      date: new Date(Date.parse("2000-01-01") + i * 40 * 86_400_000).toISOString().slice(0, 10),
      cooling: "weak",
      added_g: 200,
    }));
    const response = await desk.ask("/api/assess", { as_of: TODAY, vehicle: VEHICLE, log });
    expect(response.status).toBe(200);
    expect(unpromisedNulls(await response.json())).toEqual([]);
  });

  test("null and absent are the same", async () => {
    const nulls = {
      ...QUESTION,
      vehicle: { ...VEHICLE, monthly_mean_c: null },
      findings: null,
      plan: { keep_years: null, barred: null, season_worth: null },
      prices: { can_price: null, locations: { joint: null, hose: { price: null } } },
      assumptions: { heel: null },
    };
    expect(await (await desk.ask("/api/assess", nulls)).text()).toBe(
      await (await desk.ask("/api/assess", QUESTION)).text(),
    );
  });

  test("entries may come in any order", async () => {
    const turned = { ...QUESTION, log: QUESTION.log?.toReversed() };
    expect(await (await desk.ask("/api/assess", turned)).text()).toBe(
      await (await desk.ask("/api/assess", QUESTION)).text(),
    );
  });

  test("without as_of it is asked today, where the person is", async () => {
    const day = (hours: number) => new Date(Date.now() + hours * 3_600_000).toISOString().slice(0, 10);
    // Line Islands and Samoa, 25 hours apart: never on the same day.
    for (const [time_zone, hours] of [
      ["Pacific/Kiritimati", 14],
      ["Pacific/Pago_Pago", -11],
    ] as const) {
      const before = day(hours);
      const response = await desk.app.request("/api/assess", {
        method: "POST",
        headers: { "Content-Type": "application/json" },
        body: JSON.stringify({ vehicle: VEHICLE }),
        time_zone,
      });
      const { as_of } = (await response.json()) as AssessAnswer;
      if (name === "Node") expect(as_of).toBe(TODAY);
      else expect([before, day(hours)]).toContain(as_of);
    }
  });

  test("random valid requests are answered with numbers only, the same bytes each time", async () => {
    await fc.assert(
      fc.asyncProperty(validRequests(), async (request) => {
        const first = await desk.ask("/api/assess", request);
        const text = await first.text();
        expect(first.status, text).toBe(200);
        expect(unpromisedNulls(JSON.parse(text))).toEqual([]);
        expect(await (await desk.ask("/api/assess", request)).text()).toBe(text);
      }),
      few,
    );
  });
});
