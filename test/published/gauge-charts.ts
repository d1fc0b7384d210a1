import type { ReadingsSay } from "../../src/core/question/contract.ts";
import type { FindingId, Readings } from "../../src/core/readings/readings-contract.ts";

/**
 * R-134a ambient charts and gauge patterns, as printed: °F and psi over the air around the gauge.
 * No bound is ours; where two sources give a row differently, both stand.
 */

export interface ChartRow {
  chart: string;
  ambient_f: number;
  low_psig: readonly [number, number];
  high_psig: readonly [number, number];
}

const TRADE = "generic trade chart (common practice, no source; the 65 °F row also in a trade page seen in 2026)";
const TRADE_PAGE = "generic trade chart as a trade page seen in 2026 prints it";
const MAKER =
  "a maker's 2010 factory manual, A/C test readings: RH 50–70 %, idle, fan max, recirculating, after 10 min";

export const AMBIENT_CHARTS: readonly ChartRow[] = [
  { chart: TRADE, ambient_f: 65, low_psig: [25, 35], high_psig: [135, 155] },
  { chart: TRADE, ambient_f: 70, low_psig: [35, 40], high_psig: [145, 160] },
  { chart: TRADE_PAGE, ambient_f: 70, low_psig: [35, 40], high_psig: [145, 165] },
  { chart: TRADE, ambient_f: 75, low_psig: [35, 45], high_psig: [150, 170] },
  { chart: TRADE_PAGE, ambient_f: 75, low_psig: [40, 45], high_psig: [150, 170] },
  { chart: TRADE, ambient_f: 77, low_psig: [35, 45], high_psig: [150, 170] },
  { chart: TRADE, ambient_f: 80, low_psig: [40, 50], high_psig: [175, 210] },
  { chart: TRADE, ambient_f: 85, low_psig: [45, 55], high_psig: [225, 250] },
  { chart: TRADE, ambient_f: 90, low_psig: [45, 55], high_psig: [250, 270] },
  { chart: TRADE, ambient_f: 95, low_psig: [50, 55], high_psig: [275, 300] },
  { chart: TRADE, ambient_f: 100, low_psig: [50, 55], high_psig: [315, 325] },
  { chart: TRADE, ambient_f: 105, low_psig: [50, 55], high_psig: [330, 335] },
  { chart: TRADE, ambient_f: 110, low_psig: [50, 55], high_psig: [340, 345] },
  { chart: MAKER, ambient_f: 77, low_psig: [24.8, 30.3], high_psig: [174.6, 213.3] },
  { chart: MAKER, ambient_f: 86, low_psig: [28.4, 34.8], high_psig: [188.5, 230.6] },
  { chart: MAKER, ambient_f: 95, low_psig: [33.2, 40.6], high_psig: [217.5, 263.9] },
  { chart: MAKER, ambient_f: 104, low_psig: [42.3, 51.8], high_psig: [271.2, 331.3] },
];

export interface VentRow {
  chart: string;
  ambient_f: number;
  humidity_percent: readonly [number, number];
  vent_f: readonly [number, number];
}

/** The same maker's vent table: intake air, relative humidity, vent air of a sound system. */
export const VENT_CHART: readonly VentRow[] = [
  { chart: MAKER, ambient_f: 68, humidity_percent: [50, 60], vent_f: [43, 46] },
  { chart: MAKER, ambient_f: 77, humidity_percent: [50, 60], vent_f: [47, 52] },
  { chart: MAKER, ambient_f: 86, humidity_percent: [50, 60], vent_f: [58, 64] },
  { chart: MAKER, ambient_f: 68, humidity_percent: [60, 70], vent_f: [45, 48] },
  { chart: MAKER, ambient_f: 77, humidity_percent: [60, 70], vent_f: [52, 57] },
  { chart: MAKER, ambient_f: 86, humidity_percent: [60, 70], vent_f: [64, 69] },
];

/** Rules of the trade about vent air; common practice, no source. */
export const VENT_RULES: readonly { rule: string; ambient_f: number; vent_f: readonly [number, number] }[] = [
  { rule: "45–55 °F on a 75 °F day", ambient_f: 75, vent_f: [45, 55] },
  { rule: "20–30 °F below ambient, on a 90 °F day", ambient_f: 90, vent_f: [60, 70] },
  { rule: "40–50 °F is good, on an 85 °F day", ambient_f: 85, vent_f: [40, 50] },
  { rule: "about 55 °F is expected near 120 °F", ambient_f: 120, vent_f: [55, 55] },
];

/** R-134a at saturation, psi over the air: a manufacturer's 1998 table "Pressure-Temperature Relationship". */
export const STATIC_CHART: readonly (readonly [ambient_f: number, static_psig: number])[] = [
  [65, 64],
  [70, 71],
  [75, 79],
  [80, 87],
  [85, 95],
  [90, 104],
  [95, 114],
  [100, 124],
  [110, 147],
];

export interface PatternRow {
  pattern: string;
  source: string;
  finding: FindingId;
  /** Whether the pattern itself settles that charge is low, or is not; without it, only that it is not called low. */
  says?: ReadingsSay;
  /** The pressures stand for the pattern's words ("low", "high") at each of these ambients; psi over the air. */
  at: readonly { ambient_f: number; low_psig?: number; high_psig?: number; static_psig?: number }[];
  also?: Pick<Readings, "clutch" | "fan" | "condenser" | "more_air">;
}

const TRAINING = "trade training text T-22/8, seen in 2026";
const PRACTICE = "common practice, no source";

/** "Low" and "high" are read so that one side at least stands well outside every chart at that ambient. */
export const PATTERNS: readonly PatternRow[] = [
  {
    pattern: "low side low, high side low: undercharge",
    source: TRAINING,
    finding: "low-charge",
    says: "low",
    at: [
      { ambient_f: 65, low_psig: 10, high_psig: 80 },
      { ambient_f: 75, low_psig: 12, high_psig: 100 },
      { ambient_f: 85, low_psig: 15, high_psig: 120 },
      { ambient_f: 95, low_psig: 20, high_psig: 150 },
      { ambient_f: 110, low_psig: 12, high_psig: 190 },
    ],
  },
  {
    pattern: "low side high, high side high: poor heat rejection at the condenser first",
    source: `${TRAINING}; overcharge and air after it: ${PRACTICE}`,
    finding: "airflow",
    says: "not-low",
    at: [
      { ambient_f: 65, low_psig: 60, high_psig: 250 },
      { ambient_f: 75, low_psig: 65, high_psig: 290 },
      { ambient_f: 85, low_psig: 75, high_psig: 350 },
      { ambient_f: 95, low_psig: 80, high_psig: 400 },
      { ambient_f: 110, low_psig: 85, high_psig: 450 },
    ],
  },
  {
    pattern: "low side high, high side low, tending to equal: compressor not pumping",
    source: TRAINING,
    finding: "not-pumping",
    at: [
      { ambient_f: 65, low_psig: 55, high_psig: 80 },
      { ambient_f: 75, low_psig: 65, high_psig: 90 },
      { ambient_f: 85, low_psig: 75, high_psig: 110 },
      { ambient_f: 95, low_psig: 85, high_psig: 125 },
      { ambient_f: 110, low_psig: 95, high_psig: 150 },
    ],
  },
  {
    pattern: "low side low to vacuum, high side high: restriction",
    source: TRAINING,
    finding: "restriction",
    at: [
      { ambient_f: 65, low_psig: -5, high_psig: 230 },
      { ambient_f: 75, low_psig: -5, high_psig: 270 },
      { ambient_f: 85, low_psig: -5, high_psig: 320 },
      { ambient_f: 95, low_psig: 0, high_psig: 370 },
      { ambient_f: 110, low_psig: 0, high_psig: 430 },
      { ambient_f: 85, low_psig: 10, high_psig: 320 },
      { ambient_f: 95, low_psig: 12, high_psig: 370 },
    ],
  },
  {
    pattern: "low side very low, high side normal: restriction",
    source: PRACTICE,
    finding: "restriction",
    at: [
      { ambient_f: 75, low_psig: -5, high_psig: 170 },
      { ambient_f: 85, low_psig: -5, high_psig: 225 },
      { ambient_f: 95, low_psig: -5, high_psig: 270 },
    ],
  },
  {
    pattern: "both sides equal with the engine running: compressor or clutch not driven",
    source: PRACTICE,
    finding: "not-pumping",
    at: [
      { ambient_f: 70, low_psig: 71, high_psig: 71, static_psig: 71 },
      { ambient_f: 85, low_psig: 95, high_psig: 95, static_psig: 95 },
      { ambient_f: 100, low_psig: 124, high_psig: 124, static_psig: 124 },
    ],
  },
  {
    pattern: "both sides nearly equal while running, 70–80 psi: compressor not pumping",
    source: PRACTICE,
    finding: "not-pumping",
    at: [
      { ambient_f: 75, low_psig: 70, high_psig: 80 },
      { ambient_f: 85, low_psig: 70, high_psig: 80 },
      { ambient_f: 95, low_psig: 75, high_psig: 80 },
    ],
  },
  {
    pattern: "normal, high side high only at idle and falling with road speed: fan or condenser airflow",
    source: PRACTICE,
    finding: "airflow",
    says: "not-low",
    at: [
      { ambient_f: 75, low_psig: 40, high_psig: 270 },
      { ambient_f: 85, low_psig: 50, high_psig: 330 },
      { ambient_f: 95, low_psig: 52, high_psig: 380 },
    ],
    also: { more_air: "drops" },
  },
  {
    pattern: "cycling fast, low side low: low-pressure cut-out, undercharge",
    source: "trade page seen in 2026",
    finding: "low-charge",
    says: "low",
    at: [
      { ambient_f: 75, low_psig: 12 },
      { ambient_f: 85, low_psig: 15 },
      { ambient_f: 95, low_psig: 18 },
    ],
    also: { clutch: "cycles-fast" },
  },
  {
    pattern: "very high high side at idle, cycling fast: blocked condenser trips the high-pressure switch",
    source: PRACTICE,
    finding: "airflow",
    says: "not-low",
    at: [
      { ambient_f: 85, low_psig: 60, high_psig: 420 },
      { ambient_f: 95, low_psig: 65, high_psig: 450 },
    ],
    also: { clutch: "cycles-fast" },
  },
];

/** Running low side of a good R-134a charge; common practice, no source. */
export const LOW_SIDE_RULES: readonly { rule: string; ambient_f: number; low_psig: readonly [number, number] }[] = [
  { rule: "about 30–40 psi in moderate heat", ambient_f: 77, low_psig: [30, 40] },
  { rule: "just under 40 psi near 85 °F", ambient_f: 85, low_psig: [38, 39.5] },
  { rule: "about 50–55 psi near 100 °F", ambient_f: 100, low_psig: [50, 55] },
];
