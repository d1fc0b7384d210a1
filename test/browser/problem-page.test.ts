import { describe, expect, test } from "vitest";
import { BuiltServer } from "./at.ts";
import { expectAccessible, expectGoodEverywhere, openPage } from "./support.ts";

const at = new BuiltServer();

test("the page for an unknown address: readable by everyone, nothing blocked", async () => {
  const { page, problems, close } = await openPage(at.browser);
  const response = await page.goto(`${at.server.url}/no-such-page`);
  expect(response?.status()).toBe(404);
  expect(await page.getByRole("heading", { level: 1 }).textContent()).toBe("Not found");
  await expectGoodEverywhere(page, "not-found");
  // Chromium itself calls a page with status 404 an error on the console.
  expect(problems.filter((problem) => !problem.includes("status of 404"))).toEqual([]);
  await close();
});

describe("the watcher of pages", () => {
  test("notices an inline script, which the policy blocks", async () => {
    const { page, problems, close } = await openPage(at.browser);
    await page.goto(`${at.server.url}/no-such-page`);
    problems.length = 0;
    await page.evaluate(() => {
      const script = document.createElement("script");
      script.textContent = "document.title = 'run'";
      document.body.append(script);
    });
    await expect.poll(() => problems.join("\n")).toMatch(/blocked by script-src-elem: inline/);
    expect(await page.title()).not.toBe("run");
    await close();
  });

  test("notices an uncaught error", async () => {
    const { page, problems, close } = await openPage(at.browser);
    await page.goto(`${at.server.url}/no-such-page`);
    problems.length = 0;
    await page.evaluate(() => {
      setTimeout(() => {
        throw new Error("uncaught in the page");
      });
    });
    await expect.poll(() => problems.join("\n")).toMatch(/uncaught: uncaught in the page/);
    await close();
  });

  test("notices what axe finds", async () => {
    const { page, close } = await openPage(at.browser);
    await page.goto(`${at.server.url}/no-such-page`);
    await page.evaluate(() => document.body.append(document.createElement("button")));
    await expect(expectAccessible(page)).rejects.toThrow(/button-name/);
    await close();
  });
});
