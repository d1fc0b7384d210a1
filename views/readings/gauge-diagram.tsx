import { ATMOSPHERE_KPA, pressureFromKpa } from "../../src/core/quantities/units.ts";
import type { ExpectedRunning, Range, Readings } from "../../src/core/readings/readings-contract.ts";
import { capitalized } from "../words/in-sentence.ts";
import { GAUGE_NAMES } from "./readings-fields.ts";
import { type GaugeStyle, saidPressure, saidPressures } from "./said-readings.ts";

interface GaugeDiagramProps {
  readings: Readings;
  expected: ExpectedRunning;
  gaugeStyle: GaugeStyle;
  /** Today's ambient temperature in words. */
  ambient: string;
}

const WIDTH = 360;
const HEIGHT = 300;
const PLOT = { left: 48, right: 350, top: 12, bottom: 254 };

/**
 * Low side against high side: the region of a well-charged system on this day, what the corners around it usually mean,
 * and the pair that was read. One gauge alone is a line.
 */
export function GaugeDiagram({ readings, expected, gaugeStyle, ambient }: GaugeDiagramProps) {
  const x = axis(expected.low_kpa, readings.low_kpa ?? null, 2.3, gaugeStyle, PLOT.left, PLOT.right);
  const y = axis(expected.high_kpa, readings.high_kpa ?? null, 1.5, gaugeStyle, PLOT.bottom, PLOT.top);
  const region = {
    left: x.at(expected.low_kpa.from),
    right: x.at(expected.low_kpa.to),
    top: y.at(expected.high_kpa.to),
    bottom: y.at(expected.high_kpa.from),
  };
  return (
    <figure class="gauge-figure">
      <figcaption>
        <h3 class="chart-title">{diagramTitle(readings, expected)}</h3>
        <p>
          {saidPair(readings, gaugeStyle)} At {ambient} a fully charged system reads{" "}
          {saidPressures(gaugeStyle, expected.low_kpa)} on the low side and{" "}
          {saidPressures(gaugeStyle, expected.high_kpa)} on the high side.
        </p>
      </figcaption>
      <svg class="gauge-diagram" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} aria-hidden="true" focusable="false">
        <Scales x={x} y={y} unit={GAUGE_NAMES[gaugeStyle.gauge]} />
        <rect
          class="gauge-region"
          x={region.left}
          y={region.top}
          width={region.right - region.left}
          height={region.bottom - region.top}
        />
        <path class="gauge-frame" d={`M${PLOT.left} ${PLOT.top}V${PLOT.bottom}H${PLOT.right}`} />
        <Read readings={readings} x={x} y={y} />
        <text
          class="gauge-region-name"
          x={(region.left + region.right) / 2}
          y={(region.top + region.bottom) / 2 + 4}
          text-anchor="middle"
        >
          normal
        </text>
        <text class="gauge-corner" x={PLOT.left + 6} y={PLOT.top + 15}>
          restriction
        </text>
        <text class="gauge-corner" x={PLOT.right - 4} y={PLOT.top + 15} text-anchor="end">
          airflow, overcharge, air
        </text>
        <text class="gauge-corner" x={PLOT.left + 6} y={PLOT.bottom - 8}>
          low charge, ice
        </text>
        <text class="gauge-corner" x={PLOT.right - 4} y={PLOT.bottom - 8} text-anchor="end">
          not pumping
        </text>
      </svg>
    </figure>
  );
}

interface Axes {
  x: Axis;
  y: Axis;
}

/** The grid with its numbers, and the names of both sides. */
function Scales({ x, y, unit }: Axes & { unit: string }) {
  return (
    <>
      {x.ticks.map(({ at, label }) => (
        <>
          <path class="gauge-grid" d={`M${at} ${PLOT.top}V${PLOT.bottom}`} />
          <text class="gauge-number" x={at} y={PLOT.bottom + 17} text-anchor="middle">
            {label}
          </text>
        </>
      ))}
      {y.ticks.map(({ at, label }) => (
        <>
          <path class="gauge-grid" d={`M${PLOT.left} ${at}H${PLOT.right}`} />
          <text class="gauge-number" x={PLOT.left - 7} y={at + 4} text-anchor="end">
            {label}
          </text>
        </>
      ))}
      <text class="gauge-name" x={PLOT.right} y={HEIGHT - 8} text-anchor="end">
        low side, {unit}
      </text>
      <text class="gauge-name" transform={`translate(12 ${PLOT.top}) rotate(-90)`} text-anchor="end">
        high side, {unit}
      </text>
    </>
  );
}

/** What was read: a point, or a line where one gauge alone was. */
function Read({ readings: { low_kpa, high_kpa }, x, y }: Axes & { readings: Readings }) {
  return (
    <>
      {low_kpa != null && (
        <path
          class="gauge-read"
          d={`M${x.at(low_kpa)} ${PLOT.bottom}V${high_kpa == null ? PLOT.top : y.at(high_kpa)}`}
        />
      )}
      {high_kpa != null && (
        <path
          class="gauge-read"
          d={`M${PLOT.left} ${y.at(high_kpa)}H${low_kpa == null ? PLOT.right : x.at(low_kpa)}`}
        />
      )}
      {low_kpa != null && high_kpa != null && (
        <circle class="gauge-point" cx={x.at(low_kpa)} cy={y.at(high_kpa)} r={4} />
      )}
    </>
  );
}

function diagramTitle({ low_kpa, high_kpa }: Readings, expected: ExpectedRunning): string {
  const place = (kpa: number | null | undefined, { from, to }: Range) =>
    kpa == null ? null : kpa < from ? "below" : kpa > to ? "above" : "inside";
  const [low, high] = [place(low_kpa, expected.low_kpa), place(high_kpa, expected.high_kpa)];
  if (low !== null && high !== null) {
    if (low === "inside" && high === "inside") return "Both pressures are normal";
    if (low === high) return `Both pressures are ${low} normal`;
  }
  const said = (side: string, at: string | null) =>
    at === null ? null : `${side} side ${at === "inside" ? "normal" : `${at} normal`}`;
  const parts = [said("low", low), said("high", high)].filter((part) => part !== null);
  if (parts.length === 0) return "Where a fully charged system reads today";
  const sentence = parts.join(", ");
  return capitalized(sentence);
}

function saidPair({ low_kpa, high_kpa }: Readings, gaugeStyle: GaugeStyle): string {
  if (low_kpa != null && high_kpa != null)
    return `You read ${saidPressure(gaugeStyle, low_kpa)} on the low side and ${saidPressure(gaugeStyle, high_kpa)} on the high side.`;
  if (low_kpa != null) return `You read ${saidPressure(gaugeStyle, low_kpa)} on the low side, and no high side.`;
  if (high_kpa != null) return `You read ${saidPressure(gaugeStyle, high_kpa)} on the high side, and no low side.`;
  return "";
}

interface Axis {
  /** Where a pressure lies, in px. */
  at: (kpa: number) => number;
  ticks: { at: number; label: string }[];
}

/** A straight scale in the gauge's own unit, from its zero (or a vacuum that was read) to beyond region and reading. */
function axis(
  region: Range,
  read_kpa: number | null,
  room: number,
  { gauge, atmosphere_kpa = ATMOSPHERE_KPA }: GaugeStyle,
  start: number,
  end: number,
): Axis {
  const value = (kpa: number) => pressureFromKpa(kpa, gauge, atmosphere_kpa);
  const zero = value(atmosphere_kpa);
  const first = Math.min(zero, read_kpa === null ? zero : value(read_kpa) * 1.05);
  const last = Math.max(zero + (value(region.to) - zero) * room, read_kpa === null ? 0 : value(read_kpa) * 1.08);
  const scale = (v: number) => round(start + ((v - first) / (last - first)) * (end - start));
  const step = niceStep((last - first) / 5);
  const ticks = [];
  for (let v = Math.ceil(first / step) * step; v <= last; v += step) {
    ticks.push({ at: scale(v), label: String(Number(v.toPrecision(6))).replace("-", "−") });
  }
  return { at: (kpa: number) => scale(value(kpa)), ticks };
}

/** The 1, 2 or 5 times a power of ten next above `rough`. */
function niceStep(rough: number): number {
  const power = 10 ** Math.floor(Math.log10(rough));
  return power * ([1, 2, 5, 10].find((times) => times * power >= rough) ?? 10);
}

function round(pixels: number): number {
  return Math.round(pixels * 10) / 10;
}
