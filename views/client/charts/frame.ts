import type { ChartOptions } from "chart.js";
import type { Palette } from "./palette.ts";

/** Axis settings shared by all charts: a hairline grid, quiet figures, the unit as the title. */
export function axis(palette: Palette, title: string, grid = true) {
  const font = { family: palette.font, size: 12 };
  return {
    title: { display: title !== "", text: title, color: palette["ink-soft"], font },
    grid: { display: grid, color: palette.hairline, drawTicks: false },
    border: { display: false },
    ticks: { color: palette["ink-soft"], padding: 6, font, maxRotation: 0 },
  };
}

/** The names beside level bars. */
export function sideAxis(palette: Palette) {
  const { ticks, ...rest } = axis(palette, "", false);
  return { ...rest, ticks: { ...ticks, color: palette.ink, autoSkip: false } };
}

/** Options shared by all charts. */
export function frame(palette: Palette) {
  return {
    responsive: true,
    maintainAspectRatio: false,
    animation: matchMedia("(prefers-reduced-motion: reduce)").matches ? false : { duration: 300 },
    interaction: { mode: "index", intersect: false },
    layout: { padding: { top: 4, right: 8 } },
    plugins: {
      tooltip: {
        backgroundColor: palette.ink,
        titleColor: palette.canvas,
        bodyColor: palette.canvas,
        titleFont: { family: palette.font, size: 13 },
        bodyFont: { family: palette.font, size: 13 },
        cornerRadius: 2,
        displayColors: false,
        padding: 8,
      },
    },
  } satisfies ChartOptions;
}
