import type { Child } from "hono/jsx";

/** How a line or an area of a chart is drawn, for its key. */
export interface KeyEntry {
  label: string;
  meaning: "charge" | "release" | "money" | "careful" | "soft";
  /** `ring` and `outline` are a point and a bar that are not filled. */
  sign: "line" | "band" | "point" | "bar" | "dot" | "ring" | "outline";
  dash?: readonly number[];
  strong?: boolean;
}

interface ChartFigureProps {
  id: string;
  /** Which script draws it; the numbers come from the table. */
  kind: string;
  /** The finding. */
  title: string;
  /** What the chart shows, in words. */
  summary: Child;
  shape?: "wide" | "bars" | "tall";
  chartKey?: readonly KeyEntry[];
  /** Settings that the drawing script needs beside the table. */
  settings?: Readonly<Record<`data-${string}`, string | number | undefined>>;
  /** The rows and headings of the table behind it. */
  children: Child;
}

/** A chart: its finding, what it shows in words, the drawing, and the table that it is drawn from. */
export function ChartFigure(props: ChartFigureProps) {
  const { id, kind, title, summary, shape = "wide", chartKey = [], settings, children } = props;
  return (
    <figure class="chart" id={id} data-chart={kind} {...settings}>
      <figcaption>
        <h3 class="chart-title" id={`${id}-title`}>
          {title}
        </h3>
        <p class="chart-summary" id={`${id}-summary`}>
          {summary}
        </p>
      </figcaption>
      {chartKey.length > 0 && (
        <ul class="chart-key" aria-hidden="true">
          {chartKey.map((entry) => (
            <li>
              <Swatch {...entry} />
              {entry.label}
            </li>
          ))}
        </ul>
      )}
      {/* Left to the script: a change of the answer does not replace the canvas, the script redraws it. */}
      <div class={`plot plot-${shape}`} id={`${id}-plot`} hx-morph-skip="">
        <canvas role="img" aria-labelledby={`${id}-title`} aria-describedby={`${id}-summary`} />
      </div>
      <details class="numbers" id={`${id}-numbers`}>
        <summary>The numbers behind it</summary>
        <section class="table-scroll" aria-labelledby={`${id}-title`} tabindex={0}>
          <table>{children}</table>
        </section>
      </details>
    </figure>
  );
}

function Swatch({ meaning, sign, dash, strong }: KeyEntry) {
  return (
    <svg class={`swatch is-${meaning}`} viewBox="0 0 28 12" aria-hidden="true" focusable="false">
      {sign === "line" && <path d="M0 6h28" stroke-dasharray={dash?.join(" ")} stroke-width={strong ? 3 : 2} />}
      {sign === "band" && <path class="area" d="M0 0h28v12H0z" />}
      {sign === "point" && <path class="solid" d="M14 1l5.5 10h-11z" />}
      {sign === "dot" && <circle class="solid" cx="14" cy="6" r="4" />}
      {sign === "ring" && <circle cx="14" cy="6" r="4" />}
      {sign === "outline" && <path d="M1 2h26v8H1z" />}
      {sign === "bar" && <path class="solid" d="M0 1h28v10H0z" />}
    </svg>
  );
}
