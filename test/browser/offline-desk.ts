import type { Browser, Page } from "playwright-core";
import { expect } from "vitest";
import { openPage, PHONE, type WatchedPage } from "./support.ts";

/** A page on a phone that has been here once, with what works without a connection installed. */
export async function visited(browser: Browser, address: string): Promise<WatchedPage> {
  const opened = await openPage(browser, { viewport: PHONE, works_offline: true, reducedMotion: "reduce" });
  await opened.page.goto(address);
  await controlled(opened.page);
  return opened;
}

export const controlled = (page: Page) =>
  expect.poll(() => page.evaluate(() => navigator.serviceWorker.controller?.scriptURL)).toContain("/assets/device-");

export const sentence = async (page: Page) => (await page.locator("#answer h2").textContent()) ?? "";
export const line = (page: Page) => page.locator("#on-device");

/** Chromium itself calls a page with such a status, and each request that finds no network, an error. */
export function unexpected(problems: readonly string[]): string[] {
  return problems.filter(
    (problem) =>
      !/status of (422|503)|^503: |net::ERR_(ABORTED|INTERNET_DISCONNECTED)|htmx:error: Failed to fetch/.test(problem),
  );
}
