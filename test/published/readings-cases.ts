import { celsiusFromFahrenheit, kpaFromPressure } from "../../src/core/quantities/units.ts";
import type { ReadingsSay } from "../../src/core/question/contract.ts";
import type { FindingId, Readings } from "../../src/core/readings/readings-contract.ts";
import { atmosphereKpa } from "../../src/core/refrigerant/atmosphere.ts";
import { AMBIENT_CHARTS } from "./gauge-charts.ts";

/**
 * Gauge readings with what is the matter, as manuals print them. `sets`: the table set a parameter of
 * `data/readings-table.ts`; `tests`: it set none; `constructed`: nobody measured it, the numbers stand for the words of
 * a manual or of the trade, and some of them set shares of the table.
 */
export type Role = "sets" | "tests" | "constructed";

/** What is the matter, as coarsely as manuals tell it. */
export const TROUBLES = [
  "normal",
  "low",
  "overcharge or airflow",
  "air",
  "restriction",
  "valve open",
  "compressor",
  "evaporator",
  "blend door",
  "cannot tell",
] as const;
export type Trouble = (typeof TROUBLES)[number];

export interface PublishedCase {
  what: string;
  source: string;
  role: Role;
  trouble: Trouble;
  readings: Readings;
}

/** The findings that name each trouble. */
export const NAMES: Readonly<Record<Trouble, readonly (FindingId | "undecided")[]>> = {
  normal: ["normal", "undecided"],
  low: ["low-charge", "nearly-empty"],
  "overcharge or airflow": ["overcharge", "airflow", "air", "undecided"],
  air: ["air", "overcharge", "airflow", "mixed", "undecided"],
  restriction: ["restriction", "undecided"],
  "valve open": ["valve-open", "overcharge", "airflow", "air", "mixed", "undecided"],
  compressor: ["not-pumping", "undecided"],
  evaporator: ["evaporator-airflow", "undecided"],
  "blend door": ["normal", "undecided"],
  "cannot tell": ["undecided"],
};

export const MAY_SAY: Readonly<Record<Trouble, readonly ReadingsSay[]>> = {
  normal: ["not-low", "undecided"],
  low: ["low", "undecided"],
  "overcharge or airflow": ["not-low", "undecided"],
  air: ["not-low", "undecided"],
  restriction: ["not-low", "undecided"],
  "valve open": ["not-low", "undecided"],
  compressor: ["not-low", "undecided"],
  evaporator: ["not-low", "undecided"],
  "blend door": ["not-low", "undecided"],
  "cannot tell": ["undecided"],
};

const psi = (reading: number) => kpaFromPressure(reading, "psi-gauge");
const mpa = (reading: number) => kpaFromPressure(reading * 1000, "kPa-gauge");
/** kgf/cm²: 98.0665 kPa, by definition of the kilogram-force. */
const kgf = (reading: number) => kpaFromPressure(reading * 98.0665, "kPa-gauge");
/** Vacuum, mmHg: 133.322 Pa each (NIST SP 811, appendix B). */
const mmhg = (vacuum: number) => kpaFromPressure(-vacuum * 0.133322, "kPa-gauge");

type Pair = readonly [number, number];

/** Middle and corners of a printed range. */
function range(
  row: Omit<PublishedCase, "what" | "readings"> & { what: string },
  at: Readings,
  low: Pair,
  high: Pair,
  unit: (reading: number) => number,
): PublishedCase[] {
  const middle = ([from, to]: Pair) => (from + to) / 2;
  const places: [string, number, number][] = [
    ["middle", middle(low), middle(high)],
    ...low.flatMap((l) => high.map((h): [string, number, number] => [`${l}/${h}`, l, h])),
  ];
  return places.map(([place, l, h]) => ({
    ...row,
    what: `${row.what}, ${place}`,
    readings: { ...at, low_kpa: unit(l), high_kpa: unit(h) },
  }));
}

const at = (ambient_c: number, others: Partial<Readings> = {}): Readings => ({
  refrigerant: "R-134a",
  ambient_c,
  ...others,
});

const ARMY_LOADER =
  "US Army TM 5-3805-291-23-1, WP 0018, table 1 Pressure Range, R-134a, expansion valve and orifice tube, 1000 rpm";
/** °F, psi. The high side's lower bounds set where the condensing region begins; the low side sets nothing. */
const ARMY_TABLE: readonly (readonly [ambient_f: number, low: Pair, high: Pair])[] = [
  [70, [10, 20], [120, 190]],
  [80, [10, 25], [140, 210]],
  [90, [15, 30], [170, 240]],
  [100, [15, 30], [190, 270]],
  [110, [15, 30], [210, 300]],
];

const MAKER_2005 =
  "makers' manuals 2005–2015 (cars and a hybrid): inlet air 30 to 35 °C, fan high, doors open, 1500 rpm";
const MAKER_SUV = "a maker's manual for a small off-road car, at idle, 30 °C ambient, fan high, doors open";
const MAKER_2004 = "a maker's 2004 manual, fault table, normal 0.23–0.35 / 1.4–1.75 MPa at idle, 25 to 35 °C";
const MAKER_1998 = "a maker's machine manual about 1998, fault table in kg/cm² and mmHg, normal 1.5–3.3 / 13–19 kg/cm²";
const MAKER_1991 = "a maker's 1991 manual, R-12: 15–30 psi; 210–230 psi at 100 °F";
const COMPRESSOR_MAKER = "a bus compressor maker's manual: 30 to 35 °C, 1500 rpm, both low has six causes";
const TRAINING = "trade training text T-22/8, seen in 2026";
const PRACTICE = "common practice, no source";

const from_charts: PublishedCase[] = AMBIENT_CHARTS.flatMap(({ chart, ambient_f, low_psig, high_psig }) =>
  range(
    { what: `normal at ${ambient_f} °F`, source: chart, role: "sets", trouble: "normal" },
    at(celsiusFromFahrenheit(ambient_f)),
    low_psig,
    high_psig,
    psi,
  ),
);

const army: PublishedCase[] = ARMY_TABLE.flatMap(([ambient_f, low, high]) =>
  [null, 1000].flatMap((engine_rpm) =>
    range(
      {
        what: `normal at ${ambient_f} °F${engine_rpm === null ? "" : ", speed known"}`,
        source: ARMY_LOADER,
        role: "sets",
        trouble: "normal",
      },
      at(celsiusFromFahrenheit(ambient_f), { engine_rpm }),
      low,
      high,
      psi,
    ),
  ),
);

const makers: PublishedCase[] = [
  ...[30, 32.5, 35].flatMap((ambient_c) =>
    [null, 1500].flatMap((engine_rpm) =>
      range(
        { what: `normal at ${ambient_c} °C`, source: MAKER_2005, role: "tests", trouble: "normal" },
        at(ambient_c, { engine_rpm }),
        [0.15, 0.25],
        [1.37, 1.57],
        mpa,
      ),
    ),
  ),
  ...range(
    { what: "normal, hybrid", source: MAKER_2005, role: "tests", trouble: "normal" },
    at(32.5, { compressor: "electric" }),
    [0.15, 0.25],
    [1.37, 1.57],
    mpa,
  ),
  ...range(
    { what: "normal at idle, gasoline engine", source: MAKER_SUV, role: "tests", trouble: "normal" },
    at(30, { engine_rpm: 800 }),
    [0.29, 0.39],
    [1.48, 1.82],
    mpa,
  ),
  ...range(
    { what: "normal at idle, diesel engine", source: MAKER_SUV, role: "tests", trouble: "normal" },
    at(30, { engine_rpm: 800 }),
    [0.23, 0.35],
    [1.4, 1.75],
    mpa,
  ),
  ...range(
    { what: "normal", source: MAKER_2004, role: "tests", trouble: "normal" },
    at(30),
    [0.23, 0.35],
    [1.4, 1.75],
    mpa,
  ),
  ...range(
    { what: "normal, R-12 at 100 °F", source: MAKER_1991, role: "tests", trouble: "normal" },
    { refrigerant: "R-12", ambient_c: celsiusFromFahrenheit(100) },
    [15, 30],
    [210, 230],
    psi,
  ),
  ...range({ what: "normal", source: MAKER_1998, role: "tests", trouble: "normal" }, at(30), [1.5, 3.3], [13, 19], kgf),
];

const faults: PublishedCase[] = [
  ...range(
    { what: "insufficient refrigerant, bubbles", source: MAKER_2004, role: "tests", trouble: "low" },
    at(30, { sight_glass: "bubbles" }),
    [0.05, 0.15],
    [0.7, 1.0],
    mpa,
  ),
  {
    what: "insufficient refrigerant, gauges alone",
    source: MAKER_2004,
    role: "tests",
    trouble: "low",
    readings: at(30, { low_kpa: mpa(0.1), high_kpa: mpa(0.85) }),
  },
  ...range(
    {
      what: "overcharged, or condenser not cooled",
      source: MAKER_2004,
      role: "tests",
      trouble: "overcharge or airflow",
    },
    at(30),
    [0.35, 0.45],
    [2.0, 2.5],
    mpa,
  ),
  ...[0.7, 1.0].map(
    (high): PublishedCase => ({
      what: `moisture frozen at the valve, vacuum and ${high} MPa`,
      source: MAKER_2004,
      role: "tests",
      trouble: "restriction",
      readings: at(30, { low_kpa: mpa(-0.05), high_kpa: mpa(high) }),
    }),
  ),
  ...[0.4, 0.5, 0.6].map(
    (low): PublishedCase => ({
      what: `internal leak in the compressor, low side ${low} MPa, equal at once`,
      source: MAKER_2004,
      role: "tests",
      trouble: "compressor",
      readings: at(30, { low_kpa: mpa(low), equalizing_s: 20 }),
    }),
  ),
  ...range(
    { what: "air in the system", source: MAKER_1998, role: "tests", trouble: "air" },
    at(30),
    [2.5, 3.5],
    [20, 25],
    kgf,
  ),
  {
    what: "refrigerant does not circulate: full vacuum, 6 kg/cm²",
    source: MAKER_1998,
    role: "tests",
    trouble: "restriction",
    readings: at(30, { low_kpa: mmhg(720), high_kpa: kgf(6) }),
  },
  ...[6, 12, 18].map(
    (high): PublishedCase => ({
      what: `valve iced up: 500 mmHg of vacuum, ${high} kg/cm²`,
      source: MAKER_1998,
      role: "tests",
      trouble: "restriction",
      readings: at(30, { low_kpa: mmhg(500), high_kpa: kgf(high) }),
    }),
  ),
  ...[22, 23].map(
    (high): PublishedCase => ({
      what: `defective expansion valve: 2.5/${high} kg/cm²`,
      source: MAKER_1998,
      role: "tests",
      trouble: "valve open",
      readings: at(30, { low_kpa: kgf(2.5), high_kpa: kgf(high) }),
    }),
  ),
  {
    what: "both low, gauges alone: charge, drier, valve, bulb, ice or a crushed pipe",
    source: COMPRESSOR_MAKER,
    role: "tests",
    trouble: "cannot tell",
    readings: at(32, { low_kpa: mpa(0.03), high_kpa: mpa(0.9) }),
  },
];

const made = (trouble: Trouble, what: string, source: string, readings: Readings): PublishedCase => ({
  trouble,
  what,
  source,
  readings,
  role: "constructed",
});

const psis = (ambient_c: number, low: number | null, high: number | null, others: Partial<Readings> = {}): Readings =>
  at(ambient_c, {
    low_kpa: low === null ? null : psi(low),
    high_kpa: high === null ? null : psi(high),
    ...others,
  });

/** Gauge pressures at an altitude: the gauge's zero is the thinner air there. */
const high_up = (altitude_m: number, ambient_c: number, low: number, high: number): Readings =>
  at(ambient_c, {
    altitude_m,
    low_kpa: kpaFromPressure(low, "psi-gauge", atmosphereKpa(altitude_m)),
    high_kpa: kpaFromPressure(high, "psi-gauge", atmosphereKpa(altitude_m)),
    vent_c: ambient_c - 4,
  });

const VENT_ARMY = "US Army TM 9-2320-387-24-2, 14-6: 40 to 50 °F at the duct at 70 °F and low humidity, 1500 rpm";

const constructed: PublishedCase[] = [
  // Sound, with something in the way.
  made("normal", "slow blower, vent 3 °C", PRACTICE, psis(27, 20, 140, { vent_c: 3 })),
  made("normal", "clogged cabin filter, vent 4 °C", PRACTICE, psis(30, 21, 165, { vent_c: 4 })),
  ...[40, 45, 50].map(
    (vent_f): PublishedCase => ({
      what: `vent at ${vent_f} °F with the army table's middle`,
      source: `${VENT_ARMY}; pressures ${ARMY_LOADER}`,
      role: "tests",
      trouble: "normal",
      readings: psis(celsiusFromFahrenheit(70), 15, 155, {
        vent_c: celsiusFromFahrenheit(vent_f),
        humidity_percent: 30,
        engine_rpm: 1500,
      }),
    }),
  ),
  made("blend door", "normal pressures, warm vent", PRACTICE, psis(30, 35, 215, { vent_c: 24 })),
  made("blend door", "normal pressures, vent at ambient", PRACTICE, psis(30, 35, 215, { vent_c: 29 })),
  made("blend door", "vent hotter than the day", PRACTICE, psis(25, 32, 185, { vent_c: 38 })),
  // Low.
  made("low", "strong undercharge, 65 °F", TRAINING, psis(18.3, 10, 80)),
  made("low", "strong undercharge, 85 °F", TRAINING, psis(29.4, 15, 120)),
  made("low", "strong undercharge, 95 °F", TRAINING, psis(35, 20, 150)),
  made("low", "strong undercharge, weak vent", TRAINING, psis(32, 15, 125, { vent_c: 25 })),
  made("low", "strong undercharge, cycling fast", PRACTICE, psis(30, 14, 120, { clutch: "cycles-fast" })),
  made("low", "strong undercharge on a hybrid", PRACTICE, psis(32, 14, 120, { vent_c: 26, compressor: "electric" })),
  made(
    "low",
    "strong undercharge, variable stroke",
    PRACTICE,
    psis(32, 14, 120, { vent_c: 26, compressor: "variable" }),
  ),
  made("low", "strong undercharge at 1600 m", PRACTICE, high_up(1600, 30, 14, 115)),
  made("low", "strong undercharge at 3000 m", PRACTICE, high_up(3000, 28, 14, 105)),
  made("low", "strong undercharge, R-1234yf", PRACTICE, {
    refrigerant: "R-1234yf",
    ambient_c: 30,
    low_kpa: psi(17),
    high_kpa: psi(120),
    vent_c: 25,
  }),
  made("low", "strong undercharge, R-12", PRACTICE, {
    refrigerant: "R-12",
    ambient_c: 30,
    low_kpa: psi(14),
    high_kpa: psi(110),
    vent_c: 25,
  }),
  made("low", "superheat and no subcooling", PRACTICE, psis(30, 18, 130, { suction_line_c: 22, liquid_line_c: 38 })),
  made("low", "empty: nothing at rest", PRACTICE, at(30, { static_kpa: psi(20) })),
  // Both low, and not the charge.
  made("restriction", "clogged drier", COMPRESSOR_MAKER, psis(30, 8, 150)),
  made("restriction", "clogged drier, liquid at rest", COMPRESSOR_MAKER, psis(30, 8, 150, { static_kpa: 770 })),
  made("restriction", "valve stuck closed", COMPRESSOR_MAKER, psis(30, -8, 110)),
  made("restriction", "partly blocked orifice tube", PRACTICE, psis(30, 14, 185)),
  made("restriction", "partly blocked orifice tube, high side up", PRACTICE, psis(30, 10, 225)),
  made(
    "restriction",
    "superheat and subcooling",
    PRACTICE,
    psis(30, 10, 190, { suction_line_c: 20, liquid_line_c: 32 }),
  ),
  made("evaporator", "iced evaporator", COMPRESSOR_MAKER, psis(30, 12, 140)),
  made(
    "evaporator",
    "clogged filter, liquid comes back",
    PRACTICE,
    psis(30, 18, 150, { suction_line_c: -7, vent_c: 6 }),
  ),
  // High.
  made(
    "valve open",
    "valve stuck open, liquid comes back",
    PRACTICE,
    psis(30, 58, 255, { vent_c: 20, suction_line_c: 16 }),
  ),
  made("valve open", "valve stuck open, gauges and a weak vent", PRACTICE, psis(30, 70, 255, { vent_c: 24 })),
  made("compressor", "worn compressor", PRACTICE, psis(30, 60, 150)),
  made(
    "compressor",
    "worn compressor, equal in a minute",
    "US Army TM 9-2320-387-24-2, table 14-3",
    psis(30, 60, 150, { equalizing_s: 60 }),
  ),
  made("compressor", "worn compressor, weak vent", PRACTICE, psis(30, 65, 140, { vent_c: 26 })),
  made("overcharge or airflow", "fan stopped", PRACTICE, psis(30, 60, 350, { fan: "stopped" })),
  made("overcharge or airflow", "dirty condenser", PRACTICE, psis(30, 58, 330, { condenser: "dirty" })),
  made(
    "overcharge or airflow",
    "overcharge, subcooled",
    PRACTICE,
    psis(30, 55, 320, { liquid_line_c: 40, condenser: "clean" }),
  ),
  made("air", "air, static above saturation", PRACTICE, psis(25, 45, 290, { static_kpa: 820 })),
];

/** All of them. */
export const PUBLISHED_CASES: readonly PublishedCase[] = [
  ...from_charts,
  ...army,
  ...makers,
  ...faults,
  ...constructed,
];
