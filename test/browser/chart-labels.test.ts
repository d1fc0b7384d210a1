import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { SetClock } from "./at.ts";
import { openPage } from "./support.ts";

/** Whatever is written into a chart is whole: inside the drawing, at its own width, and not over other words. */

const at = new SetClock("2026-05-04T09:30:00Z");

/** Words as they were drawn last, in CSS pixels of their canvas. */
interface Written {
  chart: string;
  words: string;
  /** Of all four corners. */
  left: number;
  right: number;
  top: number;
  bottom: number;
  /** Of the canvas. */
  width: number;
  height: number;
  /** Pressed together to fit. */
  squeezed: boolean;
}

/** Notes what every canvas has on it, from the moment at which it is wiped. */
function noteWords(): void {
  const written = new Map<HTMLCanvasElement, unknown[]>();
  const { fillText, clearRect } = CanvasRenderingContext2D.prototype;
  CanvasRenderingContext2D.prototype.clearRect = function (...area) {
    written.set(this.canvas, []);
    clearRect.apply(this, area);
  };
  CanvasRenderingContext2D.prototype.fillText = function (words, x, y, most) {
    const box = this.measureText(words);
    const matrix = this.getTransform();
    const corners = [
      [x - box.actualBoundingBoxLeft, y - box.actualBoundingBoxAscent],
      [x + box.actualBoundingBoxRight, y - box.actualBoundingBoxAscent],
      [x - box.actualBoundingBoxLeft, y + box.actualBoundingBoxDescent],
      [x + box.actualBoundingBoxRight, y + box.actualBoundingBoxDescent],
    ].map(([cx, cy]) => matrix.transformPoint({ x: cx!, y: cy! }));
    const per_pixel = this.canvas.width / this.canvas.clientWidth;
    const across = corners.map((corner) => corner.x / per_pixel);
    const down = corners.map((corner) => corner.y / per_pixel);
    if (words.trim() !== "")
      written.get(this.canvas)?.push({
        chart: this.canvas.closest("figure")?.id ?? "",
        words,
        left: Math.min(...across),
        right: Math.max(...across),
        top: Math.min(...down),
        bottom: Math.max(...down),
        width: this.canvas.clientWidth,
        height: this.canvas.clientHeight,
        squeezed: most !== undefined && box.width > most + 1,
      });
    if (most === undefined) fillText.call(this, words, x, y);
    else fillText.call(this, words, x, y, most);
  };
  Object.assign(window, { written });
}

async function writtenOn(page: Page): Promise<Written[]> {
  await page.evaluate(() => {
    for (const fold of document.querySelectorAll<HTMLDetailsElement>("details.fold")) fold.open = true;
  });
  for (const figure of await page.locator("figure[data-chart]").all()) {
    await figure.scrollIntoViewIfNeeded();
    await page.waitForTimeout(120);
  }
  await page.waitForTimeout(400);
  return page.evaluate(() => [...(Reflect.get(window, "written") as Map<unknown, Written[]>).values()].flat());
}

const VAN = "units=us&refrigerant=R-134a&nameplate=23+oz&climate=warm-continental";
const can = (when: string) => `when=${when}&did=cans&amount=12+oz&cooled=weak`;
const QUESTIONS = {
  example: "/?example=1",
  "a fast leak": `/?${VAN}&${can("2025-09-06")}&${can("2026-01-04")}&today=weak&keep=5&service=diy`,
  "a cost that crosses": `/?${VAN}&${can("2024-05-01")}&${can("2025-05-20")}&today=weak&keep=20&service=shop`,
  "grams, euros' length of history":
    "/?units=metric&refrigerant=R-1234yf&nameplate=500&when=2014-06-01&did=scale&amount=200&cooled=weak&when=2025-06-01&did=scale&amount=200&cooled=weak&today=ok&keep=8&service=shop",
};

test.each(
  Object.entries(QUESTIONS).flatMap(([question, path]) =>
    [320, 360, 768, 1280].map((width) => ({ question, path, width })),
  ),
)("$question, $width px wide: no label is cut off, squeezed or written over", async ({ path, width }) => {
  const { page, close } = await openPage(at.browser, { viewport: { width, height: 900 } });
  await page.addInitScript(noteWords);
  await page.goto(at.app.url + path);
  const written = await writtenOn(page);
  expect(new Set(written.map(({ chart }) => chart)).size).toBeGreaterThanOrEqual(4);
  const EDGE = 1;
  const cut = written.filter(
    ({ left, right, top, bottom, width, height }) =>
      left < -EDGE || right > width + EDGE || top < -EDGE || bottom > height + EDGE,
  );
  expect(cut.map(({ chart, words }) => `${chart}: ${words}`)).toEqual([]);
  expect(written.filter(({ squeezed }) => squeezed).map(({ chart, words }) => `${chart}: ${words}`)).toEqual([]);
  const over = written.flatMap((one, i) =>
    written
      .slice(i + 1)
      .filter((other) => other.chart === one.chart && areOver(one, other))
      .map((other) => `${one.chart}: ${one.words} / ${other.words}`),
  );
  expect(over).toEqual([]);
  await close();
});

/** Whether two words share ground, a pixel at the edges left out. */
function areOver(a: Written, b: Written): boolean {
  return a.left < b.right - 1 && b.left < a.right - 1 && a.top < b.bottom - 1 && b.top < a.bottom - 1;
}
