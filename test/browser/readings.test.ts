import { describe, expect, test } from "vitest";
import { BuiltServer } from "./at.ts";
import { DESK, expectGoodEverywhere, keepShot, openPage, PHONE, sharedPage } from "./support.ts";

const at = new BuiltServer();

const LOG =
  "units=us&refrigerant=R-134a&nameplate=23+oz&when=2025-05-01&did=cans&amount=10+oz&cooled=weak&today=weak&keep=5&service=diy&as_of=2026-05-01";

/** Every state of the three pages that looks different. */
const STATES = [
  { name: "readings-empty", path: "/readings", status: 200 },
  {
    name: "readings-low",
    path: "/readings?ambient=85&low=15&high=120&static=94&vent=70&nameplate=23&clutch=cycles-fast",
    status: 200,
  },
  { name: "readings-undecided", path: "/readings?ambient=85&low=39", status: 200 },
  {
    name: "readings-contradiction",
    path: "/readings?units=metric&gauge=bar-gauge&ambient=28&low=15&high=3&static=3.2&nameplate=650&vent=12",
    status: 200,
  },
  { name: "readings-errors", path: "/readings?low=abc", status: 422 },
  { name: "rules-wisconsin", path: "/rules?place=us-wi", status: 200 },
  { name: "rules-errors", path: "/rules?place=mars&date=soon", status: 422 },
  { name: "leak-tests", path: "/leak-tests", status: 200 },
  {
    name: "top-off",
    path: `/top-off?${LOG}&ambient=85&compressor=belt&contents=as-labeled&says=low&where=us`,
    status: 200,
  },
  { name: "top-off-stopped", path: `/top-off?${LOG}&compressor=electric&says=not-low`, status: 200 },
  { name: "top-off-errors", path: `/top-off?${LOG}&ambient=hot`, status: 422 },
] as const;

const look = sharedPage(() => at.browser);

test.each(STATES)("$name: readable by everyone, nothing blocked", async ({ name, path, status }) => {
  const { page, problems } = await look();
  const response = await page.goto(`${at.server.url}${path}`);
  expect(response?.status()).toBe(status);
  await expectGoodEverywhere(page, name);
  // Chromium itself calls a page with status 422 an error on the console.
  expect(problems.filter((problem) => !problem.includes("status of 422"))).toEqual([]);
});

describe.each([true, false])("with JavaScript: %s", (javaScriptEnabled) => {
  test("readings in, findings out, a correction, and back again", async () => {
    const { page, close } = await openPage(at.browser, { viewport: PHONE, javaScriptEnabled });
    await page.goto(`${at.server.url}/readings`);
    await page.getByLabel("Air temperature, °F").fill("85");
    await page.getByLabel("Low side, psi").fill("15");
    await page.getByLabel("High side, psi").fill("120");
    await page.getByRole("button", { name: "Show what they mean" }).click();
    const answer = page.getByRole("heading", { level: 2 }).first();
    expect(await answer.textContent()).toBe("It is low on refrigerant.");
    expect(new URL(page.url()).searchParams.get("low")).toBe("15");

    await page.getByText("Change the readings").click();
    await page.getByLabel("High side, psi").fill("three hundred");
    await page.getByRole("button", { name: "Show what they mean" }).click();
    await expect.poll(() => page.getByLabel("High side, psi").inputValue()).toBe("three hundred");
    await page.getByRole("link", { name: /^Enter the pressure/ }).click();
    await expect.poll(() => new URL(page.url()).hash).toBe("#high");

    await page.goBack();
    await page.goBack();
    expect(await answer.textContent()).toBe("It is low on refrigerant.");
    await close();
  });

  test("from the quick question to the plan, and the top-off written down", async () => {
    const { page, close } = await openPage(at.browser, { viewport: PHONE, javaScriptEnabled });
    await page.goto(`${at.server.url}/?${LOG}`);
    await page.getByRole("link", { name: "Top-off plan" }).click();
    await page.getByLabel("Air temperature, °F").fill("85");
    await page.getByLabel("What the readings say").selectOption("low");
    await page.getByLabel("Where the vehicle is").selectOption("us");
    await page.getByLabel("What drives the compressor").selectOption("belt");
    await page.getByLabel("What is in the system").selectOption("as-labeled");
    await page.getByRole("button", { name: "Make the plan" }).click();
    await expect.poll(() => page.getByRole("heading", { level: 2 }).first().textContent()).toMatch(/^Add .* first\./);
    expect(await page.getByText("Low side only.").count()).toBe(1);

    await page.getByRole("link", { name: "Log this top-off" }).click();
    const logged = page.locator("select[name=did]").last();
    expect(await logged.inputValue()).toBe("cans-gauges");
    expect(await page.locator("input[name=amount]").last().inputValue()).toMatch(/oz$/);
    await close();
  });

  test("from the question to readings and back: the answer says what to check, under the rules of the place", async () => {
    const { page, close } = await openPage(at.browser, { viewport: PHONE, javaScriptEnabled });
    await page.goto(`${at.server.url}/?${LOG.replace("service=diy", "service=shop")}`);
    // On a phone the question is folded away once it is answered, and so is what makes it more exact.
    await page.locator(".ask-change").click();
    await page.locator("#more-exact > summary").click();
    await page.getByLabel("Where the vehicle is").selectOption("us-wi");
    if (!javaScriptEnabled) await page.locator("#ask").getByRole("button", { name: "Show the answer" }).click();
    await page.waitForURL(/where=us-wi/);
    const rules = page.locator("#local-rules");
    await rules.getByText("A shop may not top it off.").waitFor();
    expect(await page.getByRole("row", { name: /^Top it off/ }).textContent()).toContain("not allowed here");

    await page.getByRole("link", { name: "Check readings" }).click();
    await page.getByLabel("Air temperature, °F").fill("85");
    await page.getByLabel("Low side, psi").fill("60");
    await page.getByLabel("High side, psi").fill("380");
    await page.getByText("Engine speed, fan, condenser").click();
    await page.getByLabel("Fan", { exact: true }).selectOption("stopped");
    await page.getByRole("button", { name: "Show what they mean" }).click();
    await page.getByRole("link", { name: "Back to the question" }).click();
    await expect
      .poll(() => page.locator("#answer h2").textContent())
      .toMatch(/^Don't add refrigerant yet\. The readings show that too little air/);
    expect(await page.getByLabel("Where the vehicle is").inputValue()).toBe("us-wi");
    expect(await page.locator("input[name=amount]").inputValue()).toBe("10 oz");

    await page.getByRole("link", { name: "leave them out" }).click();
    await page.waitForURL((url) => !url.searchParams.has("says"));
    expect(await page.locator("#answer h2").textContent()).not.toContain("Don't add refrigerant yet");
    await rules.getByRole("link", { name: "Wisconsin: repair before refrigerant goes in" }).click();
    await expect.poll(() => new URL(page.url()).hash).toBe("#us-wi-leak-repair");
    await close();
  });

  test.each([
    { says: "it is low", low: "15", high: "120", answer: /^(Top it off|Repair it)/ },
    { says: "it is not low", low: "60", high: "380", answer: /^Don't add refrigerant yet/ },
  ])("readings taken from the answer come back into it: $says; the back button takes them out again", async (read) => {
    const { page, close } = await openPage(at.browser, { viewport: PHONE, javaScriptEnabled });
    // Full by weight ten days ago, and poor today: the answer asks for readings.
    const question = `${at.server.url}/?units=us&refrigerant=R-134a&nameplate=23+oz&when=2026-04-21&did=weighed&today=weak&keep=5&service=diy&as_of=2026-05-01`;
    await page.goto(question);
    const sentence = () => page.locator("#answer h2").textContent();
    expect(await sentence()).toMatch(/^Take readings before you buy anything/);
    expect(await page.locator("#counted-readings").count()).toBe(0);
    await page.locator(".next-step").first().getByRole("link", { name: "Take readings" }).click();
    await page.getByLabel("Air temperature, °F").fill("85");
    await page.getByLabel("Low side, psi").fill(read.low);
    await page.getByLabel("High side, psi").fill(read.high);
    await page.getByRole("button", { name: "Show what they mean" }).click();
    await page.getByRole("link", { name: "Back to the question" }).click();
    await expect.poll(sentence).toMatch(read.answer);
    const counted = page.locator("#counted-readings");
    expect((await counted.textContent())?.replace(/\s+/g, " ")).toContain(
      `It counts the readings of 1 May 2026: ${read.says}; until 15 May 2026`,
    );
    expect(await counted.isVisible()).toBe(true);
    expect(await page.locator("input[name=when]").inputValue()).toBe("2026-04-21");

    await page.goBack();
    await expect.poll(() => page.getByLabel("Low side, psi").inputValue()).toBe(read.low);
    await page.goBack();
    await expect.poll(() => page.locator(".page-verdict").count()).toBe(0);
    await page.goBack();
    await expect.poll(sentence).toMatch(/^Take readings before you buy anything/);
    expect(await counted.count()).toBe(0);
    await page.goForward();
    await page.goForward();
    await page.goForward();
    await expect.poll(sentence).toMatch(read.answer);
    await page.reload();
    expect(await sentence()).toMatch(read.answer);
    await counted.getByRole("link", { name: "leave them out" }).click();
    await expect.poll(sentence).toMatch(/^Take readings before you buy anything/);
    await close();
  });

  test("the rules of a place", async () => {
    const { page, close } = await openPage(at.browser, { javaScriptEnabled });
    await page.goto(`${at.server.url}/rules`);
    await page.getByLabel("Where the vehicle is").selectOption("us-wi");
    await page.getByRole("button", { name: "Show the rules" }).click();
    const may_not = page.getByRole("definition").filter({ hasText: "A shop may not" });
    await may_not.getByRole("link", { name: "top it off" }).click();
    await expect.poll(() => new URL(page.url()).hash).toBe("#us-wi-leak-repair");
    await close();
  });
});

describe("with the keyboard only", () => {
  test("readings can be entered and sent, and the error summary is where the focus is", async () => {
    const { page, close } = await openPage(at.browser);
    await page.goto(`${at.server.url}/readings`);
    await page.getByLabel("Air temperature, °F").focus();
    await page.keyboard.type("95");
    // The refrigerant, what is folded away, the static pressure, then both sides.
    for (const typed of ["", "", "", "80", "400"]) {
      await page.keyboard.press("Tab");
      if (typed !== "") await page.keyboard.type(typed);
    }
    await page.keyboard.press("Enter");
    await page.waitForURL(/high=400/);
    expect(await page.getByRole("heading", { level: 2 }).first().textContent()).toMatch(/^It is not low\./);

    await page.goto(`${at.server.url}/readings?low=abc`);
    expect(await page.evaluate(() => document.activeElement?.id)).toBe("error-summary");
    await page.keyboard.press("Tab");
    await page.keyboard.press("Enter");
    await expect.poll(() => new URL(page.url()).hash).toBe("#ambient");
    await close();
  });

  test("a plan is made, and the top-off goes into the log", async () => {
    const { page, close } = await openPage(at.browser, { viewport: PHONE });
    await page.goto(`${at.server.url}/top-off?${LOG}`);
    await page.getByLabel("Air temperature, °F").focus();
    await page.keyboard.type("85");
    await page.keyboard.press("Tab"); // the place
    await page.keyboard.press("Tab");
    await page.keyboard.press("ArrowDown"); // a belt
    expect(await page.getByLabel("What drives the compressor").inputValue()).toBe("belt");
    await page.getByLabel("Air temperature, °F").focus();
    await page.keyboard.press("Enter");
    await page.waitForURL(/compressor=belt/);
    expect(await page.getByRole("heading", { level: 2 }).first().textContent()).toMatch(/[Aa]dd /);
    await page.getByRole("link", { name: "Log this top-off" }).focus();
    await page.keyboard.press("Enter");
    await page.waitForURL(/did=cans-gauges/);
    expect(await page.locator("input[name=amount]").last().inputValue()).toMatch(/oz$/);
    await close();
  });

  test("the next reading leads to its field", async () => {
    const { page, close } = await openPage(at.browser);
    await page.goto(`${at.server.url}/readings?ambient=85&low=39`);
    await page.getByRole("link", { name: "Read the high side with the engine running." }).focus();
    await page.keyboard.press("Enter");
    await page.keyboard.type("300");
    expect(await page.getByLabel("High side, psi").inputValue()).toBe("300");
    await close();
  });
});

describe("the diagram", () => {
  // Trade chart, 85 °F: 45–55 psi low, 225–250 psi high (common practice, no source).
  test("draws a well-charged pair inside the region, and a low pair left of and below it", async () => {
    const { page, close } = await openPage(at.browser);
    const boxes = async (low: number, high: number) => {
      await page.goto(`${at.server.url}/readings?ambient=85&low=${low}&high=${high}`);
      const box = async (selector: string) => (await page.locator(selector).boundingBox())!;
      return { region: await box(".gauge-region"), point: await box(".gauge-point") };
    };
    const good = await boxes(50, 237);
    expect(good.point.x).toBeGreaterThan(good.region.x);
    expect(good.point.x + good.point.width).toBeLessThan(good.region.x + good.region.width);
    expect(good.point.y).toBeGreaterThan(good.region.y);
    expect(good.point.y + good.point.height).toBeLessThan(good.region.y + good.region.height);

    const low = await boxes(15, 120);
    expect(low.point.x + low.point.width).toBeLessThan(low.region.x);
    expect(low.point.y).toBeGreaterThan(low.region.y + low.region.height);
    await close();
  });
});

describe("on paper", () => {
  test.each([
    ["readings", "/readings?ambient=85&low=15&high=120"],
    ["top-off", `/top-off?${LOG}&ambient=85&compressor=belt&contents=as-labeled&where=us&says=low`],
    ["rules", "/rules?place=us-ca"],
  ])("%s prints its words in ink, buttons left out", async (name, path) => {
    const { page, close } = await openPage(at.browser, { viewport: DESK, colorScheme: "dark" });
    await page.goto(`${at.server.url}${path}`);
    await page.emulateMedia({ media: "print" });
    const paper = await page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
    expect(paper).toBe("rgb(255, 255, 255)");
    expect(await page.locator("main .button").isVisible()).toBe(false);
    await keepShot(page, `${name}-printed`);
    await close();
  });
});
