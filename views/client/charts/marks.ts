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

const GAP = 3;
const FONT_PX = 12;
const ROW_PX = 17;

/** Room above the plot for `rows` names of upright lines. */
export function roomForNames(rows: number): number {
  return rows * ROW_PX;
}

/** Draws the lines over the data; names stand at the end of a level line, and above the plot over an upright one. */
export const marksPlugin: Plugin<ChartType, MarkOptions> = {
  id: "marks",
  afterDatasetsDraw(chart, _args, { marks = [], palette }) {
    const { ctx } = chart;
    ctx.save();
    const placed = placedMarks(chart, marks, palette);
    for (const mark of placed) drawLine(ctx, mark);
    for (const mark of placed) drawName(ctx, mark, palette);
    ctx.restore();
  },
};

interface Span {
  from: number;
  to: number;
}

interface Place {
  x: number;
  y: number;
}

/** A mark with its line's ends and its name's left end and baseline, in pixels. */
interface PlacedMark extends Mark {
  from: Place;
  to: Place;
  name: Place;
  width: number;
}

function placedMarks({ ctx, chartArea: area, scales }: Chart, marks: readonly Mark[], palette: Palette): PlacedMark[] {
  if (marks.length > 0) ctx.font = `600 ${FONT_PX}px ${palette.font}`;
  const taken: Span[] = [];
  return marks.flatMap((mark) => {
    const at = scales[mark.axis]?.getPixelForValue(mark.value);
    if (at === undefined || !Number.isFinite(at)) return [];
    const width = ctx.measureText(mark.label).width;
    if (mark.axis === "y") {
      const name = { x: area.right - width - GAP, y: at - GAP };
      return [{ ...mark, width, name, from: { x: area.left, y: at }, to: { x: area.right, y: at } }];
    }
    const left = Math.min(at + 2 * GAP, area.right - width);
    const top = area.top - rowFor(left, width, taken) * ROW_PX;
    return [
      { ...mark, width, name: { x: left, y: top - GAP }, from: { x: at, y: top }, to: { x: at, y: area.bottom } },
    ];
  });
}

/** The lowest row above the plot where a name does not run into another. */
function rowFor(from: number, width: number, taken: Span[]): number {
  const to = from + width + 4 * GAP;
  const row = taken.filter((span) => span.from < to && from < span.to).length;
  taken.push({ from, to });
  return row;
}

function drawLine(ctx: CanvasRenderingContext2D, { color, dash, from, to }: PlacedMark): void {
  ctx.strokeStyle = color;
  ctx.lineWidth = 1.5;
  ctx.setLineDash(dash);
  ctx.beginPath();
  ctx.moveTo(from.x, from.y);
  ctx.lineTo(to.x, to.y);
  ctx.stroke();
  ctx.setLineDash([]);
}

/** With the page's own ground behind it, so that it reads over bands and lines. */
function drawName(ctx: CanvasRenderingContext2D, { label, color, name, width }: PlacedMark, palette: Palette): void {
  if (label === "") return;
  ctx.fillStyle = palette.canvas;
  ctx.fillRect(name.x - 2, name.y - FONT_PX + 1, width + 4, FONT_PX + 2);
  ctx.fillStyle = color;
  ctx.fillText(label, name.x, name.y);
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
      ctx.fillText(labels[i] ?? "", bar.x + 2 * GAP, bar.y);
    });
    ctx.restore();
  },
};
