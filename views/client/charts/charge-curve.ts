import type { ChartConfiguration, Point, Tick } from "chart.js";
import { GRAMS_PER_OUNCE } from "../../../src/core/quantities/units.ts";
import { axis, frame } from "./frame.ts";
import { type Mark, roomForNames } from "./marks.ts";
import { faded } from "./palette.ts";
import { rowsOf, type Source } from "./source.ts";

const CURVE = ["before", "filled", "looked", "today", "forecast"];
const AHEAD = ["today", "forecast"];
/** Left of the first entry, as a share of the span, so that its mark is whole. */
const EDGE = 0.02;

/** The charge over time with its band, what was charged, the low line, today and the watch date. */
export function chargeCurve(source: Source): ChartConfiguration<"line", Point[]> {
  const { palette, settings } = source;
  const unit = settings.units === "us" ? { name: "oz", grams: GRAMS_PER_OUNCE } : { name: "g", grams: 1 };
  const rows = source.rows.filter(({ kind }) => CURVE.includes(kind));
  const points = (column: string): Point[] =>
    rows.map(({ values }) => ({ x: values.date ?? Number.NaN, y: (values[column] ?? Number.NaN) / unit.grams }));
  const first = rows[0]?.values.date ?? 0;
  const last = rows.at(-1)?.values.date ?? 1;
  const kindAt = (i: number) => rows[i]?.kind ?? "";
  const edge = { borderWidth: 0, pointRadius: 0, pointHitRadius: 0, backgroundColor: faded(palette.charge, 0.18) };
  const shared = frame(palette);
  return {
    type: "line",
    data: {
      datasets: [
        {
          label: "charge",
          data: points("mean_g"),
          borderColor: palette.charge,
          backgroundColor: palette.charge,
          borderWidth: 2.5,
          borderJoinStyle: "round",
          // Marks at the edge are drawn whole.
          clip: 8,
          pointStyle: "triangle",
          pointRadius: ({ dataIndex }) => (kindAt(dataIndex) === "filled" ? 6 : 0),
          pointHitRadius: 8,
          segment: { borderDash: ({ p0DataIndex }) => (AHEAD.includes(kindAt(p0DataIndex)) ? [5, 4] : undefined) },
        },
        { label: "likely from", data: points("p05_g"), ...edge },
        { label: "likely to", data: points("p95_g"), fill: "-1", ...edge },
      ],
    },
    options: {
      ...shared,
      layout: { padding: { top: roomForNames(2), right: 8 } },
      scales: {
        x: {
          type: "linear",
          ...axis(palette, "", false),
          min: first - (last - first) * EDGE,
          max: last,
          afterBuildTicks: (scale) => {
            scale.ticks = newYears(scale.min, scale.max);
          },
          ticks: { ...axis(palette, "").ticks, callback: (value) => String(new Date(Number(value)).getUTCFullYear()) },
        },
        y: {
          type: "linear",
          ...axis(palette, `charge, ${unit.name}`),
          beginAtZero: true,
          suggestedMax: ((rowsOf(source, "nameplate")[0]?.values.mean_g ?? 0) / unit.grams) * 1.08,
        },
      },
      plugins: {
        ...shared.plugins,
        tooltip: {
          ...shared.plugins?.tooltip,
          callbacks: {
            title: (items) => rows[items[0]?.dataIndex ?? 0]?.name ?? "",
            label: ({ dataset, parsed }) => `${dataset.label}: ${Math.round(parsed.y ?? 0)} ${unit.name}`,
          },
        },
        marks: { marks: marksOf(source, unit.grams), palette },
      },
    },
  };
}

function marksOf(source: Source, grams: number): Mark[] {
  const { palette } = source;
  const level = (kind: string, label: string, color: string, dash: number[]): Mark[] =>
    rowsOf(source, kind).map(({ values }) => ({ axis: "y", value: (values.mean_g ?? 0) / grams, label, color, dash }));
  const upright = (kind: string, label: string, color: string, dash: number[]): Mark[] =>
    rowsOf(source, kind).map(({ values }) => ({ axis: "x", value: values.date ?? 0, label, color, dash }));
  return [
    ...level("nameplate", "nameplate charge", palette["ink-soft"], [1, 3]),
    ...level("low-line", "cools weakly below", palette.careful, [6, 4]),
    ...upright("today", "today", palette["ink-soft"], []),
    ...upright("watch", "watch date", palette.ink, [2, 3]),
  ];
}

/** A tick at each New Year. */
function newYears(from: number, to: number): Tick[] {
  const first = new Date(from).getUTCFullYear() + 1;
  const last = new Date(to).getUTCFullYear();
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => ({ value: Date.UTC(first + i, 0, 1) }));
}
