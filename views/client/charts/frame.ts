import type { ChartOptions, ChartType, TooltipCallbacks } from "chart.js";
import { pageNumber } from "../../../src/core/quantities/number-text.ts";
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

/** The names beside level bars, each in as many lines as it takes to leave the bars room. */
export function sideAxis(palette: Palette) {
  const { ticks, ...rest } = axis(palette, "", false);
  return { ...rest, ticks: { ...ticks, color: palette.ink, autoSkip: false } };
}

/** An axis of amounts from zero, its figures as the pages write them; `whole` for what is counted. */
export function amountAxis(palette: Palette, title: string, { whole = false, grid = true } = {}) {
  const { ticks, ...rest } = axis(palette, title, grid);
  return {
    type: "linear",
    ...rest,
    beginAtZero: true,
    ticks: {
      ...ticks,
      precision: whole ? 0 : undefined,
      callback: (value: number | string) => pageNumber(Number(value)),
    },
  } as const;
}

/** Standing bars: names below, amounts at the side. */
export function standingBars(palette: Palette, title: string, whole = false) {
  return {
    scales: { x: { type: "category", ...axis(palette, "", false) }, y: amountAxis(palette, title, { whole }) },
  } as const;
}

/** Lying bars: names at the side, amounts below; what is pointed at is found by its height. */
export function lyingBars(palette: Palette, title: string) {
  return {
    indexAxis: "y",
    interaction: { mode: "index", axis: "y", intersect: false },
    scales: { x: amountAxis(palette, title), y: { type: "category", ...sideAxis(palette) } },
  } as const;
}

/** Letters in a line of a name beside a bar. */
const NAME_LENGTH = 16;

/** A name in lines of words, for the side of a bar. */
export function inLines(name: string): string[] {
  return name.split(" ").reduce<string[]>((lines, word) => {
    const last = lines.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= NAME_LENGTH) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
    return lines;
  }, []);
}

/** Options shared by all charts. */
export function frame() {
  return {
    responsive: true,
    maintainAspectRatio: false,
    animation: matchMedia("(prefers-reduced-motion: reduce)").matches ? false : { duration: 300 },
    interaction: { mode: "index", intersect: false },
    layout: { padding: { top: 4, right: 8 } },
  } satisfies ChartOptions;
}

/** What is said of the mark under the pointer, in the colors of the page. */
export function tooltip<Type extends ChartType>(palette: Palette, callbacks: Partial<TooltipCallbacks<Type>>) {
  const font = { family: palette.font, size: 13 };
  return {
    backgroundColor: palette.ink,
    titleColor: palette.canvas,
    bodyColor: palette.canvas,
    titleFont: font,
    bodyFont: font,
    cornerRadius: 2,
    displayColors: false,
    padding: 8,
    callbacks,
  };
}
