import {
  BarController,
  BarElement,
  CategoryScale,
  Chart,
  type ChartConfiguration,
  Filler,
  LinearScale,
  LineController,
  LineElement,
  type Point,
  PointElement,
  Tooltip,
} from "chart.js";
import { endLabelsPlugin, lineNamesPlugin, marksPlugin } from "./marks.ts";
import { currentPalette } from "./palette.ts";
import { pointNamesPlugin } from "./point-names.ts";
import { type Source, sourceOf } from "./source.ts";

Chart.register(
  BarController,
  BarElement,
  CategoryScale,
  Filler,
  LinearScale,
  LineController,
  LineElement,
  PointElement,
  Tooltip,
  marksPlugin,
  endLabelsPlugin,
  lineNamesPlugin,
  pointNamesPlugin,
);

type Kind = (
  source: Source,
) =>
  | ChartConfiguration<"line", Point[]>
  | ChartConfiguration<"bar", number[]>
  | ChartConfiguration<"bar", [number, number][]>;

/** How the kinds of a page's figures are drawn, by what their `data-chart` says. */
let kinds: Readonly<Record<string, Kind>> = {};

/** Width of a chart on paper, in CSS pixels; its height stays. */
const PAPER_WIDTH = 540;

function figures(): HTMLElement[] {
  return [...document.querySelectorAll<HTMLElement>("figure[data-chart]")];
}

function chartOf(figure: HTMLElement): Chart | undefined {
  const canvas = figure.querySelector("canvas");
  return canvas === null ? undefined : Chart.getChart(canvas);
}

/** Draws a figure, or redraws it with what its table says now; `still` without motion. */
function draw(figure: HTMLElement, still = false): void {
  const canvas = figure.querySelector("canvas");
  const kind = kinds[figure.dataset.chart ?? ""];
  if (canvas === null || kind === undefined) return;
  const { type, data, options = {} } = kind(sourceOf(figure, currentPalette())) as ChartConfiguration;
  const chart = Chart.getChart(canvas);
  if (chart === undefined) {
    // Drawn whole at once, also for a printer that does not wait; only changes move.
    announceDrawn(figure, new Chart(canvas, { type, data, options: { ...options, animation: false } }));
    return;
  }
  // Lines that stay are moved, not replaced, so that a change can be seen as one.
  const { datasets } = chart.data;
  data.datasets.forEach((dataset, i) => {
    const old = datasets[i];
    if (old === undefined) datasets.push(dataset);
    else Object.assign(old, dataset);
  });
  datasets.length = data.datasets.length;
  if (data.labels !== undefined) chart.data.labels = data.labels;
  chart.options = options;
  chart.update(still ? "none" : undefined);
  announceDrawn(figure, chart);
}

/** Lets other scripts know what is drawn now; `detail` is the chart. */
function announceDrawn(figure: HTMLElement, chart: Chart): void {
  figure.dispatchEvent(new CustomEvent("chart:drawn", { bubbles: true, detail: chart }));
}

const nearby = new IntersectionObserver(
  (entries) => {
    for (const { target, isIntersecting } of entries) {
      if (!isIntersecting) continue;
      nearby.unobserve(target);
      draw(target as HTMLElement);
    }
  },
  { rootMargin: "400px" },
);

function watch(): void {
  for (const figure of figures()) if (chartOf(figure) === undefined) nearby.observe(figure);
}

/** What was folded before printing. */
const folded: HTMLDetailsElement[] = [];

/**
 * Draws every `figure[data-chart]` from the table that it holds: when it comes near the viewport, again after the
 * answer has changed, when the colours of the page change, and for print. Without it the tables are all there is.
 */
export function drawCharts(kinds_of_page: typeof kinds): void {
  kinds = kinds_of_page;
  watch();

  document.addEventListener("htmx:after:swap", () => {
    for (const figure of figures()) if (chartOf(figure) !== undefined) draw(figure);
    watch();
  });

  for (const query of ["(prefers-color-scheme: dark)", "(forced-colors: active)"]) {
    matchMedia(query).addEventListener("change", () => {
      for (const figure of figures()) if (chartOf(figure) !== undefined) draw(figure, true);
    });
  }

  addEventListener("beforeprint", () => {
    document.documentElement.dataset.printing = "";
    for (const fold of document.querySelectorAll<HTMLDetailsElement>("details.fold:not([open])")) {
      fold.open = true;
      folded.push(fold);
    }
    for (const figure of figures()) {
      draw(figure, true);
      const chart = chartOf(figure);
      chart?.stop();
      chart?.resize(PAPER_WIDTH, chart.height);
    }
  });

  addEventListener("afterprint", () => {
    delete document.documentElement.dataset.printing;
    for (const fold of folded.splice(0)) fold.open = false;
    for (const figure of figures()) {
      draw(figure, true);
      chartOf(figure)?.resize();
    }
  });
}
