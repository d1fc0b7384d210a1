import type { Chart, ChartType, Plugin } from "chart.js";
import type { Palette } from "./palette.ts";

/** A line across the plot at one value of an axis, with its name. */
export interface Mark {
  axis: "x" | "y";
  value: number;
  label: string;
  color: string;
  dash: number[];
}

interface MarkOptions {
  marks: readonly Mark[];
  palette: Palette;
}

interface EndLabelOptions {
  labels: readonly string[];
  palette: Palette;
}

declare module "chart.js" {
  interface PluginOptionsByType<TType extends ChartType> {
    marks?: MarkOptions;
    endLabels?: EndLabelOptions;
  }
}

const MARGIN = 4;
const FONT_PX = 12;

/** Draws the lines over the data, their names at the start of a level line and at the top of an upright one. */
export const marksPlugin: Plugin<ChartType, MarkOptions> = {
  id: "marks",
  afterDatasetsDraw(chart, _args, options) {
    const taken: number[] = [];
    for (const mark of options.marks ?? []) drawMark(chart, mark, options.palette, taken);
  },
};

function drawMark(chart: Chart, mark: Mark, palette: Palette, taken: number[]): void {
  const { ctx, chartArea: area } = chart;
  const at = chart.scales[mark.axis]?.getPixelForValue(mark.value);
  if (at === undefined || !Number.isFinite(at)) return;
  ctx.save();
  ctx.strokeStyle = mark.color;
  ctx.lineWidth = 1.5;
  ctx.setLineDash(mark.dash);
  ctx.beginPath();
  if (mark.axis === "x") {
    ctx.moveTo(at, area.top);
    ctx.lineTo(at, area.bottom);
  } else {
    ctx.moveTo(area.left, at);
    ctx.lineTo(area.right, at);
  }
  ctx.stroke();
  ctx.setLineDash([]);
  ctx.font = `600 ${FONT_PX}px ${palette.font}`;
  const width = ctx.measureText(mark.label).width;
  if (mark.axis === "x") {
    // Names of lines that stand close together go one under the other.
    const row = taken.filter((other) => Math.abs(other - at) < width + 4 * MARGIN).length;
    taken.push(at);
    const left = Math.min(Math.max(at + MARGIN, area.left), area.right - width);
    writeOn(ctx, mark, palette, left, area.top + FONT_PX + row * (FONT_PX + MARGIN), width);
  } else {
    writeOn(ctx, mark, palette, area.left + MARGIN, at - MARGIN, width);
  }
  ctx.restore();
}

/** Text with the page's own ground behind it, so that it reads over bands and lines. */
function writeOn(
  ctx: CanvasRenderingContext2D,
  mark: Mark,
  palette: Palette,
  left: number,
  baseline: number,
  width: number,
): void {
  ctx.fillStyle = palette.canvas;
  ctx.fillRect(left - 2, baseline - FONT_PX + 1, width + 4, FONT_PX + 3);
  ctx.fillStyle = mark.color;
  ctx.fillText(mark.label, left, baseline);
}

/** Writes `labels[i]` behind the end of bar `i`, the topmost where bars are stacked. */
export const endLabelsPlugin: Plugin<ChartType, EndLabelOptions> = {
  id: "endLabels",
  afterDatasetsDraw(chart, _args, options) {
    const { labels, palette } = options;
    if (labels === undefined) return;
    const { ctx } = chart;
    const bars = chart.getDatasetMeta(chart.data.datasets.length - 1).data;
    ctx.save();
    ctx.font = `600 ${FONT_PX}px ${palette.font}`;
    ctx.fillStyle = palette.ink;
    ctx.textBaseline = "middle";
    bars.forEach((bar, i) => {
      ctx.fillText(labels[i] ?? "", bar.x + MARGIN + 2, bar.y);
    });
    ctx.restore();
  },
};
