import type { ChartConfiguration, ChartDataset, Point, Tick } from "chart.js";
import { GRAMS_PER_OUNCE } from "../../../src/core/quantities/units.ts";
import { axis, frame, tooltip } from "./frame.ts";
import { type Mark, roomForNames } from "./marks.ts";
import { faded, type Palette } from "./palette.ts";
import { rowsOf, type Source } from "./source.ts";
import type { Row } from "./table.ts";

const PAST = ["before", "filled", "looked", "today"];
/** Left of the first entry, as a share of the span, so that its mark is whole. */
const EDGE = 0.02;

/** What is drawn, from the table. */
interface Story {
  unit: { name: string; grams: number };
  /** The past, then the years ahead as advised; without advice, as they come. */
  rows: Row[];
  /** Number of rows of the past. */
  past: number;
  /** From today on, if nothing is added. */
  idle: Row[];
  is_advised: boolean;
  points: (rows: readonly Row[], column: string) => Point[];
}

function storyOf(source: Source): Story {
  const unit = source.settings.units === "us" ? { name: "oz", grams: GRAMS_PER_OUNCE } : { name: "g", grams: 1 };
  const past = source.rows.filter(({ kind }) => PAST.includes(kind));
  const advised = rowsOf(source, "topped-off");
  const is_advised = advised.length > 0;
  return {
    unit,
    rows: [...past, ...(is_advised ? advised : rowsOf(source, "forecast"))],
    past: past.length,
    idle: [...rowsOf(source, "today"), ...rowsOf(source, "forecast")],
    is_advised,
    points: (rows, column) =>
      rows.map(({ values }) => ({ x: values.date ?? Number.NaN, y: (values[column] ?? Number.NaN) / unit.grams })),
  };
}

/**
 * The charge over time as one story: what was charged, today, the advised top-off and the decline after it with the
 * watch date in it, and as a quiet second line what happens if nothing is added.
 */
export function chargeCurve(source: Source): ChartConfiguration<"line", Point[]> {
  const { palette } = source;
  const story = storyOf(source);
  const { unit, rows, idle, is_advised, points } = story;
  const first = rows[0]?.values.date ?? 0;
  const last = Math.max(rows.at(-1)?.values.date ?? 1, idle.at(-1)?.values.date ?? 1);
  return {
    type: "line",
    data: { datasets: datasets(story, palette) },
    options: {
      ...frame(),
      interaction: { mode: "nearest", axis: "x", intersect: false },
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
          ticks: {
            ...axis(palette, "").ticks,
            autoSkipPadding: 14,
            callback: (value) => String(new Date(Number(value)).getUTCFullYear()),
          },
        },
        y: {
          type: "linear",
          ...axis(palette, `charge, ${unit.name}`),
          beginAtZero: true,
          suggestedMax: ((rowsOf(source, "nameplate")[0]?.values.mean_g ?? 0) / unit.grams) * 1.08,
        },
      },
      plugins: {
        tooltip: {
          ...tooltip<"line">(palette, {
            title: (items) => rows[items[0]?.dataIndex ?? 0]?.name ?? "",
            label: ({ dataset, parsed }) => `${dataset.label}: ${Math.round(parsed.y ?? 0)} ${unit.name}`,
          }),
          filter: ({ datasetIndex }) => datasetIndex < 3,
        },
        marks: { marks: marksOf(source, unit.grams, points(rows, "mean_g")), palette },
        lineNames: {
          names: is_advised
            ? [{ dataset: 3, text: IF_NOTHING, color: palette["ink-soft"], strong: false, over: true }]
            : [],
          palette,
        },
      },
    },
  };
}

const IF_NOTHING = "if nothing is added";

/** The charge with its likely range and, where something is advised, the decline without it. */
function datasets({ rows, past, idle, is_advised, points }: Story, palette: Palette): ChartDataset<"line", Point[]>[] {
  const kindAt = (i: number) => rows[i]?.kind ?? "";
  const isAdviceAt = (i: number) => is_advised && i === past;
  const edge = { borderWidth: 0, pointRadius: 0, pointHitRadius: 0, backgroundColor: faded(palette.charge, 0.18) };
  const without: ChartDataset<"line", Point[]> = {
    label: IF_NOTHING,
    data: points(idle, "mean_g"),
    borderColor: palette["ink-soft"],
    borderWidth: 1.25,
    borderDash: [1, 3],
    pointRadius: 0,
    pointHitRadius: 0,
  };
  return [
    {
      label: "charge",
      data: points(rows, "mean_g"),
      borderColor: palette.charge,
      backgroundColor: palette.charge,
      borderWidth: 2.5,
      borderJoinStyle: "round",
      // Marks at the edge are drawn whole.
      clip: 8,
      pointStyle: "triangle",
      pointRadius: ({ dataIndex }) => (kindAt(dataIndex) === "filled" || isAdviceAt(dataIndex) ? 6 : 0),
      pointBackgroundColor: ({ dataIndex }) => (isAdviceAt(dataIndex) ? palette.canvas : palette.charge),
      pointBorderWidth: 2,
      pointHitRadius: 8,
      segment: { borderDash: ({ p0DataIndex }) => (p0DataIndex >= past - 1 ? [5, 4] : undefined) },
    },
    { label: "likely range from", data: points(rows, "p05_g"), ...edge },
    { label: "likely range to", data: points(rows, "p95_g"), fill: "-1", ...edge },
    ...(is_advised ? [without] : []),
  ];
}

/** The end of a level line at which its name covers less of the curve: where the curve is farther away. */
function freerEnd(level: number, curve: readonly Point[]): "left" | "right" {
  const from = curve[0]?.x ?? 0;
  const span = (curve.at(-1)?.x ?? 1) - from;
  const distance = (x: number) =>
    Math.min(...nearest(curve, from + x * span).map(({ y }) => Math.abs((y ?? 0) - level)));
  return distance(0.15) > distance(0.85) ? "left" : "right";
}

/** The points within a fifth of the span around a moment, or the one nearest to it. */
function nearest(curve: readonly Point[], x: number): readonly Point[] {
  const span = (curve.at(-1)?.x ?? 1) - (curve[0]?.x ?? 0);
  const near = curve.filter((point) => Math.abs((point.x ?? 0) - x) < 0.2 * span);
  return near.length > 0 ? near : curve.slice(-1);
}

function marksOf(source: Source, grams: number, curve: readonly Point[]): Mark[] {
  const { palette } = source;
  const level = (kind: string, label: string, color: string, dash: number[]): Mark[] =>
    rowsOf(source, kind).map(({ values }) => ({ axis: "y", value: (values.mean_g ?? 0) / grams, label, color, dash }));
  const upright = (kind: string, label: string, color: string, dash: number[]): Mark[] =>
    rowsOf(source, kind).map(({ values }) => ({ axis: "x", value: values.date ?? 0, label, color, dash }));
  return [
    ...level("nameplate", "nameplate charge", palette["ink-soft"], [1, 3]),
    ...level("low-line", "cools poorly below", palette.careful, [6, 4]).map(
      (mark): Mark => ({ ...mark, end: freerEnd(mark.value, curve), under: true }),
    ),
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
