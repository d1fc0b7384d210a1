import type { Chart, ChartType, Plugin } from "chart.js";
import type { Palette } from "./palette.ts";

/** The name of one point of the first dataset. */
export interface PointName {
  index: number;
  text: string;
}

interface PointNameOptions {
  /** The most important first: one that would run into those before it is left out. */
  names: readonly PointName[];
  palette: Palette;
}

declare module "chart.js" {
  interface PluginOptionsByType<TType extends ChartType> {
    pointNames?: PointNameOptions;
  }
}

const FONT_PX = 12;
const GAP = 7;
/** On a phone a long name would hide more marks than it explains. */
const MOST_OF_WIDTH = 0.4;

interface Box {
  left: number;
  top: number;
  width: number;
}

/** Writes names beside single points: on the right, or on the left where the plot ends. */
export const pointNamesPlugin: Plugin<ChartType, PointNameOptions> = {
  id: "pointNames",
  afterDatasetsDraw(chart: Chart, _args, { names = [], palette }) {
    if (names.length === 0) return;
    const { ctx, chartArea: area } = chart;
    const points = chart.getDatasetMeta(0).data;
    ctx.save();
    ctx.font = `600 ${FONT_PX}px ${palette.font}`;
    ctx.textBaseline = "middle";
    const taken: Box[] = [];
    for (const { index, text } of names) {
      const point = points[index];
      if (point === undefined) continue;
      const { width } = ctx.measureText(text);
      if (width > MOST_OF_WIDTH * area.width) continue;
      const right = point.x + GAP + width <= area.right;
      const box = { left: right ? point.x + GAP : point.x - GAP - width, top: point.y - FONT_PX / 2, width };
      if (box.left < area.left || taken.some((other) => overlap(box, other))) continue;
      taken.push(box);
      ctx.fillStyle = palette.canvas;
      ctx.fillRect(box.left - 1, box.top - 1, width + 2, FONT_PX + 2);
      ctx.fillStyle = palette.ink;
      ctx.fillText(text, box.left, point.y);
    }
    ctx.restore();
  },
};

function overlap(a: Box, b: Box): boolean {
  return a.left < b.left + b.width + GAP && b.left < a.left + a.width + GAP && Math.abs(a.top - b.top) < FONT_PX + 2;
}
