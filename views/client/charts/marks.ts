import type { Chart, ChartType, Plugin } from "chart.js";
import type { Palette } from "./palette.ts";

/** A line across the plot at one value of an axis, with its name. */
export interface Mark {
  axis: "x" | "y";
  value: number;
  label: string;
  color: string;
  dash: number[];
  /**
   * Of a level line: the end at which its name stands, over the line or under it. The right one, over it, unless said.
   */
  end?: "left" | "right";
  under?: boolean;
}

interface MarkOptions {
  marks: readonly Mark[];
  palette: Palette;
}

/** The name of a line of the chart, beside its last point. */
export interface LineName {
  /** In the order of the datasets. */
  dataset: number;
  text: string;
  color: string;
  strong: boolean;
  /** Above the end instead of behind it, where the line ends within the plot. */
  over?: boolean;
}

interface LineNameOptions {
  names: readonly LineName[];
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
    lineNames?: LineNameOptions;
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
      const name = {
        x: mark.end === "left" ? area.left + GAP : area.right - width - GAP,
        y: mark.under ? at + FONT_PX + GAP : at - GAP,
      };
      return [{ ...mark, width, name, from: { x: area.left, y: at }, to: { x: area.right, y: at } }];
    }
    const left = Math.max(area.left, Math.min(at + 2 * GAP, area.right - width));
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

/** Drawn on the color of the page, so that it can be read over bands and lines. */
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

/** Room behind the plot for the names of lines. */
export function roomForLineNames(names: readonly string[]): number {
  return 10 + Math.max(0, ...names.map((name) => name.length)) * 6.6;
}

/** Names the lines at their ends, each as near to its own end as the others leave room. */
export const lineNamesPlugin: Plugin<ChartType, LineNameOptions> = {
  id: "lineNames",
  afterDatasetsDraw(chart, _args, options) {
    const { names = [], palette } = options;
    const { ctx, chartArea: area } = chart;
    ctx.save();
    ctx.textBaseline = "middle";
    const ends = names.flatMap((name) => {
      const end = chart.getDatasetMeta(name.dataset).data.at(-1);
      return end === undefined || !Number.isFinite(end.y) ? [] : [{ ...name, x: end.x, y: end.y }];
    });
    const behind = ends.filter(({ over }) => !over).toSorted((a, b) => a.y - b.y);
    let free = Number.NEGATIVE_INFINITY;
    // From the top down each takes its place or the next free one; what runs out at the bottom is pushed up again.
    for (const end of behind) {
      end.y = Math.max(end.y, free);
      free = end.y + ROW_PX - 2;
    }
    let floor = area.bottom;
    for (const end of behind.toReversed()) {
      end.y = Math.min(end.y, floor);
      floor = end.y - ROW_PX + 2;
    }
    for (const { text, color, strong, over, x, y } of ends) {
      ctx.font = `${strong ? 700 : 500} ${FONT_PX}px ${palette.font}`;
      const width = ctx.measureText(text).width;
      const left = over ? Math.max(area.left, Math.min(x - width / 2, area.right - width)) : area.right + 2 * GAP;
      const middle = over ? Math.max(area.top + ROW_PX / 2, y - ROW_PX) : y;
      if (over) {
        ctx.fillStyle = palette.canvas;
        ctx.fillRect(left - 2, middle - FONT_PX / 2 - 1, width + 4, FONT_PX + 2);
      }
      ctx.fillStyle = color;
      ctx.fillText(text, left, middle);
    }
    ctx.restore();
  },
};
