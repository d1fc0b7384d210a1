import { expect, test } from "vitest";
import { BuiltServer } from "./at.ts";
import { expectAccessible, expectGoodEverywhere, openPage } from "./support.ts";

const at = new BuiltServer();

test("the method page: readable by everyone, nothing blocked", async () => {
  const { page, problems, close } = await openPage(at.browser);
  await page.goto(`${at.server.url}/method`);
  await expectAccessible(page);
  for (const summary of await page.locator("details > summary").all()) await summary.click();
  await expectGoodEverywhere(page, "method");
  expect(problems).toEqual([]);
  await close();
});

test("each link of the contents leads to its chapter", async () => {
  const { page, close } = await openPage(at.browser, { javaScriptEnabled: false });
  await page.goto(`${at.server.url}/method`);
  const links = await page.getByRole("navigation", { name: "On this page" }).getByRole("link").all();
  expect(links.length).toBeGreaterThan(10);
  expect(links.length).toBe(await page.locator("section.entry").count());
  for (const link of links) {
    const target = page.locator((await link.getAttribute("href")) ?? "");
    expect(await target.locator("h2").textContent()).toBe(await link.textContent());
  }
  await close();
});
