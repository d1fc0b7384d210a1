import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { AssessAnswer, AssessRequest } from "../../src/core/question/contract.ts";
import { TODAY } from "../support/deps.ts";
import { validRequests } from "../support/requests.ts";
import { type Runtime, runtimes } from "../support/runtimes.ts";

const VEHICLE = { refrigerant: "R-134a", nameplate_g: 650 } as const;

/** Topped off every four months with a can or so, weak each time. */
const QUESTION: AssessRequest = {
  as_of: TODAY,
  vehicle: VEHICLE,
  log: [
    { date: "2025-05-01", cooling: "weak", added_g: 273, added_by: "cans", finish: "gauges" },
    { date: "2025-08-30", cooling: "weak", added_g: 273, added_by: "cans", finish: "gauges" },
    { date: "2025-12-30", cooling: "weak", added_g: 273, added_by: "cans", finish: "gauges" },
  ],
};

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

describe.each(runtimes)("POST /api/assess on $name", ({ name, start }) => {
  // The Workers runtime answers over a socket: some eight milliseconds a call before the model has begun.
  const few = { numRuns: name === "Node" ? 100 : 25 };
  let app: Runtime;
  beforeAll(async () => {
    app = await start();
  });
  afterAll(() => app.close());

  const send = (body: string, content_type = "application/json") =>
    app.request("/api/assess", { method: "POST", headers: { "Content-Type": content_type }, body });
  const ask = (request: unknown) => send(JSON.stringify(request));
  const refused = async (request: unknown) => {
    const response = await ask(request);
    expect(response.status).toBe(422);
    const { error } = (await response.json()) as {
      error: { message: string; issues: { path: string; message: string }[] };
    };
    expect(error.message).toMatch(/\w/);
    for (const issue of error.issues)
      expect(issue).toEqual({ path: expect.any(String), message: expect.stringMatching(/\w/) });
    return error.issues.map(({ path }) => path);
  };

  test("answers a charge log with everything that the contract lists", async () => {
    const response = await ask(QUESTION);
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
    const response = await ask({ as_of: TODAY, vehicle: VEHICLE });
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
    const response = await ask({ as_of: TODAY, vehicle: VEHICLE, log });
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
    expect(await (await ask(nulls)).text()).toBe(await (await ask(QUESTION)).text());
  });

  test("entries may come in any order", async () => {
    const turned = { ...QUESTION, log: QUESTION.log?.toReversed() };
    expect(await (await ask(turned)).text()).toBe(await (await ask(QUESTION)).text());
  });

  test("without as_of it is asked today, where the person is", async () => {
    const day = (hours: number) => new Date(Date.now() + hours * 3_600_000).toISOString().slice(0, 10);
    // Line Islands and Samoa, 25 hours apart: never on the same day.
    for (const [time_zone, hours] of [
      ["Pacific/Kiritimati", 14],
      ["Pacific/Pago_Pago", -11],
    ] as const) {
      const before = day(hours);
      const response = await app.request("/api/assess", {
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
        const first = await ask(request);
        const text = await first.text();
        expect(first.status, text).toBe(200);
        expect(unpromisedNulls(JSON.parse(text))).toEqual([]);
        expect(await (await ask(request)).text()).toBe(text);
      }),
      few,
    );
  });

  test("random wrong values are refused where they stand", async () => {
    const wrong = fc.oneof(
      fc.constantFrom("🥶", "", "12 oz", {}, [[]], 1e12, -1e12),
      fc.string({ minLength: 12 }),
      fc.dictionary(fc.string(), fc.integer(), { minKeys: 1 }),
    );
    const places: ((value: unknown) => [path: string, request: unknown])[] = [
      (value) => ["as_of", { ...QUESTION, as_of: value }],
      (value) => ["vehicle.refrigerant", { ...QUESTION, vehicle: { ...VEHICLE, refrigerant: value } }],
      (value) => ["vehicle.nameplate_g", { ...QUESTION, vehicle: { ...VEHICLE, nameplate_g: value } }],
      (value) => ["log.1.date", { ...QUESTION, log: [{ date: TODAY }, { date: value }] }],
      (value) => ["log.0.added_g", { ...QUESTION, log: [{ date: TODAY, added_g: value }] }],
      (value) => ["log.0.cooling", { ...QUESTION, log: [{ date: TODAY, cooling: value }] }],
      (value) => ["plan.keep_years", { ...QUESTION, plan: { keep_years: value } }],
      (value) => ["prices.locations.hose.holds", { ...QUESTION, prices: { locations: { hose: { holds: value } } } }],
      (value) => ["assumptions.low_fraction", { ...QUESTION, assumptions: { low_fraction: value } }],
    ];
    await fc.assert(
      fc.asyncProperty(fc.constantFrom(...places), wrong, async (place, value) => {
        const [path, request] = place(value);
        const found = await refused(request);
        expect(found.some((one) => one === path || one.startsWith(`${path}.`))).toBe(true);
      }),
      few,
    );
  });

  test("random JSON of any kind is refused with a path for each issue", async () => {
    await fc.assert(
      fc.asyncProperty(fc.jsonValue(), async (value) => {
        expect((await refused(value)).length).toBeGreaterThan(0);
      }),
      few,
    );
  });

  test("unknown fields, future dates and too large a charge are each told where they stand", async () => {
    const request = {
      as_of: TODAY,
      vehicle: { ...VEHICLE, colour: "red" },
      log: [{ date: "2026-05-02" }, { date: "2025-05-01" }, { date: "2025-06-01", added_g: 1951 }],
    };
    expect(await refused(request)).toEqual(["vehicle.colour", "log.0.date", "log.2.added_g"]);
  });

  test.each(["", "{", "as_of=2026-05-01", '{"as_of": NaN}', "{'as_of': 1}", "\u0000", "[".repeat(100_000)])(
    "a body that is not JSON is answered 400 (%#)",
    async (body) => {
      const response = await send(body);
      expect(response.status).toBe(400);
      expect(await response.json()).toEqual({ error: { message: expect.stringMatching(/is not JSON/), issues: [] } });
    },
  );

  test.each([
    "text/plain",
    "application/x-www-form-urlencoded",
    "application/jsonp",
    "multipart/form-data; boundary=x",
  ])("JSON sent as %s is answered 400 or, as a form from nowhere, 403", async (content_type) => {
    const response = await app.request("/api/assess", {
      method: "POST",
      headers: { "Content-Type": content_type, "Sec-Fetch-Site": "same-origin" },
      body: JSON.stringify(QUESTION),
    });
    expect(response.status).toBe(400);
    expect(await response.json()).toMatchObject({ error: { message: expect.stringMatching(/application\/json/) } });
    expect((await send(JSON.stringify(QUESTION), content_type)).status).toBe(
      content_type === "application/jsonp" ? 400 : 403,
    );
  });

  test("a body of 300 kB is answered 413; one just under the limit is read", async () => {
    const large = await ask({ ...QUESTION, notes: "x".repeat(300_000) });
    expect(large.status).toBe(413);
    expect(await large.json()).toEqual({ error: { message: "Send at most 256 KiB at once.", issues: [] } });
    const text = JSON.stringify({ ...QUESTION, notes: "" });
    const padded = text.replace('"notes":""', `"notes":"${"x".repeat(256 * 1024 - text.length)}"`);
    expect(padded).toHaveLength(256 * 1024);
    expect((await send(padded)).status).toBe(422);
    expect((await send(`${padded} `)).status).toBe(413);
  });

  test("GET is answered 405", async () => {
    const response = await app.request("/api/assess");
    expect(response.status).toBe(405);
    expect(response.headers.get("Allow")).toBe("POST");
  });
});
