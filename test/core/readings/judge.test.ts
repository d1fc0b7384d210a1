import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bandLines, features, findingPriors } from "../../../data/readings-table.ts";
import {
  celsiusFromFahrenheit,
  fahrenheitFromCelsius,
  kpaFromPressure,
  pressureFromKpa,
} from "../../../src/core/quantities/units.ts";
import { REFRIGERANTS } from "../../../src/core/question/contract.ts";
import { expectedGainBits, rowsAt } from "../../../src/core/readings/belief.ts";
import { judgeReadings } from "../../../src/core/readings/judge.ts";
import {
  CLUTCH,
  COMPRESSOR,
  CONDENSER,
  FAN,
  FEATURE_IDS,
  FINDING_IDS,
  type FindingId,
  METERING,
  MORE_AIR,
  type Readings,
  type ReadingsJudgement,
  SIGHT_GLASS,
} from "../../../src/core/readings/readings-contract.ts";
import { saturationPressureKpa } from "../../../src/core/refrigerant/refrigerant.ts";

function judged(readings: Readings): ReadingsJudgement {
  const answer = judgeReadings(readings);
  if (answer.kind !== "judgement") throw new Error("asked instead of judging");
  return answer;
}

const probability = (answer: ReadingsJudgement, id: FindingId) =>
  answer.findings.find((finding) => finding.id === id)!.probability;

const optional = <T>(arbitrary: fc.Arbitrary<T>) => fc.option(arbitrary, { nil: null });
const pressures = fc.double({ min: 0, max: 6000, noNaN: true });

const anyReadings: fc.Arbitrary<Readings & { ambient_c: number }> = fc.record({
  refrigerant: fc.constantFrom(...REFRIGERANTS),
  ambient_c: fc.double({ min: -30, max: 50, noNaN: true }),
  humidity_percent: optional(fc.double({ min: 0, max: 100, noNaN: true })),
  static_kpa: optional(pressures),
  nameplate_g: optional(fc.double({ min: 100, max: 20_000, noNaN: true })),
  system_volume_ml: optional(fc.double({ min: 1, max: 1_000_000, noNaN: true })),
  altitude_m: optional(fc.double({ min: -500, max: 5000, noNaN: true })),
  low_kpa: optional(pressures),
  high_kpa: optional(pressures),
  engine_rpm: optional(fc.integer({ min: 0, max: 5000 })),
  vent_c: optional(fc.double({ min: -20, max: 60, noNaN: true })),
  clutch: optional(fc.constantFrom(...CLUTCH)),
  fan: optional(fc.constantFrom(...FAN)),
  condenser: optional(fc.constantFrom(...CONDENSER)),
  more_air: optional(fc.constantFrom(...MORE_AIR)),
  suction_line_c: optional(fc.double({ min: -40, max: 80, noNaN: true })),
  liquid_line_c: optional(fc.double({ min: -40, max: 100, noNaN: true })),
  equalizing_s: optional(fc.double({ min: 0, max: 3600, noNaN: true })),
  sight_glass: optional(fc.constantFrom(...SIGHT_GLASS)),
  metering: optional(fc.constantFrom(...METERING)),
  compressor: optional(fc.constantFrom(...COMPRESSOR)),
});

/** Every number anywhere in an answer. */
function numbersIn(value: unknown): number[] {
  if (typeof value === "number") return [value];
  if (value === null || typeof value !== "object") return [];
  return Object.values(value).flatMap(numbersIn);
}

describe("judgeReadings", () => {
  it("asks for the ambient temperature when it is missing", () => {
    expect(judgeReadings({ refrigerant: "R-134a", low_kpa: 300 })).toEqual({
      kind: "question",
      asks: "ambient_c",
      because: "missing",
    });
  });

  it.each([-31, 51, Number.NaN, Number.POSITIVE_INFINITY])("asks again for an ambient of %d °C", (ambient_c) => {
    expect(judgeReadings({ refrigerant: "R-134a", ambient_c })).toMatchObject({ because: "out-of-range" });
  });

  it("with nothing read leaves the priors, undecided, and asks for a pressure", () => {
    const answer = judged({ refrigerant: "R-134a", ambient_c: 25 });
    for (const id of FINDING_IDS) expect(probability(answer, id)).toBeCloseTo(findingPriors[id].share, 12);
    expect(answer).toMatchObject({ first: "undecided", says: "undecided", static: null });
    expect(["low", "high"]).toContain(answer.next[0]?.reading);
  });

  it("any partial input gives an answer without NaN, whose probabilities add up to 1", () => {
    fc.assert(
      fc.property(anyReadings, (readings) => {
        const answer = judged(readings);
        for (const number of numbersIn(answer)) expect(Number.isFinite(number)).toBe(true);
        expect(new Set(answer.findings.map(({ id }) => id))).toEqual(new Set(FINDING_IDS));
        const total = answer.findings.reduce((sum, finding) => sum + finding.probability, 0);
        expect(total).toBeCloseTo(1, 9);
        for (const { probability } of answer.findings) expect(probability).toBeGreaterThan(0);
        expect(answer.findings).toEqual(answer.findings.toSorted((a, b) => b.probability - a.probability));
      }),
      { numRuns: 2000 },
    );
  });

  it("raising the static pressure never makes nearly-empty likelier", () => {
    fc.assert(
      fc.property(anyReadings, pressures, pressures, (readings, a, b) => {
        const lower = judged({ ...readings, static_kpa: Math.min(a, b) });
        const higher = judged({ ...readings, static_kpa: Math.max(a, b) });
        expect(probability(higher, "nearly-empty")).toBeLessThanOrEqual(probability(lower, "nearly-empty") + 1e-12);
      }),
      { numRuns: 2000 },
    );
  });

  it("raising the static pressure never lowers the grams that it leaves", () => {
    fc.assert(
      fc.property(anyReadings, pressures, pressures, (readings, a, b) => {
        const grams = (static_kpa: number) =>
          judged({ ...readings, nameplate_g: 650, static_kpa }).static!.grams!.likely;
        expect(grams(Math.max(a, b))).toBeGreaterThanOrEqual(grams(Math.min(a, b)) - 1e-9);
      }),
    );
  });

  it("°F for °C and psi for kPa give the same findings", () => {
    fc.assert(
      fc.property(anyReadings, (readings) => {
        const fahrenheit = (t_c: number) => celsiusFromFahrenheit(fahrenheitFromCelsius(t_c));
        const psi = (p_kpa: number) => kpaFromPressure(pressureFromKpa(p_kpa, "psi-gauge"), "psi-gauge");
        const bar = (p_kpa: number) => kpaFromPressure(pressureFromKpa(p_kpa, "bar-gauge"), "bar-gauge");
        const or = (convert: (x: number) => number, x: number | null | undefined) => (x == null ? null : convert(x));
        const here = judged(readings);
        // A conversion there and back may cross a line only by rounding; keep off the ends of the range.
        fc.pre(Math.abs(readings.ambient_c) < 29.9);
        const there = judged({
          ...readings,
          ambient_c: fahrenheit(readings.ambient_c),
          vent_c: or(fahrenheit, readings.vent_c),
          static_kpa: or(psi, readings.static_kpa),
          low_kpa: or(bar, readings.low_kpa),
          high_kpa: or(psi, readings.high_kpa),
        });
        for (const id of FINDING_IDS) expect(probability(there, id)).toBeCloseTo(probability(here, id), 6);
      }),
    );
  });

  it("never says not-low or low on looks alone", () => {
    for (const fan of FAN) {
      for (const clutch of CLUTCH) {
        expect(judged({ refrigerant: "R-134a", ambient_c: 30, fan, condenser: "dirty", clutch }).says).toBe(
          "undecided",
        );
      }
    }
  });

  it("counts a running system less on a colder day, and not at all below 8 °C", () => {
    const shareOfNormal = (ambient_c: number) => {
      const { expected } = judged({ refrigerant: "R-134a", ambient_c });
      const low_kpa = (expected.low_kpa.from + expected.low_kpa.to) / 2;
      const high_kpa = (expected.high_kpa.from + expected.high_kpa.to) / 2;
      return probability(judged({ refrigerant: "R-134a", ambient_c, low_kpa, high_kpa }), "normal");
    };
    expect(shareOfNormal(7)).toBeCloseTo(findingPriors.normal.share, 12);
    expect(shareOfNormal(11)).toBeGreaterThan(shareOfNormal(9));
    expect(shareOfNormal(11)).toBeLessThan(shareOfNormal(16));
  });

  it("two refrigerants at the same saturation temperatures have the same findings, but for the near-vacuum of neither", () => {
    const at = (refrigerant: "R-134a" | "R-12") =>
      judged({
        refrigerant,
        ambient_c: 30,
        low_kpa: saturationPressureKpa(refrigerant, 3),
        high_kpa: saturationPressureKpa(refrigerant, 55),
      }).findings.map(({ id, probability }) => [id, probability.toFixed(9)]);
    expect(at("R-12")).toEqual(at("R-134a"));
  });
});

describe("problems", () => {
  const at30: Readings = { refrigerant: "R-134a", ambient_c: 30 };
  const codes = (readings: Readings) => judged(readings).problems.map(({ code }) => code);

  it("low side above high side: neither is used, and both are asked for again", () => {
    const answer = judged({ ...at30, low_kpa: 1500, high_kpa: 300 });
    expect(answer.problems).toEqual([{ code: "low-above-high", values: { low_kpa: 1500, high_kpa: 300 } }]);
    for (const id of FINDING_IDS) expect(probability(answer, id)).toBeCloseTo(findingPriors[id].share, 12);
    expect(answer.next.map(({ reading }) => reading)).toEqual(expect.arrayContaining(["low", "high"]));
    expect(answer.says).toBe("undecided");
  });

  it("a low side barely above the high side is equal within the gauges, not a contradiction", () => {
    expect(codes({ ...at30, low_kpa: 610, high_kpa: 600 })).toEqual([]);
    expect(judged({ ...at30, low_kpa: 610, high_kpa: 600 }).findings[0]?.id).toBe("not-pumping");
  });

  it("running pressures with the engine off are not used", () => {
    expect(codes({ ...at30, low_kpa: 300, high_kpa: 1500, engine_rpm: 0 })).toEqual(["engine-off"]);
    expect(codes({ ...at30, low_kpa: 300, high_kpa: 1500, engine_rpm: 750 })).toEqual([]);
  });

  it("a pressure above the critical one is beyond what the refrigerant can show", () => {
    expect(codes({ ...at30, high_kpa: 4500 })).toEqual(["beyond-gauge"]);
    expect(codes({ ...at30, static_kpa: 4500 })).toEqual(["beyond-gauge"]);
  });

  it("a standing vacuum is named, and still reads nearly empty", () => {
    const answer = judged({ ...at30, static_kpa: 30 });
    expect(answer.problems.map(({ code }) => code)).toEqual(["static-vacuum"]);
    expect(answer).toMatchObject({ first: "nearly-empty", says: "low" });
  });

  it.each([
    ["low-above-static", { static_kpa: 400, low_kpa: 700, high_kpa: 800 }],
    ["clutch-off-but-pumping", { clutch: "off", low_kpa: 300, high_kpa: 1500 }],
    ["vent-under-evaporating", { low_kpa: 500, vent_c: 5 }],
    ["cold-without-liquid", { static_kpa: 400, vent_c: 12 }],
    ["vent-over-ambient", { vent_c: 45 }],
    ["not-a-reading", { low_kpa: -5 }],
    ["not-a-reading", { vent_c: Number.NaN }],
  ] as const)("%s is reported", (code, readings) => {
    expect(codes({ ...at30, ...readings })).toEqual([code]);
  });

  it("cold air from a system without liquid decides nothing", () => {
    const answer = judged({ ...at30, static_kpa: 400, vent_c: 12 });
    expect(answer).toMatchObject({ first: "undecided" });
  });

  it("a cold day is reported once something runs", () => {
    expect(codes({ refrigerant: "R-134a", ambient_c: 10, low_kpa: 250 })).toEqual(["too-cold"]);
    expect(codes({ refrigerant: "R-134a", ambient_c: 10, static_kpa: 400 })).toEqual([]);
  });
});

describe("line temperatures", () => {
  // R-134a saturates at 0 °C at 292.80 kPa and at 50 °C at 1317.9 kPa (Tillner-Roth and Baehr 1994).
  const lines = { refrigerant: "R-134a", ambient_c: 30, low_kpa: 292.8, high_kpa: 1317.9 } as const;

  it("are superheat and subcooling against the saturation temperatures", () => {
    const { derived } = judged({ ...lines, suction_line_c: 8, liquid_line_c: 43 });
    expect(derived.superheat_k).toBeCloseTo(8, 1);
    expect(derived.subcooling_k).toBeCloseTo(7, 1);
    expect(judged(lines).derived).toMatchObject({ superheat_k: null, subcooling_k: null });
  });

  it("high superheat with no subcooling makes a low charge likelier, high subcooling a restriction", () => {
    const with_lines = (liquid_line_c: number) => judged({ ...lines, suction_line_c: 24, liquid_line_c });
    expect(probability(with_lines(50), "low-charge")).toBeGreaterThan(probability(judged(lines), "low-charge"));
    expect(probability(with_lines(30), "restriction")).toBeGreaterThan(probability(judged(lines), "restriction"));
  });

  it("that cannot be are reported and not used", () => {
    const answer = judged({ ...lines, suction_line_c: -9, liquid_line_c: 60 });
    expect(answer.problems.map(({ code }) => code)).toEqual(["line-under-evaporating", "line-over-condensing"]);
    expect(answer.findings).toEqual(judged(lines).findings);
  });
});

describe("what is not evidence", () => {
  it("a vent hotter than the day: the heater or a blend door, not the refrigerant", () => {
    const answer = judged({ refrigerant: "R-134a", ambient_c: 25, vent_c: 38 });
    expect(answer.problems.map(({ code }) => code)).toEqual(["vent-over-ambient"]);
    for (const id of FINDING_IDS) expect(probability(answer, id)).toBeCloseTo(findingPriors[id].share, 12);
  });

  it("the clutch of an electric compressor, and bubbles without a sight glass", () => {
    const at: Readings = { refrigerant: "R-134a", ambient_c: 30, low_kpa: 300, high_kpa: 1500 };
    const same = (one: Readings, other: Readings) => {
      for (const id of FINDING_IDS) expect(probability(judged(one), id)).toBeCloseTo(probability(judged(other), id), 9);
    };
    same({ ...at, compressor: "electric", clutch: "cycles-fast" }, { ...at, compressor: "electric" });
    same({ ...at, metering: "orifice-tube", sight_glass: "bubbles" }, { ...at, metering: "orifice-tube" });
  });
});

describe("engine speed", () => {
  // 21 psi at 35 °C: low by a maker's idle chart (33 to 41 psi), normal by other makers' at 1500 rpm (21 to 36 psi).
  it("tells which chart holds", () => {
    const at = (engine_rpm: number | null) =>
      probability(
        judged({ refrigerant: "R-134a", ambient_c: 35, low_kpa: 246, high_kpa: 1500, engine_rpm }),
        "low-charge",
      );
    expect(at(750)).toBeGreaterThan(at(null));
    expect(at(1500)).toBeLessThan(at(null));
  });
});

describe("the next reading", () => {
  it("names two causes that are both believed, likelier first", () => {
    const { next, findings } = judged({ refrigerant: "R-134a", ambient_c: 30, low_kpa: 205, high_kpa: 1100 });
    for (const { tells_apart } of next) {
      const [one, other] = tells_apart.map((id) => findings.findIndex((finding) => finding.id === id));
      expect(one).toBeLessThan(other!);
    }
    expect(next.find(({ reading }) => reading === "static")?.tells_apart).toContain("nearly-empty");
  });
});

describe("static pressure", () => {
  it.each([
    [0.84, "no-liquid"],
    [0.86, "liquid"],
    [1, "liquid"],
    [1.09, "liquid"],
    [1.11, "above"],
  ] as const)("at %d of saturation is %s", (ratio, state) => {
    const static_kpa = ratio * saturationPressureKpa("R-1234yf", 25);
    expect(judged({ refrigerant: "R-1234yf", ambient_c: 25, static_kpa }).static?.state).toBe(state);
  });

  it("well above saturation names the temperature at which it would be saturation", () => {
    const static_kpa = saturationPressureKpa("R-134a", 41);
    const answer = judged({ refrigerant: "R-134a", ambient_c: 25, static_kpa });
    expect(answer.static).toMatchObject({ state: "above" });
    expect(answer.static?.saturated_at_c).toBeCloseTo(41, 9);
    expect(answer.findings[0]!.id === "air" || probability(answer, "air") > 3 * findingPriors.air.share).toBe(true);
  });

  it("without a nameplate charge gives no grams", () => {
    expect(judged({ refrigerant: "R-134a", ambient_c: 25, static_kpa: 200 }).static?.grams).toBeNull();
  });
});

describe("the table", () => {
  it("priors and rows are shares that add up to 1, none of them 0", () => {
    expect(FINDING_IDS.reduce((sum, id) => sum + findingPriors[id].share, 0)).toBeCloseTo(1, 12);
    for (const feature of FEATURE_IDS) {
      const { bands, rows } = features[feature];
      for (const id of FINDING_IDS) {
        const { shares, why } = rows[id];
        expect(shares, `${feature} ${id}`).toHaveLength(bands.length);
        expect(
          shares.reduce((sum, share) => sum + share, 0),
          `${feature} ${id}`,
        ).toBeCloseTo(1, 9);
        expect(Math.min(...shares), `${feature} ${id}`).toBeGreaterThan(0);
        expect(why).not.toBe("");
      }
    }
  });

  // Field study 2016 (MACS): 53 % of poor-cooling complaints are low charge, 23.5 % component failure.
  it("priors keep the field study's shares", () => {
    const share = (...ids: FindingId[]) => ids.reduce((sum, id) => sum + findingPriors[id].share, 0);
    expect(share("low-charge", "nearly-empty")).toBeCloseTo(0.53, 9);
    expect(share("airflow", "not-pumping", "restriction", "valve-open")).toBeCloseTo(0.235, 9);
  });

  it("static rows rise against nearly-empty's from band to band", () => {
    const empty = features.static.rows["nearly-empty"].shares;
    for (const id of FINDING_IDS) {
      const ratios = features.static.rows[id].shares.map((share, band) => share / empty[band]!);
      expect(ratios, id).toEqual(ratios.toSorted((a, b) => a - b));
    }
    expect(features.static.bands).toHaveLength(bandLines.static.lines.length + 1);
  });
});

describe("expectedGainBits", () => {
  const belief = FINDING_IDS.map((id) => findingPriors[id].share);

  it("is 0 for a row that is flat, as on a cold day", () => {
    expect(expectedGainBits(belief, ["high"], 0)).toBeCloseTo(0, 9);
  });

  it("is 0 when one finding is certain", () => {
    expect(
      expectedGainBits(
        FINDING_IDS.map((_, i) => (i === 0 ? 1 : 0)),
        ["low"],
        25,
      ),
    ).toBeCloseTo(0, 12);
  });

  // Mutual information, written out once more: Σ p(f) p(b|f) log2(p(b|f)/p(b)), Cover and Thomas, eq. 2.28.
  it("equals the mutual information of finding and band", () => {
    const rows = rowsAt("vent", 25);
    const bands = rows[0]!.map((_, band) => rows.reduce((sum, row, i) => sum + belief[i]! * row[band]!, 0));
    let information = 0;
    rows.forEach((row, i) => {
      row.forEach((share, band) => {
        information += belief[i]! * share * Math.log2(share / bands[band]!);
      });
    });
    expect(expectedGainBits(belief, ["vent"], 25)).toBeCloseTo(information, 12);
  });

  it("is never negative, and more readings never tell less", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.001, max: 1, noNaN: true }), {
          minLength: FINDING_IDS.length,
          maxLength: FINDING_IDS.length,
        }),
        fc.constantFrom(...FEATURE_IDS),
        fc.constantFrom(...FEATURE_IDS),
        (weights, one, other) => {
          const total = weights.reduce((sum, weight) => sum + weight, 0);
          const any = weights.map((weight) => weight / total);
          expect(expectedGainBits(any, [one], 25)).toBeGreaterThanOrEqual(0);
          expect(expectedGainBits(any, [one, other], 25)).toBeGreaterThanOrEqual(
            expectedGainBits(any, [one], 25) - 1e-9,
          );
        },
      ),
    );
  });
});
