import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { BuiltServer } from "./at.ts";
import { DESK, openPage } from "./support.ts";

/**
 * The walk of an owner without a mouse, from the question to a quote: Tab and the keys of each control alone, the focus
 * always to be seen, and nowhere a trap.
 */

const at = new BuiltServer();

/** More presses than any page has controls. */
const MOST_TABS = 150;

interface Focused {
  outside: boolean;
  words: string;
  id: string;
  seen: boolean;
  ringed: boolean;
}

/** What has the focus: whether it is on screen and not covered, and whether it looks different from without. */
function focused(page: Page): Promise<Focused> {
  return page.evaluate(() => {
    const element = document.activeElement as HTMLElement;
    const { left, top, right, bottom } = element.getBoundingClientRect();
    const style = getComputedStyle(element);
    const words = element.getAttribute("aria-label") ?? element.textContent ?? "";
    const covered = [left + 2, (left + right) / 2, right - 2].every((x) => {
      const above = document.elementFromPoint(x, (top + bottom) / 2);
      return above === null || !(element.contains(above) || above.contains(element) || above.closest("label") !== null);
    });
    return {
      outside: element === document.body,
      words: words.trim().replace(/\s+/g, " "),
      id: element.id,
      seen: bottom > 0 && top < innerHeight && right > left && !covered,
      ringed: style.outlineStyle !== "none" || style.boxShadow !== "none",
    };
  });
}

/** Presses Tab until what is wanted has the focus; each stop on the way must be seen, and none may hold the focus. */
async function tabTo(page: Page, wanted: (at: Focused) => boolean, name: string): Promise<void> {
  let before = "";
  for (let presses = 0; presses < MOST_TABS; presses++) {
    await page.keyboard.press("Tab");
    const now = await focused(page);
    // Past the last control: the browser's own.
    if (now.outside) continue;
    const where = `${name}: at “${now.words}” ${now.id}`;
    expect(now.ringed, `${where} has no visible focus`).toBe(true);
    expect(now.seen, `${where} is not in sight`).toBe(true);
    if (wanted(now)) return;
    const mark = JSON.stringify(now);
    expect(mark === before && now.id !== "", `${where} holds the focus`).toBe(false);
    before = mark;
  }
  throw new Error(`${name} is not reached by Tab`);
}

const id = (wanted: string) => (now: Focused) => now.id === wanted;
const words = (wanted: RegExp) => (now: Focused) => wanted.test(now.words);

test("question, answer, save, log entry and quote by keyboard alone", { timeout: 120_000 }, async () => {
  const { page, problems, close } = await openPage(at.browser, { viewport: DESK });
  await page.goto(at.server.url);

  // The question.
  await tabTo(page, id("refrigerant"), "refrigerant");
  await page.keyboard.type("R-134a");
  await tabTo(page, id("nameplate"), "nameplate charge");
  await page.keyboard.type("23 oz");
  await tabTo(page, id("when-1"), "when");
  await page.keyboard.type("June 2024");
  await tabTo(page, id("amount-1"), "how much");
  await page.keyboard.type("12 oz");
  await tabTo(page, words(/^Show the answer$/), "Show the answer");
  await page.keyboard.press("Enter");
  await expect.poll(() => page.locator("#answer h2").textContent()).toMatch(/^(?!Your answer will be here).+\./);

  // The answer is saved.
  await tabTo(page, id("label"), "name");
  await page.keyboard.type("Blue estate");
  await tabTo(page, words(/^Save/), "Save");
  await page.keyboard.press("Enter");
  await page.waitForURL(/\/vehicles\/[0-9a-z]{20}/);
  const vehicle = new URL(page.url()).pathname;

  // An entry of its log.
  await tabTo(page, words(/^Add an entry$/), "Add an entry");
  await page.keyboard.press("Enter");
  await page.waitForURL(/log\/new/);
  const chosen = () => page.evaluate(() => (document.activeElement as HTMLInputElement).value);
  await tabTo(page, (now) => now.id.startsWith("what"), "what was done");
  for (let presses = 0; presses < 4 && (await chosen()) !== "topped-off"; presses++)
    await page.keyboard.press("ArrowDown");
  expect(await chosen()).toBe("topped-off");
  await page.keyboard.press("Space");
  await tabTo(page, id("added"), "refrigerant added");
  await page.keyboard.type("1 can");
  await page.keyboard.press("Enter");
  await page.waitForURL((url) => url.pathname === vehicle);
  expect(await page.locator(".charge-log").first().textContent()).toContain("12 oz");

  // A quote.
  await tabTo(page, words(/^Quotes$/), "quotes");
  await page.keyboard.press("Enter");
  await page.waitForURL(/#quotes$|\/quotes$/);
  if (!page.url().endsWith("/quotes")) {
    await tabTo(page, words(/^Make one$/), "make a quote");
    await page.keyboard.press("Enter");
    await page.waitForURL(/\/quotes$/);
  }
  await tabTo(page, id("customer"), "customer");
  await page.keyboard.type("A. Customer");
  await page.keyboard.press("Enter");
  await page.locator("#builder").waitFor();
  await tabTo(page, words(/^Add it$/), "another option");
  await page.keyboard.press("Enter");
  await page.waitForURL(/#option-/);
  await tabTo(page, words(/^\d lines?: \$/), "lines");
  await page.keyboard.press("Enter");
  await tabTo(page, id("price-a-1"), "a price");
  // An answer that a later change replaced was given up on.
  expect(problems.filter((problem) => !problem.endsWith("net::ERR_ABORTED"))).toEqual([]);
  await close();
});
