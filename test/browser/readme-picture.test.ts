import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { ROOT } from "../support/paths.ts";
import { BuiltServer } from "./at.ts";
import { openPage } from "./support.ts";

/** The README's pictures of an answer; `PICTURES=yes npx vitest … test/browser/readme-picture` makes them anew. */
const SIZE = { width: 1200, height: 760 };

const at = new BuiltServer();

test.each(["light", "dark"] as const)(
  "the README's picture in %s is of the sample's answer, and small",
  async (scheme) => {
    const path = join(ROOT, `data/pictures/answer-${scheme}.png`);
    const { page, close } = await openPage(at.browser, {
      viewport: SIZE,
      colorScheme: scheme,
      reducedMotion: "reduce",
    });
    await page.goto(`${at.server.url}/?example=1`);
    await page.waitForLoadState("networkidle");
    expect(await page.locator("#answer h2").isVisible()).toBe(true);
    if (process.env.PICTURES === "yes") await page.screenshot({ path });
    await close();
    const picture = readFileSync(path);
    // Width and height of a PNG stand at bytes 16 and 20 (PNG, third edition, section 11.2.1).
    expect([picture.readUInt32BE(16), picture.readUInt32BE(20)]).toEqual([SIZE.width, SIZE.height]);
    expect(picture.length).toBeLessThan(150_000);
    expect(readFileSync(join(ROOT, "README.md"), "utf8")).toContain(`data/pictures/answer-${scheme}.png`);
  },
);
