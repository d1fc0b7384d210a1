import type { ChartConfiguration } from "chart.js";
import { frame, lyingBars, tooltip } from "./frame.ts";
import { faded } from "./palette.ts";
import { rowsOf, type Source } from "./source.ts";

/** The likely range of each vehicle's leak, as a bar from its low to its high end. */
export function fleetLeaks(source: Source): ChartConfiguration<"bar", [number, number][]> {
  const { palette, settings } = source;
  const rows = rowsOf(source, "vehicle");
  return {
    type: "bar",
    data: {
      labels: rows.map(({ name }) => name),
      datasets: [
        {
          label: "likely range",
          data: rows.map(({ values }): [number, number] => [values.low ?? 0, values.high ?? 0]),
          backgroundColor: faded(palette.charge, 0.55),
          minBarLength: 2,
          barPercentage: 0.6,
        },
      ],
    },
    options: {
      ...frame(),
      ...lyingBars(palette, `leak a year, ${settings.unit}`),
      plugins: {
        tooltip: tooltip<"bar">(palette, {
          label: ({ dataIndex }) => `${rows[dataIndex]?.texts.low} to ${rows[dataIndex]?.texts.high}`,
        }),
      },
    },
  };
}

/** For each vehicle what topping off costs a year, and what the answer does. */
export function fleetCosts(source: Source): ChartConfiguration<"bar", number[]> {
  const { palette, columns } = source;
  const rows = rowsOf(source, "vehicle");
  const series = columns.slice(1);
  return {
    type: "bar",
    data: {
      labels: rows.map(({ name }) => name),
      datasets: series.map(({ name, heading }, i) => ({
        label: heading,
        data: rows.map(({ values }) => values[name] ?? 0),
        backgroundColor: i === 0 ? palette["ink-soft"] : palette.money,
        barPercentage: 0.8,
      })),
    },
    options: {
      ...frame(),
      ...lyingBars(palette, "money a year"),
      plugins: {
        tooltip: tooltip<"bar">(palette, {
          label: ({ dataset, datasetIndex, dataIndex }) =>
            `${dataset.label}: ${rows[dataIndex]?.texts[series[datasetIndex]?.name ?? ""]}`,
        }),
      },
    },
  };
}
