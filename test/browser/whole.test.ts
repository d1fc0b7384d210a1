import { expect, test } from "vitest";
import { BuiltServer } from "./at.ts";
import { sharedPage } from "./support.ts";

const at = new BuiltServer();
const look = sharedPage(() => at.browser);

/** The answer of one who is sure of little: chances and names of refrigerants among words. */
const UNSURE =
  "/?refrigerant=unsure&nameplate=don%27t+know&when=2024-12-20&did=cans&amount=1+can&cooled=weak&today=weak";

test.each([320, 340, 360, 380, 400])(
  "at %i px no chance and no refrigerant of the answer is broken over two lines",
  async (width) => {
    const { page } = await look();
    await page.setViewportSize({ width, height: 740 });
    for (const [path, says] of [
      [UNSURE, /R-134a.*R-1234yf/],
      ["/?example=1", /of 100/],
    ] as const) {
      await page.goto(at.server.url + path);
      const pieces = await page
        .locator("main .whole")
        .evaluateAll((all) => all.map((one) => [one.textContent, one.getBoundingClientRect().height] as const));
      expect(pieces.map(([text]) => text).join()).toMatch(says);
      const line = await page
        .locator("#mixture p")
        .first()
        .evaluate((p) => Number.parseFloat(getComputedStyle(p).lineHeight));
      for (const [text, height] of pieces) expect(height, text ?? "").toBeLessThan(1.5 * line);
    }
  },
);
