import type { ChartConfiguration, Point } from "chart.js";
import { pageNumber } from "../../../src/core/quantities/number-text.ts";
import { axis, frame } from "./frame.ts";
import { roomForNames } from "./marks.ts";
import { rowsOf, type Source } from "./source.ts";

/** What a budget saves or avoids over the years, and where the present one stands. */
export function budgetCurve(source: Source): ChartConfiguration<"line", Point[]> {
  const { palette, settings } = source;
  const for_money = settings.aim === "cost";
  const color = for_money ? palette.money : palette.release;
  const points = rowsOf(source, "point");
  const shared = frame(palette);
  return {
    type: "line",
    data: {
      datasets: [
        {
          label: for_money ? "saved" : "avoided",
          data: points.map(({ values }) => ({ x: values.budget ?? Number.NaN, y: values.saved ?? Number.NaN })),
          borderColor: color,
          backgroundColor: color,
          borderWidth: 2.5,
          pointRadius: 0,
          pointHitRadius: 8,
        },
      ],
    },
    options: {
      ...shared,
      layout: { padding: { top: roomForNames(1), right: 8 } },
      scales: {
        x: {
          type: "linear",
          ...axis(palette, "money this year", false),
          ticks: { ...axis(palette, "").ticks, callback: (value) => pageNumber(Number(value)) },
        },
        y: {
          type: "linear",
          ...axis(palette, for_money ? "money saved over the years" : "CO₂e avoided over the years, kg"),
          beginAtZero: true,
          ticks: { ...axis(palette, "").ticks, callback: (value) => pageNumber(Number(value)) },
        },
      },
      plugins: {
        ...shared.plugins,
        tooltip: {
          ...shared.plugins?.tooltip,
          callbacks: {
            title: (items) => `Budget ${points[items[0]?.dataIndex ?? 0]?.texts.budget ?? ""}`,
            label: ({ dataIndex, dataset }) => `${points[dataIndex]?.texts.saved ?? ""} ${dataset.label}`,
          },
        },
        marks: {
          marks:
            settings.budget === undefined
              ? []
              : [{ axis: "x", value: Number(settings.budget), label: "this budget", color: palette.ink, dash: [2, 3] }],
          palette,
        },
      },
    },
  };
}
