import type { ChartConfiguration, Point } from "chart.js";
import { amountAxis, axis, frame, inLines, standingBars, tooltip } from "./frame.ts";
import { roomForNames } from "./marks.ts";
import { opens } from "./opens.ts";
import { faded } from "./palette.ts";
import { rowsOf, type Source } from "./source.ts";

const NAMED = 8;
/** How far marks of a group lie apart upwards, of the room that the group has. */
const SPREAD = 0.62;
/** The golden section: neighbours in order lie far apart. */
const GOLDEN = 0.618034;

/** The leak of each vehicle, of its charge a year, in a line a group; those without entries hollow. */
export function leakByGroup(source: Source): ChartConfiguration<"line", Point[]> {
  const { palette } = source;
  const rows = [...rowsOf(source, "logged"), ...rowsOf(source, "no-entries")];
  const groups = [...new Set(source.rows.map(({ texts }) => texts.group))];
  const hollow = rows.map(({ kind }) => kind === "no-entries");
  const named = rows
    .map(({ name, values }, index) => ({ index, text: name, leak: values.leak ?? 0 }))
    .sort((a, b) => b.leak - a.leak)
    .slice(0, NAMED);
  return {
    type: "line",
    data: {
      datasets: [
        {
          label: "leak",
          showLine: false,
          data: rows.map(({ values, texts }, i) => ({
            x: 100 * (values.leak ?? Number.NaN),
            y: groups.indexOf(texts.group) + SPREAD * (((i * GOLDEN) % 1) - 0.5),
          })),
          pointRadius: 4,
          pointHoverRadius: 6,
          pointBackgroundColor: hollow.map((is) => (is ? palette.canvas : faded(palette.charge, 0.75))),
          pointBorderColor: palette.charge,
          pointBorderWidth: hollow.map((is) => (is ? 1.5 : 0)),
        },
      ],
    },
    options: {
      ...frame(),
      ...opens(rows),
      interaction: { mode: "nearest", intersect: true },
      scales: {
        x: { type: "linear", ...axis(palette, "leak a year, % of the charge"), beginAtZero: true },
        y: {
          type: "linear",
          ...axis(palette, "", false),
          reverse: true,
          min: -0.5,
          max: groups.length - 0.5,
          afterBuildTicks: (scale) => {
            scale.ticks = groups.map((_, value) => ({ value }));
          },
          ticks: {
            ...axis(palette, "").ticks,
            color: palette.ink,
            autoSkip: false,
            callback: (value) => inLines(groups[Number(value)] ?? ""),
          },
        },
      },
      plugins: {
        tooltip: tooltip<"line">(palette, {
          title: (items) => rows[items[0]?.dataIndex ?? 0]?.name ?? "",
          label: ({ dataIndex }) => `${rows[dataIndex]?.texts.leak} a year${hollow[dataIndex] ? ", no entries" : ""}`,
        }),
        pointNames: { names: named, palette },
      },
    },
  };
}

/** What share of all release comes from the vehicles that release most, by how many they are. */
export function releaseByRank(source: Source): ChartConfiguration<"line", Point[]> {
  const { palette, settings } = source;
  const rows = rowsOf(source, "vehicle");
  const half = Number(settings.half);
  return {
    type: "line",
    data: {
      datasets: [
        {
          label: "share",
          data: [
            { x: 0, y: 0 },
            ...rows.map(({ values }) => ({ x: values.rank ?? Number.NaN, y: 100 * (values.share ?? Number.NaN) })),
          ],
          borderColor: palette.release,
          backgroundColor: faded(palette.release, 0.12),
          fill: true,
          borderWidth: 2.5,
          pointRadius: rows.length > 60 ? 0 : 2.5,
          pointBackgroundColor: palette.release,
          pointHitRadius: 8,
        },
      ],
    },
    options: {
      ...frame(),
      ...opens([undefined, ...rows]),
      interaction: { mode: "nearest", axis: "x", intersect: false },
      layout: { padding: { top: roomForNames(1), right: 8 } },
      scales: {
        x: {
          ...amountAxis(palette, "vehicles, from the one that releases most", { whole: true, grid: false }),
          max: rows.at(-1)?.values.rank ?? 1,
        },
        y: { type: "linear", ...axis(palette, "share of all release, %"), min: 0, max: 100 },
      },
      plugins: {
        tooltip: {
          ...tooltip<"line">(palette, {
            title: (items) => {
              const row = rows[(items[0]?.dataIndex ?? 1) - 1];
              return row === undefined ? "" : `${row.texts.rank}: ${row.name}`;
            },
            label: ({ dataIndex }) => {
              const row = rows[dataIndex - 1];
              return row === undefined ? "" : `${row.texts.release} a year; ${row.texts.share} so far`;
            },
          }),
          filter: ({ dataIndex }) => dataIndex > 0,
        },
        marks: {
          marks: half > 0 ? [{ axis: "x", value: half, label: "half", color: palette.ink, dash: [2, 3] }] : [],
          palette,
        },
      },
    },
  };
}

/** How many vehicles become low in each month; those low now first. */
export function lowByMonth(source: Source): ChartConfiguration<"bar", number[]> {
  const { palette } = source;
  const rows = source.rows;
  return {
    type: "bar",
    data: {
      labels: rows.map(({ short }) => short),
      datasets: [
        {
          label: "vehicles",
          data: rows.map(({ values }) => values.vehicles ?? 0),
          backgroundColor: rows.map(({ kind }) => (kind === "month" ? palette.charge : faded(palette.charge, 0.5))),
          barPercentage: 0.85,
          minBarLength: 1,
        },
      ],
    },
    options: {
      ...frame(),
      ...opens(rows),
      ...standingBars(palette, "vehicles", true),
      plugins: {
        tooltip: tooltip<"bar">(palette, {
          title: (items) => rows[items[0]?.dataIndex ?? 0]?.name ?? "",
          label: ({ dataIndex }) => `${rows[dataIndex]?.texts.vehicles} vehicles`,
        }),
      },
    },
  };
}

/** What was added in each calendar year, and what the model says was lost: a filled bar and an outlined one. */
export function addedAndLost(source: Source): ChartConfiguration<"bar", number[]> {
  const { palette, settings } = source;
  const rows = rowsOf(source, "year");
  return {
    type: "bar",
    data: {
      labels: rows.map(({ short }) => short),
      datasets: [
        {
          label: "added",
          data: rows.map(({ values }) => values.added ?? 0),
          backgroundColor: palette.charge,
          barPercentage: 0.9,
        },
        {
          label: "lost",
          data: rows.map(({ values }) => values.lost ?? 0),
          backgroundColor: faded(palette.release, 0.15),
          borderColor: palette.release,
          borderWidth: 2,
          barPercentage: 0.9,
        },
      ],
    },
    options: {
      ...frame(),
      ...opens(rows),
      ...standingBars(palette, `refrigerant, ${settings.unit}`),
      plugins: {
        tooltip: tooltip<"bar">(palette, {
          title: (items) => rows[items[0]?.dataIndex ?? 0]?.name ?? "",
          label: ({ dataset, dataIndex }) => `${rows[dataIndex]?.texts[dataset.label ?? ""]} ${dataset.label}`,
        }),
      },
    },
  };
}
