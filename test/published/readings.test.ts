import { describe, expect, it } from "vitest";
import { celsiusFromFahrenheit, kpaFromPressure } from "../../src/core/quantities/units.ts";
import { REFRIGERANTS, type RefrigerantId } from "../../src/core/question/contract.ts";
import { judgeReadings } from "../../src/core/readings/judge.ts";
import type { Readings, ReadingsJudgement } from "../../src/core/readings/readings-contract.ts";
import { saturationPressureKpa, saturationTemperatureC } from "../../src/core/refrigerant/refrigerant.ts";
import { AMBIENT_CHARTS, LOW_SIDE_RULES, PATTERNS, STATIC_CHART, VENT_CHART, VENT_RULES } from "./gauge-charts.ts";

/** An R-134a gauge reading as the pressure of `refrigerant` at the same saturation temperature. */
function kpa(refrigerant: RefrigerantId, r134a_psig: number): number {
  const r134a_kpa = kpaFromPressure(r134a_psig, "psi-gauge");
  if (refrigerant === "R-134a") return r134a_kpa;
  return saturationPressureKpa(refrigerant, saturationTemperatureC("R-134a", r134a_kpa));
}

function judged(readings: Readings): ReadingsJudgement {
  const answer = judgeReadings(readings);
  if (answer.kind !== "judgement") throw new Error("asked instead of judging");
  return answer;
}

const probabilityOfLow = ({ findings }: ReadingsJudgement) =>
  findings.reduce(
    (sum, { id, probability }) => sum + (id === "low-charge" || id === "nearly-empty" ? probability : 0),
    0,
  );

const middle = ([from, to]: readonly [number, number]) => (from + to) / 2;

describe.each(REFRIGERANTS)("%s, at the saturation temperatures of the printed R-134a pressures", (refrigerant) => {
  describe.each(AMBIENT_CHARTS)("$chart, $ambient_f °F", ({ ambient_f, low_psig, high_psig }) => {
    const ambient_c = celsiusFromFahrenheit(ambient_f);

    it("reads normal, and not low, in the middle of its row", () => {
      const answer = judged({
        refrigerant,
        ambient_c,
        low_kpa: kpa(refrigerant, middle(low_psig)),
        high_kpa: kpa(refrigerant, middle(high_psig)),
      });
      expect(answer.first).toBe("normal");
      expect(answer.says).toBe("not-low");
    });

    it("reads normal at every corner of its row", () => {
      for (const low of low_psig) {
        for (const high of high_psig) {
          const answer = judged({
            refrigerant,
            ambient_c,
            low_kpa: kpa(refrigerant, low),
            high_kpa: kpa(refrigerant, high),
          });
          expect(answer.first, `${low}/${high} psi`).toBe("normal");
          expect(answer.says, `${low}/${high} psi`).not.toBe("low");
        }
      }
    });

    it("stands inside the expected region of the page", () => {
      const { expected } = judged({ refrigerant, ambient_c });
      for (const low of low_psig) {
        expect(kpa(refrigerant, low)).toBeGreaterThan(expected.low_kpa.from);
        expect(kpa(refrigerant, low)).toBeLessThan(expected.low_kpa.to);
      }
      for (const high of high_psig) {
        expect(kpa(refrigerant, high)).toBeGreaterThan(expected.high_kpa.from);
        expect(kpa(refrigerant, high)).toBeLessThan(expected.high_kpa.to);
      }
    });
  });

  describe.each(VENT_CHART)("$chart, vent air at $ambient_f °F", ({ ambient_f, humidity_percent, vent_f }) => {
    const ambient_c = celsiusFromFahrenheit(ambient_f);

    it.each(vent_f)("ranks normal first at %d °F alone", (vent) => {
      const answer = judged({
        refrigerant,
        ambient_c,
        humidity_percent: middle(humidity_percent),
        vent_c: celsiusFromFahrenheit(vent),
      });
      expect(answer.findings[0]?.id).toBe("normal");
      expect(answer.says).not.toBe("low");
    });

    it.each(vent_f)("reads normal at %d °F with any chart's pressures at that temperature", (vent) => {
      const rows = AMBIENT_CHARTS.filter((row) => Math.abs(row.ambient_f - ambient_f) <= 2);
      expect(rows.length).toBeGreaterThan(0);
      for (const row of rows) {
        const answer = judged({
          refrigerant,
          ambient_c,
          humidity_percent: middle(humidity_percent),
          vent_c: celsiusFromFahrenheit(vent),
          low_kpa: kpa(refrigerant, middle(row.low_psig)),
          high_kpa: kpa(refrigerant, middle(row.high_psig)),
        });
        expect(answer.first, row.chart).toBe("normal");
        expect(answer.says, row.chart).toBe("not-low");
      }
    });
  });

  describe.each(PATTERNS)("$pattern ($source)", ({ finding, says, at, also }) => {
    it.each(at)(
      "comes first at $ambient_f °F, $low_psig / $high_psig psi",
      ({ ambient_f, low_psig, high_psig, static_psig }) => {
        const answer = judged({
          refrigerant,
          ambient_c: celsiusFromFahrenheit(ambient_f),
          low_kpa: low_psig === undefined ? null : kpa(refrigerant, low_psig),
          high_kpa: high_psig === undefined ? null : kpa(refrigerant, high_psig),
          static_kpa: static_psig === undefined ? null : kpa(refrigerant, static_psig),
          ...also,
        });
        expect(answer.findings[0]?.id).toBe(finding);
        if (says === undefined) expect(answer.says).not.toBe("low");
        else expect(answer.says).toBe(says);
      },
    );
  });

  it.each(STATIC_CHART)(
    "static pressure at %d °F (%d psi in a manufacturer's 1998 table) is liquid present, amount unknown",
    (ambient_f, psig) => {
      const answer = judged({
        refrigerant,
        ambient_c: celsiusFromFahrenheit(ambient_f),
        static_kpa: kpa(refrigerant, psig),
      });
      expect(answer.static?.state).toBe("liquid");
      expect(answer.says).toBe("undecided");
    },
  );
});

describe("R-134a static pressure", () => {
  it.each(STATIC_CHART)("at %d °F is %d psi within 1.5 (manufacturer's 1998 table)", (ambient_f, psig) => {
    const answer = judged({ refrigerant: "R-134a", ambient_c: celsiusFromFahrenheit(ambient_f), static_kpa: 500 });
    const printed_kpa = kpaFromPressure(psig, "psi-gauge");
    expect(Math.abs(answer.static!.saturation_kpa - printed_kpa) / 6.894757).toBeLessThan(1.5);
  });

  // "engine off and soaked, on a day over 100 °F with liquid in it: over 100 psi whatever the amount" — common
  // practice, no source
  it("over 100 °F with liquid is over 100 psi", () => {
    const answer = judged({ refrigerant: "R-134a", ambient_c: celsiusFromFahrenheit(101), static_kpa: 900 });
    expect(answer.static!.saturation_kpa).toBeGreaterThan(kpaFromPressure(100, "psi-gauge"));
  });

  // 27.8 g per litre of vapor at 20 °C, about 55 g in 2 L: reference equation of state (Tillner-Roth and Baehr 1994).
  it("with liquid at 20 °C holds at least 55 g in the 2 L of a 769 g system", () => {
    const answer = judged({ refrigerant: "R-134a", ambient_c: 20, static_kpa: 572, nameplate_g: 2000 / 2.6 });
    expect(answer.static!.grams!.likely).toBeCloseTo(55.6, 0);
  });

  // Vapor density at 20 °C and 100 kPa: 4.25 kg/m³ by the ideal-gas law with Z = 0.98, so 8.5 g in 2 L.
  it("below saturation gives the grams of vapor left", () => {
    const answer = judged({ refrigerant: "R-134a", ambient_c: 20, static_kpa: 101.325, nameplate_g: 2000 / 2.6 });
    const ideal_g_l = (101.325 * 102.032) / (8.314471 * 293.15);
    expect(answer.static!.state).toBe("no-liquid");
    expect(answer.static!.grams!.likely).toBeGreaterThan(2 * ideal_g_l);
    expect(answer.static!.grams!.likely).toBeLessThan(2.06 * ideal_g_l);
  });

  // The same vessel, its volume known: the nameplate charge has no say, and there is no range.
  it("a known system volume goes before the nameplate charge", () => {
    const vessel = { refrigerant: "R-134a", ambient_c: 20, static_kpa: 572 } as const;
    const { likely, from, to } = judged({ ...vessel, system_volume_ml: 2000, nameplate_g: 5000 }).static!.grams!;
    expect(likely).toBeCloseTo(55.6, 0);
    expect([from, to]).toEqual([likely, likely]);
  });

  // Air at 3000 m: 70 kPa (US Standard Atmosphere 1976). A vented system there stands at it, and that is no vacuum.
  it.each([
    [3000, []],
    [0, ["static-vacuum"]],
    [null, ["static-vacuum"]],
  ])("70 kPa absolute at %s m: %j", (altitude_m, codes) => {
    const { problems } = judged({ refrigerant: "R-134a", ambient_c: 20, static_kpa: 70.1, altitude_m });
    expect(problems.map(({ code }) => code)).toEqual(codes);
  });
});

describe("rules of the trade (common practice, no source)", () => {
  it.each(VENT_RULES)("vent air, $rule: counts as cold", ({ ambient_f, vent_f }) => {
    for (const vent of vent_f) {
      const answer = judged({
        refrigerant: "R-134a",
        ambient_c: celsiusFromFahrenheit(ambient_f),
        vent_c: celsiusFromFahrenheit(vent),
      });
      expect(answer.findings[0]?.id).toBe("normal");
    }
  });

  it.each(LOW_SIDE_RULES)(
    "running low side, $rule: speaks for normal, and does not decide alone",
    ({ ambient_f, low_psig }) => {
      for (const low of low_psig) {
        const answer = judged({
          refrigerant: "R-134a",
          ambient_c: celsiusFromFahrenheit(ambient_f),
          low_kpa: kpa("R-134a", low),
        });
        const normal = answer.findings.find(({ id }) => id === "normal");
        expect(normal?.speaks_for.map(({ feature }) => feature)).toContain("low");
        expect(answer.says).toBe("undecided");
      }
    },
  );

  it("a low-side-only gauge says nothing about the high side, which is asked for next", () => {
    const answer = judged({ refrigerant: "R-134a", ambient_c: 29.4, low_kpa: kpa("R-134a", 39) });
    expect(answer.next[0]?.reading).toBe("high");
  });

  it("grossly undercharged systems can mimic a compressor that does not pump: the static pressure is asked for", () => {
    const answer = judged({
      refrigerant: "R-134a",
      ambient_c: 29.4,
      low_kpa: kpa("R-134a", 40),
      high_kpa: kpa("R-134a", 45),
    });
    expect(probabilityOfLow(answer)).toBeGreaterThan(0.15);
    expect(answer.next[0]?.reading).toBe("static");
  });
});
