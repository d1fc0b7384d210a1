import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { REFRIGERANTS } from "../../src/core/question/contract.ts";
import { CLUTCH, CONDENSER, FAN, MORE_AIR, type ReadingsJudgement } from "../../src/core/readings/readings-contract.ts";
import { RuntimeDesk } from "../support/runtime-desk.ts";
import { runtimes } from "../support/runtimes.ts";

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

describe.each(runtimes)("POST /api/readings on $name", ({ name, start }) => {
  const desk = new RuntimeDesk(start);

  // Low/low is undercharge: trade training text T-22/8. 15 psi and 120 psi over the air, 85 °F.
  test("ranks findings", async () => {
    const response = await desk.ask("/api/readings", {
      refrigerant: "R-134a",
      ambient_c: 29.44,
      low_kpa: 204.7,
      high_kpa: 928.7,
    });
    const answer = (await response.json()) as ReadingsJudgement;
    expect(response.status).toBe(200);
    expect(response.headers.get("Cache-Control")).toBe("no-store");
    expect(answer).toMatchObject({ kind: "judgement", first: "low-charge", says: "low" });
  });

  test("asks for the ambient temperature", async () => {
    const response = await desk.ask("/api/readings", { refrigerant: "R-12", low_kpa: 300 });
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
    const response = await desk.ask("/api/readings", body);
    const { error } = (await response.json()) as { error: { message: string; issues: { path: string }[] } };
    expect(response.status).toBe(422);
    expect(error.message).toMatch(/\w/);
    expect(error.issues.map((issue) => issue.path)).toContain(path);
  });

  test("refuses what is not JSON with 400", async () => {
    const response = await desk.send("/api/readings", "{");
    expect(response.status).toBe(400);
  });

  test("any readings in range are answered", async () => {
    await fc.assert(
      fc.asyncProperty(anyReadings, async (body) => {
        const response = await desk.ask("/api/readings", body);
        expect(response.status).toBe(200);
        const answer = (await response.json()) as { kind: string };
        expect(answer.kind).toBe(body.ambient_c == null ? "question" : "judgement");
      }),
      { numRuns: name === "Node" ? 150 : 20 },
    );
  });
});
