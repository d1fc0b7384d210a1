import type { ChartConfiguration, ChartDataset, Point } from "chart.js";
import { axis, frame, tooltip } from "./frame.ts";
import { opens } from "./opens.ts";
import { faded, type Palette } from "./palette.ts";
import { rowsOf, type Source } from "./source.ts";
import type { Row } from "./table.ts";

/** Ticks of the axes, in months. The axes are logarithmic, so that months and years can both be read. */
const TICKS = [0.5, 1, 2, 3, 6, 12, 24, 60, 120, 240] as const;

/** Each past charge: how long it was said to last, with the likely range, and how long it did. Outside it is hollow. */
export function predictedAndCame(source: Source): ChartConfiguration<"line", Point[]> {
  const { palette } = source;
  const rows = [...rowsOf(source, "inside"), ...rowsOf(source, "outside")];
  const ends = rows.flatMap(({ values }) => [at(values.came), at(values.from), at(values.to)]).filter(Number.isFinite);
  const [min, max] = [Math.min(...ends), Math.max(...ends)];
  const scale = (title: string) => ({
    type: "linear" as const,
    ...axis(palette, title),
    min: min - 0.05,
    max: max + 0.05,
    afterBuildTicks: (one: { ticks: { value: number }[] }) => {
      one.ticks = TICKS.map((months) => ({ value: Math.log10(months) })).filter(
        ({ value }) => value >= min - 0.05 && value <= max + 0.05,
      );
    },
    ticks: { ...axis(palette, "").ticks, callback: (value: string | number) => saidTick(10 ** Number(value)) },
  });
  return {
    type: "line",
    data: {
      datasets: [
        charges(rows, palette),
        ranges(rows, palette),
        {
          label: "as said",
          data: [
            { x: min, y: min },
            { x: max, y: max },
          ],
          borderColor: palette["ink-soft"],
          borderDash: [5, 4],
          borderWidth: 1.5,
          pointRadius: 0,
          pointHitRadius: 0,
        },
      ],
    },
    options: {
      ...frame(),
      ...opens(rows),
      interaction: { mode: "nearest", intersect: true },
      scales: { x: scale("said to last"), y: scale("lasted") },
      plugins: {
        tooltip: {
          ...tooltip<"line">(palette, {
            title: (items) => rows[items[0]?.dataIndex ?? 0]?.name ?? "",
            label: ({ dataIndex }) => {
              const { charged, middle, came } = rows[dataIndex]?.texts ?? {};
              return [`charged ${charged}`, `said: ${middle}`, `came: ${came}`];
            },
          }),
          filter: ({ datasetIndex }) => datasetIndex === 0,
        },
      },
    },
  };
}

/** The position of a number of months on an axis: its logarithm. */
function at(months: number | null | undefined): number {
  return Math.log10(Math.max(TICKS[0], months ?? Number.NaN));
}

/** A point for each charge. */
function charges(rows: readonly Row[], palette: Palette): ChartDataset<"line", Point[]> {
  const hollow = rows.map(({ kind }) => kind === "outside");
  return {
    label: "charge",
    showLine: false,
    data: rows.map(({ values }) => ({ x: at(values.middle), y: at(values.came) })),
    pointRadius: 4.5,
    pointHoverRadius: 6,
    pointBackgroundColor: hollow.map((is) => (is ? palette.canvas : palette.charge)),
    pointBorderColor: palette.charge,
    pointBorderWidth: hollow.map((is) => (is ? 2 : 0)),
  };
}

/** A level line from end to end of each likely range. */
function ranges(rows: readonly Row[], palette: Palette): ChartDataset<"line", Point[]> {
  return {
    label: "likely range",
    data: rows.flatMap(({ values }) => [
      { x: at(values.from), y: at(values.came) },
      { x: at(values.to), y: at(values.came) },
      { x: Number.NaN, y: Number.NaN },
    ]),
    borderColor: faded(palette.charge, rows.length > 60 ? 0.25 : 0.4),
    borderWidth: 1.5,
    pointRadius: 0,
    pointHitRadius: 0,
  };
}

function saidTick(months: number): string {
  const rounded = Math.round(2 * months) / 2;
  return rounded < 12 ? `${rounded} mo` : `${Math.round(rounded / 12)} yr`;
}
