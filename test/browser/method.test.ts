import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type RunningServer, startServer } from "../support/server.ts";
import { expectAccessible, expectGoodEverywhere, launchChromium, openPage } from "./support.ts";

let browser: Browser;
let server: RunningServer;
beforeAll(async () => {
  [browser, server] = await Promise.all([launchChromium(), startServer()]);
});
afterAll(async () => {
  await browser.close();
  await server.stop();
});

test("the method page: readable by everyone, nothing blocked", async () => {
  const { page, problems, close } = await openPage(browser);
  await page.goto(`${server.url}/method`);
  await expectAccessible(page);
  for (const summary of await page.locator("details > summary").all()) await summary.click();
  await expectGoodEverywhere(page, "method");
  expect(problems).toEqual([]);
  await close();
});

test("each link of the contents leads to its chapter", async () => {
  const { page, close } = await openPage(browser, { javaScriptEnabled: false });
  await page.goto(`${server.url}/method`);
  const links = await page.getByRole("navigation", { name: "On this page" }).getByRole("link").all();
  expect(links.length).toBeGreaterThan(10);
  expect(links.length).toBe(await page.locator("section.entry").count());
  for (const link of links) {
    const target = page.locator((await link.getAttribute("href")) ?? "");
    expect(await target.locator("h2").textContent()).toBe(await link.textContent());
  }
  await close();
});
