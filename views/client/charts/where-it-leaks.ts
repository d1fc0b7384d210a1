import type { ChartConfiguration } from "chart.js";
import { axis, frame, inLines, sideAxis, tooltip } from "./frame.ts";
import type { Source } from "./source.ts";

/** How likely each place is to be the leak. */
export function whereItLeaks({ rows, palette }: Source): ChartConfiguration<"bar", number[]> {
  const percents = rows.map(({ values }) => (values.probability ?? 0) * 100);
  return {
    type: "bar",
    data: {
      labels: rows.map(({ name }) => inLines(name)),
      datasets: [{ label: "chance", data: percents, backgroundColor: palette["ink-soft"], barPercentage: 0.6 }],
    },
    options: {
      ...frame(),
      indexAxis: "y",
      interaction: { mode: "index", axis: "y", intersect: false },
      layout: { padding: { right: 44, top: 4 } },
      scales: {
        x: { type: "linear", ...axis(palette, "of 100 vehicles like this"), beginAtZero: true, suggestedMax: 50 },
        y: { type: "category", ...sideAxis(palette) },
      },
      plugins: {
        tooltip: tooltip<"bar">(palette, { label: ({ dataIndex }) => rows[dataIndex]?.texts.probability ?? "" }),
        endLabels: { labels: rows.map(({ texts }) => texts.probability ?? ""), palette },
      },
    },
  };
}
