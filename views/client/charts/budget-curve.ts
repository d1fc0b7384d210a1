import type { ChartConfiguration, Point, TooltipItem } from "chart.js";
import { formatMoney } from "../../../src/core/quantities/format.ts";
import { pageNumber } from "../../../src/core/quantities/number-text.ts";
import { axis, frame, tooltip } from "./frame.ts";
import { roomForNames } from "./marks.ts";
import { rowsOf, type Source } from "./source.ts";
import type { Row } from "./table.ts";

/** What money for repairs saves or avoids over the years, where the present plan stands, and its orders on the way. */
export function budgetCurve(source: Source): ChartConfiguration<"line", Point[]> {
  const { palette, settings } = source;
  const for_money = settings.aim === "cost";
  const points = rowsOf(source, "point");
  const orders = rowsOf(source, "order");
  const money = (value: string | number) => formatMoney(Number(value), settings.currency ?? "USD");
  const budget = settings.budget === undefined ? null : Number(settings.budget);
  const most = at(points.at(-1)!).x;
  return {
    type: "line",
    data: { datasets: datasets(source, points, orders) },
    options: {
      ...frame(),
      interaction: { mode: "nearest", intersect: false },
      layout: { padding: { top: roomForNames(1), right: 8 } },
      scales: {
        x: {
          type: "linear",
          ...axis(palette, "money for repairs this year", false),
          // From the least outlay: less than that is no choice.
          min: at(points[0]!).x,
          ticks: { ...axis(palette, "").ticks, maxTicksLimit: 6, callback: (value) => money(value) },
        },
        y: {
          type: "linear",
          ...axis(palette, for_money ? "saved over the years" : "CO₂e avoided over the years, t"),
          ticks: {
            ...axis(palette, "").ticks,
            callback: (value) => (for_money ? money(value) : pageNumber(Number(value))),
          },
        },
      },
      plugins: {
        tooltip: tooltip<"line">(palette, sayings(points, orders)),
        marks: {
          marks:
            budget === null || budget > most
              ? []
              : [{ axis: "x", value: budget, label: "this budget", color: palette.ink, dash: [2, 3] }],
          palette,
        },
      },
    },
  };
}

function at({ values }: Row) {
  return { x: values.budget ?? Number.NaN, y: values.saved ?? Number.NaN };
}

/** The curve, and a dot for each order on it. */
function datasets({ palette, settings }: Source, points: readonly Row[], orders: readonly Row[]) {
  const label = settings.aim === "cost" ? "saved" : "avoided";
  const color = settings.aim === "cost" ? palette.money : palette.release;
  return [
    {
      label,
      data: points.map(at),
      borderColor: color,
      backgroundColor: color,
      borderWidth: 2.5,
      pointRadius: 0,
      pointHitRadius: 8,
    },
    {
      label,
      data: orders.map(at),
      showLine: false,
      borderColor: palette.ink,
      backgroundColor: palette.canvas,
      borderWidth: 1.5,
      pointRadius: 3.5,
      pointHitRadius: 8,
    },
  ];
}

/** What is said of a point under the pointer. */
function sayings(points: readonly Row[], orders: readonly Row[]) {
  const rowAt = (item: TooltipItem<"line"> | undefined): Row | undefined =>
    item === undefined ? undefined : (item.datasetIndex === 0 ? points : orders)[item.dataIndex];
  return {
    title: (items: TooltipItem<"line">[]) =>
      rowAt(items[0])?.texts.order || `${rowAt(items[0])?.texts.budget ?? ""} for repairs`,
    label: (item: TooltipItem<"line">) => {
      const row = rowAt(item);
      const with_it = row?.texts.order ? `up to this order: ${row.texts.budget}, ` : "";
      return `${with_it}${row?.texts.saved ?? ""} ${item.dataset.label}`;
    },
  };
}
