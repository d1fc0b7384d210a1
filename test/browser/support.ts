import { readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type axe from "axe-core";
import { type Browser, type BrowserContextOptions, chromium, type Page } from "playwright-core";
import { expect, inject } from "vitest";
import { DIST } from "../support/paths.ts";

const FLAGS = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

export const PHONE = { width: 360, height: 740 };
export const DESK = { width: 1280, height: 900 };

/** Chromium, to be closed by the one who launched it; `zone` is where its machine is, this one's by itself. */
export function launchChromium(zone?: string): Promise<Browser> {
  const env = { ...process.env, ...(zone === undefined ? {} : { TZ: zone }) };
  return chromium.launch({ executablePath: inject("chromium_path"), headless: true, args: FLAGS, env });
}

/** A page in a profile of its own, with the list of what went wrong in it so far. */
export interface WatchedPage {
  page: Page;
  /**
   * Console errors, uncaught errors, violations of the content security policy, answers of 500 and above, failed loads.
   */
  problems: string[];
  close(): Promise<void>;
}

/**
 * Opens a blank page of the given size; `options` are Playwright's (`colorScheme`, `javaScriptEnabled`,
 * `reducedMotion`, …). With `works_offline` it gets the worker that answers without a connection, as browsers do.
 */
export async function openPage(
  browser: Browser,
  { works_offline = false, ...options }: BrowserContextOptions & { works_offline?: boolean } = {},
): Promise<WatchedPage> {
  const context = await browser.newContext({ viewport: DESK, ...options });
  const page = await context.newPage();
  const problems: string[] = [];
  // Each new profile would install it anew, beside what is tested.
  if (!works_offline) await page.addInitScript(() => Reflect.deleteProperty(Navigator.prototype, "serviceWorker"));
  await page.addInitScript(() => {
    document.addEventListener("securitypolicyviolation", ({ effectiveDirective, blockedURI, sourceFile, lineNumber }) =>
      console.error(`blocked by ${effectiveDirective}: ${blockedURI} at ${sourceFile}:${lineNumber}`),
    );
  });
  page.on("console", (message) => {
    if (message.type() === "error" || message.type() === "warning")
      problems.push(`${message.type()}: ${message.text()}`);
  });
  page.on("pageerror", (error) => problems.push(`uncaught: ${error.message}`));
  page.on("requestfailed", (request) => problems.push(`failed: ${request.url()} ${request.failure()?.errorText}`));
  page.on("response", (response) => {
    if (response.status() >= 500) problems.push(`${response.status()}: ${response.url()}`);
  });
  return { page, problems, close: () => context.close() };
}

/**
 * For tests that look at one address after another: gives the same page each time, opened when it is first asked for,
 * so that styles and scripts are loaded and compiled once. It goes with the browser.
 */
export function sharedPage(
  browser: () => Browser,
  options: BrowserContextOptions = {},
): () => Promise<Pick<WatchedPage, "page" | "problems">> {
  let opened: Promise<WatchedPage> | undefined;
  return async () => {
    opened ??= openPage(browser(), options);
    const { page, problems } = await opened;
    problems.length = 0;
    return { page, problems };
  };
}

const AXE = readFileSync(fileURLToPath(import.meta.resolve("axe-core/axe.min.js")), "utf8");

/** Rules that can come out otherwise in the dark than in the light. */
const COLOUR_RULES = ["color-contrast", "link-in-text-block"];

/**
 * Fails when axe finds anything against WCAG 2.2 A and AA or its best practices in the page as it is now; with `rules`,
 * against those alone.
 */
export async function expectAccessible(page: Page, rules?: string[]): Promise<void> {
  // Only what it found comes out of the page: the rest is many times as much.
  if (!(await page.evaluate(() => "axe" in window))) await page.evaluate(AXE);
  const found = await page.evaluate(async (only) => {
    const { violations } = await (window as unknown as { axe: typeof axe }).axe.run({
      resultTypes: ["violations"],
      ...(only === undefined ? {} : { runOnly: only }),
    });
    return violations.map(
      ({ id, help, nodes }) => `${id}: ${help} (${nodes.map(({ target }) => target.join(" ")).join("; ")})`,
    );
  }, rules);
  expect(found, found.join("\n")).toEqual([]);
}

/**
 * Looks at the page as it is now on a phone and on a desk, in the light and in the dark: readable by everyone, nowhere
 * too wide. Keeps a picture of each under `name`. `whenShown` waits for what is drawn anew after the size changed.
 */
export async function expectGoodEverywhere(page: Page, name: string, whenShown?: () => Promise<void>): Promise<void> {
  for (const [device, viewport] of [
    ["phone", PHONE],
    ["desk", DESK],
  ] as const) {
    await page.setViewportSize(viewport);
    for (const colorScheme of ["light", "dark"] as const) {
      await page.emulateMedia({ colorScheme });
      await whenShown?.();
      // Colors are the same at both sizes, and a desk shows all that has one.
      if (colorScheme === "light") await expectAccessible(page);
      else if (device === "desk") await expectAccessible(page, COLOUR_RULES);
      await expectNoSidewaysScroll(page);
      await keepShot(page, `${name}-${device}-${colorScheme}`);
    }
  }
}

/** Fails when the page is wider than its window: nobody should have to scroll sideways to read. */
export async function expectNoSidewaysScroll(page: Page): Promise<void> {
  const { content, window } = await page.evaluate(() => ({
    content: document.documentElement.scrollWidth,
    window: document.documentElement.clientWidth,
  }));
  expect(content).toBeLessThanOrEqual(window);
}

/**
 * Fails when a line ends inside a refrigerant's name, between a number and its unit, or inside a chance, in any text in
 * sight: `R-134a`, `12 oz`, `16 months`, `96 of 100`, `1,450 kg CO₂e`.
 */
export async function expectNothingTorn(page: Page): Promise<void> {
  const torn = await page.evaluate(() => {
    const whole =
      /R-1\d+\w*|\d\s(oz|lb|g|kg|psi|kPa|bar|in|°F|°C|days?|weeks?|months?|years?)(?![\w])|½\syears|\d+\sof\s100/g;
    const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    const found: string[] = [];
    for (let node = texts.nextNode(); node !== null; node = texts.nextNode()) {
      if (node.parentElement?.checkVisibility({ visibilityProperty: true }) !== true) continue;
      for (const match of (node.nodeValue ?? "").matchAll(whole)) {
        const range = document.createRange();
        range.setStart(node, match.index);
        range.setEnd(node, match.index + match[0].length);
        const lines = new Set([...range.getClientRects()].map(({ top }) => Math.round(top)));
        if (lines.size > 1) found.push(`${match[0]} in “${(node.nodeValue ?? "").trim().slice(0, 80)}”`);
      }
    }
    return found;
  });
  expect(torn, torn.join("\n")).toEqual([]);
}

/**
 * Keeps a picture of the whole page for people to look at, in `dist/shots/<name>.png`; only when asked for with
 * `SHOTS=yes`, because a picture takes longer than what is tested on the page.
 */
export async function keepShot(page: Page, name: string): Promise<void> {
  if (process.env.SHOTS !== "yes") return;
  await page.screenshot({ path: join(DIST, "shots", `${name}.png`), fullPage: true });
}
