import type { ChartConfiguration } from "chart.js";
import { pageNumber } from "../../../src/core/quantities/number-text.ts";
import { axis, frame, inLines, sideAxis, tooltip } from "./frame.ts";
import { faded } from "./palette.ts";
import { rowsOf, type Source } from "./source.ts";

/** What each option lets out as one bar, a piece for each year, in kilograms of carbon dioxide equivalent. */
export function releaseByYear(source: Source): ChartConfiguration<"bar", number[]> {
  const { palette, columns } = source;
  const rows = [...rowsOf(source, "chosen"), ...rowsOf(source, "other")];
  const years = columns.filter(({ name }) => name.startsWith("year-"));
  // The last column is the sum as CO₂e; the same ratio turns each year's grams into it.
  const kg_per_g = rows.map(({ values }) => {
    const grams = years.reduce((sum, { name }) => sum + (values[name] ?? 0), 0);
    return grams > 0 ? (values.co2e_kg ?? 0) / grams : 0;
  });
  return {
    type: "bar",
    data: {
      labels: rows.map(({ name }) => inLines(name)),
      datasets: years.map(({ name, heading }) => ({
        label: heading,
        data: rows.map(({ values }, i) => (values[name] ?? 0) * (kg_per_g[i] ?? 0)),
        backgroundColor: rows.map(({ kind }) => (kind === "chosen" ? palette.release : faded(palette.release, 0.55))),
        borderColor: palette.canvas,
        borderWidth: { right: 1.5 },
        barPercentage: 0.7,
      })),
    },
    options: {
      ...frame(),
      indexAxis: "y",
      interaction: { mode: "index", axis: "y", intersect: false },
      layout: { padding: { right: 64, top: 4 } },
      scales: {
        x: { type: "linear", stacked: true, ...axis(palette, "kg CO₂e, all years"), beginAtZero: true },
        y: { type: "category", stacked: true, ...sideAxis(palette) },
      },
      plugins: {
        tooltip: tooltip<"bar">(palette, {
          label: ({ dataset, parsed }) => `${dataset.label}: ${pageNumber(Math.round(parsed.x ?? 0))} kg CO₂e`,
        }),
        endLabels: { labels: rows.map(({ texts }) => texts.co2e_kg), palette },
      },
    },
  };
}
