import { expect, test } from "vitest";
import { SetClock } from "./at.ts";
import { DESK, PHONE, sharedPage } from "./support.ts";

/**
 * How far one has to scroll for a whole answer, of every kind, what is folded left closed. The budget stands in the
 * design: 4,500 px on a phone, 3,000 px on a desk.
 */
const MOST = [
  { device: "phone", viewport: PHONE, most: 4500 },
  { device: "desk", viewport: DESK, most: 3000 },
] as const;

const at = new SetClock("2026-05-04T09:30:00Z");

const VAN = "units=us&refrigerant=R-134a&nameplate=23+oz&climate=warm-continental";
const BY_OWNER = "keep=5&service=diy&tools=yes";
const can = (when: string) => `when=${when}&did=cans&amount=12+oz&cooled=weak`;
const shop = (when: string) => `when=${when}&did=scale&amount=12+oz&cooled=weak`;
const YEARLY = `${can("2024-05-01")}&${can("2025-05-20")}`;

/** Kinds of answer, each by its question, and how its sentence begins. */
const KINDS = [
  { kind: "example", path: "/?example=1", says: /^Top it off\./ },
  { kind: "top off", path: `/?${VAN}&${YEARLY}&today=weak&${BY_OWNER}`, says: /^Top it off\./ },
  { kind: "leave it", path: `/?${VAN}&${YEARLY}&today=ok&${BY_OWNER}`, says: /^Leave it for now\./ },
  {
    kind: "fast leak",
    path: `/?${VAN}&${can("2025-09-06")}&${can("2026-01-04")}&today=weak&${BY_OWNER}`,
    says: /^Repair it\./,
  },
  {
    kind: "electronic test",
    path: `/?${VAN}&${shop("2024-03-15")}&${shop("2025-03-20")}&today=weak&keep=12&service=shop`,
    says: /^Have a shop find the leak first/,
  },
  {
    kind: "rules that bar",
    path: `/?${VAN}&${shop("2023-11-15")}&${shop("2025-03-30")}&today=weak&keep=10&service=shop&where=us-wi`,
    says: /^Repair it\./,
  },
  { kind: "empty system", path: `/?${VAN}&${can("2024-12-20")}&today=empty&${BY_OWNER}`, says: /No pressure is left/ },
  { kind: "nothing logged", path: `/?${VAN}&today=weak&${BY_OWNER}`, says: /^Top it off\./ },
  {
    kind: "unknown nameplate",
    path: `/?refrigerant=unsure&nameplate=don%27t+know&when=2024-12-20&did=cans&amount=1+can&cooled=weak&today=weak&${BY_OWNER}`,
    says: /^Top it off\./,
  },
  {
    kind: "high voltage",
    path: `/?${VAN}&electric=yes&${shop("2024-12-20")}&today=weak&${BY_OWNER}`,
    says: /^Have a shop/,
  },
  { kind: "a price of carbon", path: `/?${VAN}&${YEARLY}&today=weak&${BY_OWNER}&carbon=190`, says: /dye/ },
  {
    kind: "poor again at once",
    path: `/?${VAN}&${can("2024-09-10")}&${can("2026-04-25")}&today=weak&${BY_OWNER}`,
    says: /^Take readings/,
  },
  {
    kind: "by law a shop's",
    path: `/?units=us&refrigerant=R-12&nameplate=40+oz&${can("2023-11-15")}&${can("2025-07-08")}&today=weak&${BY_OWNER}&where=us`,
    says: /^Have a shop/,
  },
] as const;

const look = sharedPage(() => at.browser);

test.each(KINDS)("$kind: at most 4,500 px on a phone, 3,000 px on a desk", async ({ path, says }) => {
  const { page } = await look();
  await page.goto(at.app.url + path);
  expect(await page.locator("#answer h2").textContent()).toMatch(says);
  for (const { device, viewport, most } of MOST) {
    await page.setViewportSize(viewport);
    await page.waitForLoadState("networkidle");
    const height = await page.evaluate(() => document.documentElement.scrollHeight);
    expect(height, device).toBeLessThanOrEqual(most);
  }
});

/** The pages that are worked on longest, with sample records; before, 6,279 and 4,131 px, 8,111 and 4,066 px. */
const WORKED_ON = [
  { kind: "a vehicle", most: [4200, 2750] },
  { kind: "a quote's builder", most: [3900, 2800] },
] as const;

test.each(WORKED_ON)("$kind: at most $most px, what is secondary folded", async ({ kind, most }) => {
  const { page } = await look();
  const post = (path: string, form: Record<string, string>) =>
    page.request.post(at.app.url + path, { form, headers: { Origin: at.app.url } });
  await post("/vehicles/examples", { submit_key: "examples" });
  await page.goto(`${at.app.url}/vehicles`);
  await page.getByRole("link", { name: "Green hatchback" }).click();
  await page.waitForURL(/\/vehicles\/[0-9a-z]{20}/);
  if (kind !== "a vehicle") {
    const begun = { submit_key: "quote", customer: "A. Customer", keep_years: "5", book: "retail" };
    const quote = await post(`${new URL(page.url()).pathname}/quotes`, begun);
    await page.goto(quote.url());
    await page.locator("#builder").waitFor();
  }
  for (const [i, { device, viewport }] of MOST.entries()) {
    await page.setViewportSize(viewport);
    await page.waitForLoadState("networkidle");
    expect(await page.evaluate(() => document.documentElement.scrollHeight), device).toBeLessThanOrEqual(most[i]!);
  }
});
