import { beforeAll, expect, test } from "vitest";
import { VAN } from "../store/samples.ts";
import { SetClock } from "./at.ts";
import { expectAccessible, expectNoSidewaysScroll, expectNothingTorn, openPage } from "./support.ts";

/** Every kind of page on the narrowest screen and with text twice as large (WCAG 1.4.10 and 1.4.4). */

const at = new SetClock("2026-05-04T09:30:00Z");
let vehicle: string;
let quote: string;
beforeAll(async () => {
  ({ id: vehicle } = await at.app.store.vehicles.create(
    { ...VAN, label: "Donaudampfschifffahrtsgesellschaftskombi" },
    {
      charge_log: [
        { date: "2024-06-14", cooling: "weak", added_g: 340, added_by: "cans", finish: "low-side" },
        { date: "2025-06-20", cooling: "weak", added_g: 340, added_by: "cans", finish: "low-side" },
        { date: "2026-05-04", cooling: "weak" },
      ],
    },
  ));
  const begun = await fetch(`${at.app.url}/vehicles/${vehicle}/quotes`, {
    method: "POST",
    redirect: "manual",
    headers: { Origin: at.app.url },
    body: new URLSearchParams({ submit_key: "quote", customer: "A. Customer", keep_years: "5", book: "retail" }),
  });
  quote = begun.headers.get("Location") ?? "";
});

const PAGES: readonly { name: string; path: () => string }[] = [
  { name: "question", path: () => "/" },
  { name: "example", path: () => "/?example=1" },
  { name: "repair", path: () => `/?refrigerant=R-134a&nameplate=20+oz${LINES}&today=weak&keep=5&as_of=2026-05-04` },
  {
    name: "high voltage",
    path: () => "/?refrigerant=R-134a&nameplate=20+oz&electric=yes&when=2025-05-04&did=scale&today=weak",
  },
  { name: "no pressure", path: () => "/?refrigerant=R-134a&nameplate=20+oz&when=2025-05-04&did=cans&today=empty" },
  { name: "vehicle", path: () => `/vehicles/${vehicle}` },
  { name: "plan", path: () => `/vehicles/${vehicle}/top-off?compressor=belt&contents=as-labeled&ambient=85` },
  { name: "readings", path: () => "/readings?ambient=85&low=15&high=120" },
  { name: "quotes", path: () => "/quotes" },
  { name: "a shop's day", path: () => "/shop" },
  { name: "fleet", path: () => "/fleet" },
  { name: "list", path: () => "/vehicles" },
  { name: "prices", path: () => "/prices" },
  { name: "rules", path: () => "/rules?where=us-ca" },
  { name: "leak tests", path: () => "/leak-tests" },
  { name: "a customer's quote", path: () => `${quote}/preview` },
];

const LINES = ["2026-01-04", "2025-10-04"].map((day) => `&when=${day}&did=cans&amount=10+oz&cooled=weak`).join("");

test.each(PAGES)(
  "$name: no sideways scroll at 320 px nor at 200 % text, targets large enough, no number torn from its unit",
  async ({ path }) => {
    const { page, close } = await openPage(at.browser, { viewport: { width: 320, height: 640 } });
    await page.goto(at.app.url + path());
    await page.evaluate(() => scrollTo(0, document.body.scrollHeight));
    await expectNoSidewaysScroll(page);
    await expectAccessible(page, ["target-size"]);
    for (const width of [320, 375, 768]) {
      await page.setViewportSize({ width, height: 640 });
      await expectNothingTorn(page);
    }
    await page.setViewportSize({ width: 1280, height: 900 });
    await page.evaluate(() => document.documentElement.style.setProperty("font-size", "200%"));
    // Charts take up the new width a moment later.
    await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(1280);
    await close();
  },
);

test("a link to what is folded opens it", async () => {
  const { page, close } = await openPage(at.browser, { viewport: { width: 360, height: 740 } });
  await page.goto(at.app.url + PAGES[2]!.path());
  const ask = page.getByRole("heading", { name: "Ask for" });
  expect(await ask.isVisible()).toBe(false);
  await page.getByRole("link", { name: "What to ask a shop for" }).click();
  await expect.poll(() => ask.isVisible()).toBe(true);
  expect(await page.getByText("Sealer. It damages seals").first().isVisible()).toBe(true);
  await close();
});
