import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { CLIMATES } from "../../data/climates.ts";
import { pageAnswer } from "../../src/core/page-answer.ts";
import type { AssessAnswer, AssessRequest } from "../../src/core/question/contract.ts";
import { BuiltServer } from "./at.ts";
import { openPage, PHONE } from "./support.ts";

const at = new BuiltServer();

/** International avoirdupois ounce, exact (NIST SP 811, appendix B). */
const GRAMS_PER_OUNCE = 28.349523125;
const CLIMATE = "warm-continental";

/** The same question twice: as a person types it, and as the API takes it, written down by hand. */
const AS_TYPED =
  "/?units=us&refrigerant=R-134a&nameplate=24+oz&climate=warm-continental" +
  "&when=2023-06-10&did=cans&amount=12+oz&cooled=weak" +
  "&when=2024-07-01&did=scale&amount=8+oz&cooled=weak" +
  "&when=2025-06-20&did=weighed&amount=&cooled=weak" +
  "&today=weak&keep=6&service=diy&as_of=2026-05-01";
const AS_ASKED = {
  as_of: "2026-05-01",
  vehicle: {
    refrigerant: "R-134a",
    nameplate_g: 24 * GRAMS_PER_OUNCE,
    monthly_mean_c: CLIMATES.find(({ id }) => id === CLIMATE)?.monthly_mean_c,
  },
  log: [
    { date: "2023-06-10", cooling: "weak", added_g: 12 * GRAMS_PER_OUNCE, added_by: "cans", finish: "unknown" },
    { date: "2024-07-01", cooling: "weak", added_g: 8 * GRAMS_PER_OUNCE, added_by: "scale", finish: "unknown" },
    { date: "2025-06-20", cooling: "weak", finish: "weighed" },
    { date: "2026-05-01", cooling: "weak" },
  ],
  plan: { keep_years: 6, service: "diy" },
};

interface Drawn {
  /** Lines of words, or words. */
  labels: (string | string[])[];
  datasets: { label: string; data: unknown[] }[];
  marks: { value: number; label: string }[];
}

/** What every chart shows, once all are drawn. */
async function drawnCharts(page: Page): Promise<Record<string, Drawn>> {
  await page.addInitScript(() => {
    const drawn: Record<string, unknown> = {};
    Object.assign(window, { drawn });
    document.addEventListener("chart:drawn", (event) => {
      const { data, config } = (event as CustomEvent).detail;
      drawn[(event.target as HTMLElement).id] = JSON.parse(
        JSON.stringify({
          labels: data.labels,
          datasets: data.datasets.map(({ label, data }: { label: string; data: unknown }) => ({ label, data })),
          marks: config.options.plugins.marks?.marks ?? [],
        }),
      );
    });
  });
  await page.goto(at.server.url + AS_TYPED);
  await page.evaluate(() => {
    for (const fold of document.querySelectorAll<HTMLDetailsElement>("details.fold")) fold.open = true;
  });
  for (const figure of await page.locator("figure[data-chart]").all()) await figure.scrollIntoViewIfNeeded();
  await page.waitForFunction(() => Object.keys(Reflect.get(window, "drawn")).length === 5);
  return page.evaluate(() => Reflect.get(window, "drawn"));
}

/** The numbers of a table's column, unrounded, rows of the given kinds. */
function columnOf(page: Page, figure: string, column: string, kinds: readonly string[]): Promise<number[]> {
  return page.evaluate(
    ({ figure, column, kinds }) => {
      const table = document.querySelector<HTMLTableElement>(`#${figure} table`);
      const at = [...(table?.tHead?.rows[0]?.cells ?? [])].findIndex((cell) => cell.dataset.column === column);
      return [...(table?.querySelectorAll<HTMLTableRowElement>("tbody tr") ?? [])]
        .filter((row) => kinds.includes(row.dataset.kind ?? ""))
        .map((row) => Number(row.cells[at]?.querySelector("data")?.value));
    },
    { figure, column, kinds },
  );
}

function expectClose(found: readonly number[], expected: readonly number[]): void {
  expect(found.length).toBe(expected.length);
  found.forEach((value, i) => {
    const wanted = expected[i] ?? Number.NaN;
    expect(Math.abs(value - wanted), `${i}: ${value} instead of ${wanted}`).toBeLessThanOrEqual(
      1e-9 * Math.max(1, Math.abs(wanted)),
    );
  });
}

function runningTotals(values: readonly number[]): number[] {
  return values.map((_, i) => values.slice(0, i + 1).reduce((sum, one) => sum + one, 0));
}

describe("what the charts show equals their tables and the API", () => {
  let page: Page;
  let close: () => Promise<void>;
  let drawn: Record<string, Drawn>;
  let answer: AssessAnswer;
  /** What only pages show, from the model itself. */
  const page_answer = pageAnswer(AS_ASKED as AssessRequest);
  beforeAll(async () => {
    const opened = await openPage(at.browser, { viewport: PHONE });
    ({ page, close } = opened);
    drawn = await drawnCharts(page);
    const response = await fetch(`${at.server.url}/api/assess`, {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify(AS_ASKED),
    });
    expect(response.status).toBe(200);
    answer = (await response.json()) as AssessAnswer;
  });
  afterAll(() => close());

  function chart(id: string): Drawn {
    const found = drawn[id];
    if (found === undefined) throw new Error(`No chart ${id} was drawn`);
    return found;
  }

  test("charge curve, in ounces", async () => {
    const { datasets, marks } = chart("charge-curve");
    const topped_off = page_answer.topped_off ?? [];
    expect(topped_off.length).toBeGreaterThan(0);
    const past = answer.forecast.curve.slice(0, -8);
    for (const [i, column] of (["mean_g", "p05_g", "p95_g"] as const).entries()) {
      const points = datasets[i]?.data as { x: number; y: number }[];
      const curve = [...past, ...topped_off];
      expectClose(
        points.map(({ y }) => y * GRAMS_PER_OUNCE),
        curve.map((point) => point[column]),
      );
      expectClose(
        await columnOf(page, "charge-curve", column, ["before", "filled", "looked", "today", "forecast"]),
        answer.forecast.curve.map((point) => point[column]),
      );
      expect(points.map(({ x }) => new Date(x).toISOString().slice(0, 10))).toEqual(curve.map(({ date }) => date));
    }
    const idle = datasets.find(({ label }) => label === "if nothing is added")?.data as { y: number }[];
    expectClose(
      idle.map(({ y }) => y * GRAMS_PER_OUNCE),
      answer.forecast.curve.slice(-9).map(({ mean_g }) => mean_g),
    );
    const low = marks.find(({ label }) => label === "cools poorly below");
    expectClose([(low?.value ?? 0) * GRAMS_PER_OUNCE], [answer.leak.low_below_g]);
    const watch = marks.find(({ label }) => label === "watch date");
    const top_off = answer.options.find(({ id }) => id === "top-off");
    expect(new Date(watch?.value ?? 0).toISOString().slice(0, 10)).toBe(top_off?.watch_date);
  });

  test("cost over the years, with the whole range at their end", async () => {
    const { datasets } = chart("cost-over-years");
    const focus = answer.options.find(({ id }) => id === answer.verdict.option);
    for (const [i, { id, cost_by_year }] of answer.options.entries()) {
      const points = datasets[i]?.data as { x: number; y: number }[];
      const totals = runningTotals(cost_by_year);
      expect(points.map(({ x }) => x)).toEqual([0, 1, 2, 3, 4, 5, 6]);
      expectClose(
        points.slice(1).map(({ y }) => y),
        totals,
      );
      expectClose(await columnOf(page, "cost-over-years", id, ["year"]), totals);
    }
    for (const [label, bound] of [
      ["likely range from", focus?.cost_p05],
      ["likely range to", focus?.cost_p95],
    ] as const) {
      const points = datasets.find((one) => one.label === label)?.data as { y: number }[];
      expectClose([points.at(-1)?.y ?? 0], [bound ?? 0]);
    }
  });

  test("release, a piece for each year, adding up to the CO₂e", async () => {
    const { labels, datasets } = chart("release-by-year");
    expect(datasets.length).toBe(6);
    const names = ["Repair it", "Dye test first", "Electronic leak test first", "Top it off"];
    for (const [o, option] of answer.options.entries()) {
      const row = labels.findIndex((lines) => [lines].flat().join(" ") === names[o]);
      const pieces = datasets.map(({ data }) => data[row] as number);
      expectClose(
        pieces,
        option.release_by_year_g.map((grams) => (grams * option.co2e_kg) / option.release_g),
      );
      expectClose([pieces.reduce((sum, one) => sum + one, 0)], [option.co2e_kg]);
    }
  });

  test("sensitivity", async () => {
    const { datasets } = chart("sensitivity");
    expect(datasets[0]?.data).toEqual(answer.sensitivity.map(({ low, high }) => [low.gap, high.gap]));
  });

  test("where it leaks, in percent, likeliest first", async () => {
    const { datasets } = chart("where-it-leaks");
    const percents = answer.locations.map(({ probability }) => probability * 100).toSorted((a, b) => b - a);
    expectClose(datasets[0]?.data as number[], percents);
  });

  test("the table of options", async () => {
    for (const { id, expected_cost, release_g, co2e_kg } of answer.options) {
      const values = await page
        .locator(`.options [data-option=${id}] data`)
        .evaluateAll((cells) => cells.map((cell) => Number((cell as HTMLDataElement).value)));
      expectClose(values.slice(0, 3), [expected_cost, release_g, co2e_kg]);
    }
  });
});
