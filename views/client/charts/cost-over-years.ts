import type { ChartConfiguration, ChartDataset, Point } from "chart.js";
import type { OptionId } from "../../../src/core/question/contract.ts";
import { OPTION_DASHES } from "../../answer/charts/option-dashes.ts";
import { axis, frame } from "./frame.ts";
import { type Mark, roomForNames } from "./marks.ts";
import { faded } from "./palette.ts";
import { rowsOf, type Source } from "./source.ts";

/** What each option has cost by the end of each year, the band of the answer's own, and where repair and top-off cross. */
export function costOverYears(source: Source): ChartConfiguration<"line", Point[]> {
  const { palette, settings, columns } = source;
  const years = rowsOf(source, "year");
  const options = columns.filter(({ name }) => Object.hasOwn(OPTION_DASHES, name));
  const points = (column: string): Point[] =>
    years.map(({ values }) => ({ x: values.end ?? Number.NaN, y: values[column] ?? Number.NaN }));
  const lines = options.map(({ name, heading }): ChartDataset<"line", Point[]> => {
    const is_focus = name === settings.focus;
    return {
      label: heading,
      data: points(name),
      borderColor: is_focus ? palette.money : faded(palette.money, 0.75),
      backgroundColor: palette.money,
      borderWidth: is_focus ? 3.5 : 1.75,
      borderDash: [...OPTION_DASHES[name as OptionId]],
      pointRadius: is_focus ? 3 : 0,
      pointHitRadius: 8,
    };
  });
  const edge = { borderWidth: 0, pointRadius: 0, pointHitRadius: 0, backgroundColor: faded(palette.money, 0.14) };
  const shared = frame(palette);
  return {
    type: "line",
    data: {
      datasets: [
        ...lines,
        { label: "likely from", data: points("p05"), ...edge },
        { label: "likely to", data: points("p95"), fill: "-1", ...edge },
      ],
    },
    options: {
      ...shared,
      layout: { padding: { top: roomForNames(1), right: 8 } },
      scales: {
        x: {
          type: "linear",
          ...axis(palette, "by the end of year", false),
          min: years.length > 1 ? (years[0]?.values.end ?? 0) : 0,
          max: years.at(-1)?.values.end ?? 1,
          ticks: { ...axis(palette, "").ticks, precision: 0 },
        },
        y: {
          type: "linear",
          ...axis(palette, "cost so far, $"),
          beginAtZero: true,
          ticks: { ...axis(palette, "").ticks, callback: (value) => `$${Number(value).toLocaleString("en-US")}` },
        },
      },
      plugins: {
        ...shared.plugins,
        tooltip: {
          ...shared.plugins?.tooltip,
          callbacks: {
            title: (items) => `By the end of ${years[items[0]?.dataIndex ?? 0]?.name ?? ""}`,
            label: ({ dataset, parsed }) => `${dataset.label}: $${Math.round(parsed.y ?? 0).toLocaleString("en-US")}`,
          },
        },
        marks: { marks: crossingMark(source), palette },
      },
    },
  };
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
