import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { REFRIGERANTS } from "../../src/core/question/contract.ts";
import {
  CLUTCH,
  CONDENSER,
  FAN,
  FINDING_IDS,
  MORE_AIR,
  type ReadingsJudgement,
} from "../../src/core/readings/contract.ts";
import { type Runtime, runtimes } from "../support/runtimes.ts";

const optional = <T>(arbitrary: fc.Arbitrary<T>) => fc.option(arbitrary, { nil: null });
const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** Ranges written down a second time on purpose. */
const anyReadings = fc.record(
  {
    refrigerant: fc.constantFrom(...REFRIGERANTS),
    ambient_c: optional(number(-30, 50)),
    humidity_percent: optional(number(0, 100)),
    static_kpa: optional(number(0, 6000)),
    nameplate_g: optional(number(100, 20_000)),
    system_volume_ml: optional(number(1, 1_000_000)),
    altitude_m: optional(number(-500, 5000)),
    low_kpa: optional(number(0, 6000)),
    high_kpa: optional(number(0, 6000)),
    engine_rpm: optional(number(0, 10_000)),
    vent_c: optional(number(-30, 80)),
    clutch: optional(fc.constantFrom(...CLUTCH)),
    fan: optional(fc.constantFrom(...FAN)),
    condenser: optional(fc.constantFrom(...CONDENSER)),
    more_air: optional(fc.constantFrom(...MORE_AIR)),
  },
  { requiredKeys: ["refrigerant"] },
);

describe.each(runtimes)("readings on $name", ({ name, start }) => {
  let app: Runtime;
  beforeAll(async () => {
    app = await start();
  });
  afterAll(() => app.close());

  const ask = (body: unknown) =>
    app.request("/api/readings", {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify(body),
    });
  const page = async (path: string) => {
    const response = await app.request(path);
    return { status: response.status, text: await response.text() };
  };

  describe("POST /api/readings", () => {
    // Low/low is undercharge: trade training text T-22/8. 15 psi and 120 psi over the air, 85 °F.
    test("ranks findings", async () => {
      const response = await ask({ refrigerant: "R-134a", ambient_c: 29.44, low_kpa: 204.7, high_kpa: 928.7 });
      const answer = (await response.json()) as ReadingsJudgement;
      expect(response.status).toBe(200);
      expect(response.headers.get("Cache-Control")).toBe("no-store");
      expect(answer).toMatchObject({ kind: "judgement", first: "low-charge", says: "low" });
    });

    test("asks for the ambient temperature", async () => {
      const response = await ask({ refrigerant: "R-12", low_kpa: 300 });
      expect(response.status).toBe(200);
      expect(await response.json()).toEqual({ kind: "question", asks: "ambient_c", because: "missing" });
    });

    test.each([
      [{}, "refrigerant"],
      [{ refrigerant: "R-22" }, "refrigerant"],
      [{ refrigerant: "R-134a", ambient_c: 85 }, "ambient_c"],
      [{ refrigerant: "R-134a", low_kpa: -1 }, "low_kpa"],
      [{ refrigerant: "R-134a", vent_c: "cold" }, "vent_c"],
      [{ refrigerant: "R-134a", clutch: "maybe" }, "clutch"],
      [{ refrigerant: "R-134a", low_psi: 35 }, "low_psi"],
      [{ refrigerant: "R-134a", altitude_m: 9000 }, "altitude_m"],
      [{ refrigerant: "R-134a", system_volume_ml: 0 }, "system_volume_ml"],
    ])("refuses %o at %s", async (body, path) => {
      const response = await ask(body);
      const { error } = (await response.json()) as { error: { message: string; issues: { path: string }[] } };
      expect(response.status).toBe(422);
      expect(error.message).toMatch(/\w/);
      expect(error.issues.map((issue) => issue.path)).toContain(path);
    });

    test("refuses what is not JSON with 400", async () => {
      const response = await app.request("/api/readings", {
        method: "POST",
        headers: { "Content-Type": "application/json" },
        body: "{",
      });
      expect(response.status).toBe(400);
    });

    test("any readings in range are answered", async () => {
      await fc.assert(
        fc.asyncProperty(anyReadings, async (body) => {
          const response = await ask(body);
          expect(response.status).toBe(200);
          const answer = (await response.json()) as { kind: string };
          expect(answer.kind).toBe(body.ambient_c == null ? "question" : "judgement");
        }),
        { numRuns: name === "Node" ? 150 : 20 },
      );
    });
  });

  describe("GET /readings", () => {
    test("opens with an empty form", async () => {
      const { status, text } = await page("/readings");
      expect(status).toBe(200);
      expect(text).toContain("Nearly half of all poor cooling is not low charge");
    });

    test("says what readings mean, and keeps what was typed", async () => {
      const { status, text } = await page("/readings?ambient=85&low=15&high=120");
      expect(status).toBe(200);
      expect(text).toContain("It is low on refrigerant.");
      expect(text).toMatch(/<input[^>]*name="low"[^>]*value="15"/);
    });

    test("on a freezing day asks for no vent air below freezing; differences are in the gauge's unit", async () => {
      const { text: cold } = await page("/readings?units=us&ambient=30&low=20&high=100");
      expect(cold).toContain("<dt>High side, running</dt>");
      expect(cold).not.toContain("<dt>Vent air</dt>");
      const { text: warm } = await page("/readings?units=metric&gauge=bar-gauge&ambient=30&low=2.4&high=14");
      expect(warm).toMatch(/<dt>Vent air<\/dt><dd>\d+ °C or colder/);
      expect(warm).toContain("by up to 9 bar on the high side");
    });

    test("names every field that cannot be read, and the missing air temperature", async () => {
      const { status, text } = await page("/readings?low=abc&high=%F0%9F%98%80&vent=-500&rpm=fast");
      expect(status).toBe(422);
      for (const field of ["ambient", "low", "high", "vent", "rpm"]) expect(text).toContain(`href="#${field}"`);
      expect(text).toContain('value="abc"');
      expect(text).toMatch(/<title>Error: /);
    });

    test("°F and psi, °C and bar, °C and kPa of the same readings say the same", async () => {
      const shares = async (query: string) => {
        const { text } = await page(`/readings?${query}`);
        return [...text.matchAll(/class="finding-chance">([^<]*)</g)].map(([, share]) => share);
      };
      const us = await shares("ambient=86&static=98&low=20&high=150&vent=68");
      expect(us.length).toBe(FINDING_IDS.length);
      // 1 psi is 6.894757 kPa; 86 °F is 30 °C, 68 °F is 20 °C.
      const metric = "units=metric&ambient=30&vent=20";
      expect(await shares(`${metric}&gauge=bar-gauge&static=6.756862&low=1.378951&high=10.342136`)).toEqual(us);
      expect(await shares(`${metric}&gauge=kPa-gauge&static=675.6862&low=137.8951&high=1034.2136`)).toEqual(us);
      expect(await shares(`${metric}&gauge=kPa-absolute&static=777.0112&low=239.2201&high=1135.5386`)).toEqual(us);
    });

    test("a change of units keeps what was typed, with its unit", async () => {
      const typed = "typed_in=us&typed_gauge=psi-gauge&units=metric&gauge=bar-gauge";
      const { text } = await page(`/readings?${typed}&ambient=86&altitude=5000&low=20&high=150&vent=68&nameplate=23`);
      for (const value of ["86 °F", "5000 ft", "20 psi", "150 psi", "68 °F", "23 oz"])
        expect(text).toContain(`value="${value}"`);
    });

    // R-134a at 20 °C stands at 571.7 kPa absolute (saturation-R-134a.csv): 68.2 psi over sea-level air, and 71.4 psi
    // over the 79.5 kPa of 2000 m (US Standard Atmosphere 1976).
    test("at an altitude a gauge reads from the thinner air there, in and out", async () => {
      const said = "the gauges read 68 psi";
      expect((await page("/readings?ambient=68&static=68")).text).toContain(said);
      const { text } = await page("/readings?ambient=68&static=71&altitude=2000+m");
      expect(text).toContain("the gauges read 71 psi");
      expect(text).toContain("Yours does, so some liquid is left");
      expect((await page("/readings?ambient=68&altitude=40000")).status).toBe(422);
    });
  });

  describe("GET /rules", () => {
    test("says who may do what, with the text's citation", async () => {
      const { status, text } = await page("/rules?place=us-wi&date=2026-05-01");
      expect(status).toBe(200);
      expect(text).toContain("ATCP 136.16");
      expect(text).toContain("not legal advice");
    });

    test("a place or a date that is none", async () => {
      const { status, text } = await page("/rules?place=mars&date=soon");
      expect(status).toBe(422);
      for (const field of ["place", "date"]) expect(text).toContain(`href="#${field}"`);
    });

    // California Air Resources Board: the deposit ended on 2025-01-01.
    test("shows a rule that ended as ended", async () => {
      const heading = "No longer in force";
      expect((await page("/rules?place=us-ca&date=2024-06-01")).text).not.toContain(heading);
      expect((await page("/rules?place=us-ca&date=2025-06-01")).text).toContain(heading);
    });
  });

  test("GET /leak-tests says how to look, everywhere", async () => {
    const { status, text } = await page("/leak-tests");
    expect(status).toBe(200);
    for (const place of ["Service port", "Joint", "Hose", "Condenser", "Evaporator", "Compressor"])
      expect(text).toContain(place);
  });

  describe("GET /top-off", () => {
    const LOG =
      "units=metric&refrigerant=R-134a&nameplate=650&when=2025-05-01&did=cans&amount=250&cooled=weak&today=weak&keep=5&service=diy&as_of=2026-05-01";

    test("plans from the quick question's address", async () => {
      const { status, text } = await page(
        `/top-off?${LOG}&ambient=30&compressor=belt&contents=as-labeled&where=us&says=low`,
      );
      expect(status).toBe(200);
      expect(text).toMatch(/[Aa]dd (\d+\sg first\. Then add )?small amounts( only)?, no more than \d+\sg in total\./);
      expect(text).toContain("Refrigerant goes in at the low side only.");
      expect(text).toMatch(/href="\/\?[^"]*did=cans-gauges/);
    });

    test("without a log it plans for the invented example, and says so", async () => {
      expect((await page("/top-off")).text).toContain("for the sample vehicle");
    });

    test("sealer in the system, readings that say not low: no steps", async () => {
      for (const stop of ["contents=sealer", "says=not-low"]) {
        const { text } = await page(`/top-off?${LOG}&${stop}&ambient=30&where=us&contents=as-labeled&compressor=belt`);
        expect(text).not.toContain('<ol class="steps">');
      }
    });

    test("a log that cannot be read goes back to where it was typed", async () => {
      const response = await app.request("/top-off?refrigerant=R-134a&nameplate=lots");
      expect(response.status).toBe(303);
      expect(response.headers.get("Location")).toMatch(/^\/\?.*nameplate=lots.*go=1$/);
    });

    test("what cannot be read of the form is named", async () => {
      const { status, text } = await page(`/top-off?${LOG}&ambient=hot&where=moon&compressor=steam&says=so&seal=wax`);
      expect(status).toBe(422);
      for (const field of ["ambient", "where", "compressor", "says", "seal"])
        expect(text).toContain(`href="#${field}"`);
    });
  });
});
