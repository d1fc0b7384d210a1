import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { assess } from "../../../src/core/assess.ts";
import type { AssessRequest, LocationId } from "../../../src/core/question/contract.ts";
import { LOCATION_IDS } from "../../../src/core/question/contract.ts";
import { AS_OF, carRequest, daysAgo, optionOf, toppedOffEvery } from "../samples.ts";

const LOG = toppedOffEvery(300, 2);
const firstStep = (changes: Partial<AssessRequest> = {}) =>
  assess(carRequest(LOG, changes), { sensitivity: false }).first_step;

/** Only this place may leak. */
function onlyAt(place: LocationId, more: object = {}): Partial<AssessRequest> {
  const locations = Object.fromEntries(LOCATION_IDS.map((id) => [id, { share: id === place ? 1 : 0 }]));
  return { prices: { locations: { ...locations, [place]: { share: 1, ...more } } } };
}

describe("new valve cores and sealing caps come first", () => {
  it("with the chance that the leak is at the ports, and the price that the request gives", () => {
    const step = firstStep({ prices: { locations: { "service-port": { price: 62, holds: 0.9 } } } });
    // 0.15 of the shares of the trade's order, which add to 1.
    expect(step).toMatchObject({ id: "cores-and-caps", location: "service-port", price: 62 });
    expect(step?.probability).toBeCloseTo(0.15, 12);
    expect(step?.ends_leak).toBeCloseTo(0.15 * 0.9, 12);
  });

  it("where only the ports can leak and it surely holds, saves what that repair saves against the best option", () => {
    const request = carRequest(LOG, onlyAt("service-port", { holds: 1 }));
    const answer = assess(request, { sensitivity: false });
    const courses = ["repair", "top-off"] as const;
    const best = Math.min(...courses.map((id) => optionOf(answer, id).expected_cost_with_carbon));
    expect(answer.first_step?.saves).toBeCloseTo(best - optionOf(answer, "repair").expected_cost_with_carbon, 9);
    expect(answer.first_step?.ends_leak).toBe(1);
  });

  it("a price higher by 10 saves 10 less, but for what relapses cost", () => {
    const at = (price: number) => firstStep({ prices: { locations: { "service-port": { price } } } })?.saves ?? NaN;
    expect(at(70) - at(80)).toBeGreaterThan(8);
    expect(at(70) - at(80)).toBeLessThan(12);
  });

  it("oil at a port makes them likelier and worth more; a clean electronic test of the ports takes them off the page", () => {
    const seen = { date: daysAgo(1), test: "visual", location: "service-port", result: "leak" } as const;
    const oily = firstStep({ findings: [seen] });
    expect(oily?.probability).toBeGreaterThan(0.5);
    expect(oily?.saves).toBeGreaterThan(firstStep()?.saves ?? NaN);
    expect(firstStep({ findings: [{ ...seen, test: "electronic", result: "clean" }] })).toBeNull();
  });

  it("are no step without pressure, where readings come first, where a rule bars repairs, or where only others leak", () => {
    expect(assess(carRequest([...LOG.slice(0, -1), { date: AS_OF, cooling: "empty" }])).first_step).toBeNull();
    expect(firstStep({ plan: { readings: "not-low" } })).toBeNull();
    expect(firstStep({ plan: { barred: ["repair"] } })).toBeNull();
    expect(firstStep(onlyAt("condenser"))).toBeNull();
  });

  it("never saves more than knowing the place for nothing would", () => {
    fc.assert(
      fc.property(
        fc.record({
          days: fc.integer({ min: 60, max: 1500 }),
          price: fc.double({ min: 0, max: 300, noNaN: true }),
          share: fc.double({ min: 0.1, max: 3, noNaN: true }),
        }),
        ({ days, price, share }) => {
          const prices = { locations: { "service-port": { price, share } } };
          const { first_step, value_of } = assess(carRequest(toppedOffEvery(days, 2), { prices }), {
            sensitivity: false,
          });
          if (first_step === null || value_of.perfect_location === null) return;
          expect(first_step.saves).toBeLessThanOrEqual(value_of.perfect_location + 1e-6);
        },
      ),
      { numRuns: 40 },
    );
  });
});
