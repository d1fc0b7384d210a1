import type { Page, Route } from "playwright-core";
import { beforeAll, expect, test } from "vitest";
import { VAN } from "../store/samples.ts";
import { SetClock } from "./at.ts";
import { DESK, openPage, PHONE } from "./support.ts";

/**
 * How much a page jumps while it arrives (Cumulative Layout Shift, Layout Instability API), with a font and scripts
 * that come late: nobody should lose the line that they are reading.
 */
const MOST = 0.02;

const at = new SetClock("2026-05-04T09:30:00Z");
let vehicle: string;
let quote: string;
beforeAll(async () => {
  ({ id: vehicle } = await at.app.store.vehicles.create(VAN, {
    charge_log: [
      { date: "2024-06-14", cooling: "weak", added_g: 340, added_by: "cans", finish: "low-side" },
      { date: "2025-06-20", cooling: "weak", added_g: 340, added_by: "cans", finish: "low-side" },
      { date: "2026-05-04", cooling: "weak" },
    ],
  }));
  const begun = await fetch(`${at.app.url}/vehicles/${vehicle}/quotes`, {
    method: "POST",
    redirect: "manual",
    headers: { Origin: at.app.url },
    body: new URLSearchParams({ submit_key: "quote", customer: "A. Customer", keep_years: "5", book: "retail" }),
  });
  quote = begun.headers.get("Location") ?? "";
});

const PAGES = [
  { name: "question", path: () => "/" },
  { name: "example", path: () => "/?example=1" },
  { name: "vehicle", path: () => `/vehicles/${vehicle}` },
  { name: "quote, as the customer sees it", path: () => `${quote}/preview` },
  { name: "quote, as the shop writes it", path: () => quote },
];

test.each(
  PAGES.flatMap((page) => [
    { ...page, device: "phone", viewport: PHONE },
    { ...page, device: "desk", viewport: DESK },
  ]),
)("$name on a $device: layout shift under 0.02", async ({ path, viewport }) => {
  const { page, close } = await openPage(at.browser, { viewport });
  await watchShifts(page);
  const late = (ms: number) => async (route: Route) => {
    await new Promise((resolve) => setTimeout(resolve, ms));
    await route.continue();
  };
  await page.route(/\.woff2$/, late(400));
  await page.route(/\.js$/, late(250));
  await page.goto(at.app.url + path());
  await page.evaluate(() => document.fonts.ready);
  await page.waitForLoadState("networkidle");
  await page.waitForTimeout(400);
  await page.evaluate(async () => {
    for (let y = 0; y < document.body.scrollHeight; y += 500) {
      scrollTo(0, y);
      await new Promise((resolve) => setTimeout(resolve, 80));
    }
  });
  const { shifted, seen } = await page.evaluate(() => ({
    shifted: Reflect.get(window, "shifted") as number,
    seen: PerformanceObserver.supportedEntryTypes.includes("layout-shift"),
  }));
  expect(seen).toBe(true);
  expect(shifted).toBeLessThan(MOST);
  await close();
});

async function watchShifts(page: Page): Promise<void> {
  await page.addInitScript(() => {
    Object.assign(window, { shifted: 0 });
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries() as (PerformanceEntry & { value: number })[])
        Object.assign(window, { shifted: Reflect.get(window, "shifted") + entry.value });
    }).observe({ type: "layout-shift", buffered: true });
  });
}
