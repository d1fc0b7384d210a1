import type { ChartConfiguration } from "chart.js";
import { pageNumber } from "../../../src/core/quantities/number-text.ts";
import { axis, frame, inLines, sideAxis, tooltip } from "./frame.ts";
import { roomForNames } from "./marks.ts";
import { faded } from "./palette.ts";
import type { Source } from "./source.ts";

/**
 * From the gap at an assumption's low value to that at its high value; zero is where the cheaper of the two changes.
 */
export function sensitivity({ rows, palette, settings }: Source): ChartConfiguration<"bar", [number, number][]> {
  const said = (amount: number) => money(amount, settings.currency ?? "");
  return {
    type: "bar",
    data: {
      // What turns the answer says to what.
      labels: rows.map(({ short, turns_to }) => [...inLines(short), ...(turns_to === "" ? [] : [turns_to])]),
      datasets: [
        {
          label: "gap",
          data: rows.map(({ values }): [number, number] => [values.low ?? 0, values.high ?? 0]),
          backgroundColor: rows.map(({ kind }) => (kind === "turns" ? palette.money : faded(palette.money, 0.4))),
          minBarLength: 2,
          barPercentage: 0.7,
        },
      ],
    },
    options: {
      ...frame(),
      layout: { padding: { top: roomForNames(2), right: 8 } },
      indexAxis: "y",
      interaction: { mode: "index", axis: "y", intersect: false },
      scales: {
        x: {
          type: "linear",
          ...axis(palette, ""),
          title: { ...axis(palette, "costs").title, text: sides() },
          // Zero, where the cheaper of the two changes, is always in sight.
          suggestedMin: 0,
          suggestedMax: 0,
          ticks: { ...axis(palette, "").ticks, callback: (value) => said(Number(value)) },
        },
        y: { type: "category", ...sideAxis(palette) },
      },
      plugins: {
        tooltip: tooltip<"bar">(palette, {
          label: ({ dataIndex }) => {
            const { low, high } = rows[dataIndex]?.values ?? {};
            return [`at its low value: ${said(low ?? 0)}`, `at its high value: ${said(high ?? 0)}`];
          },
        }),
        marks: {
          marks: [
            { axis: "x", value: 0, label: "same cost", color: palette.ink, dash: [] },
            { axis: "x", value: Number(settings.gap), label: "as assumed", color: palette["ink-soft"], dash: [2, 3] },
          ],
          palette,
        },
      },
    },
  };
}

/** Who is cheaper on either side of zero; in two lines where there is no room for one. */
function sides(): string | string[] {
  return document.documentElement.clientWidth < 480
    ? ["← top-off cheaper", "repair cheaper →"]
    : "← topping off cheaper · repair cheaper →";
}

function money(amount: number, currency: string): string {
  return `${amount < 0 ? "−" : ""}${currency}${pageNumber(Math.abs(Math.round(amount)))}`;
}
