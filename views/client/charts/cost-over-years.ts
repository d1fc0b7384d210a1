import type { ChartConfiguration, ChartDataset, Point } from "chart.js";
import { pageNumber } from "../../../src/core/quantities/number-text.ts";
import type { OptionId } from "../../../src/core/question/contract.ts";
import { OPTION_DASHES } from "../../answer/charts/option-dashes.ts";
import { axis, frame, tooltip } from "./frame.ts";
import { type Mark, roomForLineNames, roomForNames } from "./marks.ts";
import { faded } from "./palette.ts";
import { rowsOf, type Source } from "./source.ts";
import type { Column, Row } from "./table.ts";

/**
 * What each option has cost from today on, the band of the answer's own, and where repair and top-off cross. The answer
 * and its rival are in full ink, the others grey.
 */
export function costOverYears(source: Source): ChartConfiguration<"line", Point[]> {
  const { palette, settings, columns } = source;
  const years = rowsOf(source, "year");
  const all = [...rowsOf(source, "start"), ...years];
  const options = columns.filter(({ name }) => Object.hasOwn(OPTION_DASHES, name));
  const currency = settings.currency ?? "";
  return {
    type: "line",
    data: { datasets: [...lines(source, options, all), ...band(source, years)] },
    options: {
      ...frame(),
      layout: { padding: { top: roomForNames(1), right: roomForLineNames(options.map(({ short }) => short)) } },
      scales: {
        x: {
          type: "linear",
          ...axis(palette, "years from today", false),
          min: 0,
          max: years.at(-1)?.values.end ?? 1,
          ticks: { ...axis(palette, "").ticks, precision: 0 },
        },
        y: {
          type: "linear",
          ...axis(palette, `cost so far, ${currency}`),
          beginAtZero: true,
          ticks: {
            ...axis(palette, "").ticks,
            callback: (value) => `${currency}${pageNumber(Number(value))}`,
          },
        },
      },
      plugins: {
        tooltip: {
          ...tooltip<"line">(palette, {
            title: (items) => {
              const end = items[0]?.parsed.x ?? 0;
              return end === 0 ? "Today" : `By the end of ${all.find(({ values }) => values.end === end)?.name ?? ""}`;
            },
            label: ({ dataset, parsed }) => `${dataset.label}: ${currency}${pageNumber(Math.round(parsed.y ?? 0))}`,
          }),
          mode: "x",
        },
        marks: { marks: crossingMark(source), palette },
        lineNames: {
          names: options.map(({ name, short }, dataset) => ({
            dataset,
            text: short,
            color: isCompared(name, settings) ? palette.money : palette["ink-soft"],
            strong: name === settings.focus,
          })),
          palette,
        },
      },
    },
  };
}

/** Whether an option is the answer or its rival. */
function isCompared(name: string, { focus, rival }: DOMStringMap): boolean {
  return name === focus || name === rival;
}

function points(rows: readonly Row[], column: string): Point[] {
  return rows.map(({ values }) => ({ x: values.end ?? Number.NaN, y: values[column] ?? Number.NaN }));
}

/** A line for each option. */
function lines(
  { palette, settings }: Source,
  options: readonly Column[],
  rows: readonly Row[],
): ChartDataset<"line", Point[]>[] {
  return options.map(({ name, heading }) => {
    const is_focus = name === settings.focus;
    const ink = isCompared(name, settings) ? palette.money : faded(palette["ink-soft"], 0.8);
    return {
      label: heading,
      data: points(rows, name),
      borderColor: ink,
      backgroundColor: ink,
      borderWidth: is_focus ? 3.5 : name === settings.rival ? 2.25 : 1.25,
      borderDash: [...OPTION_DASHES[name as OptionId]],
      // Marks at the edge are drawn whole.
      clip: 8,
      pointRadius: is_focus ? 3 : 0,
      pointHitRadius: 8,
    };
  });
}

/** The likely range of the answer's own cost, where the table has one. */
function band({ palette, columns }: Source, years: readonly Row[]): ChartDataset<"line", Point[]>[] {
  if (!columns.some(({ name }) => name === "p05")) return [];
  const edge = { borderWidth: 0, pointRadius: 0, pointHitRadius: 0, backgroundColor: faded(palette.money, 0.14) };
  return [
    { label: "likely range from", data: points(years, "p05"), ...edge },
    { label: "likely range to", data: points(years, "p95"), fill: "-1", ...edge },
  ];
}

function crossingMark({ settings, palette }: Source): Mark[] {
  if (settings.crossing === undefined) return [];
  return [
    {
      axis: "x",
      value: Number(settings.crossing),
      label: "repair and top-off cross",
      color: palette.ink,
      dash: [2, 3],
    },
  ];
}
