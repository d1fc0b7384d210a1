import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { BuiltServer } from "./at.ts";
import {
  DESK,
  expectAccessible,
  expectGoodEverywhere,
  expectNoSidewaysScroll,
  keepShot,
  openPage,
  PHONE,
  sharedPage,
} from "./support.ts";

const at = new BuiltServer();

const SIZES = [
  { name: "phone", viewport: PHONE },
  { name: "desk", viewport: DESK },
];

const VEHICLE = "units=us&refrigerant=R-134a&nameplate=23+oz&climate=warm-continental";
const WEAK_TODAY = "today=weak&keep=5&service=diy&tools=yes";

/** A line of the log so many days ago. */
function line(days_ago: number, did: string, amount: string, cooled: string): string {
  const when = new Date(Date.now() - days_ago * 24 * 3600 * 1000).toISOString().slice(0, 10);
  return `when=${when}&did=${did}&amount=${encodeURIComponent(amount)}&cooled=${cooled}`;
}

const FAST_LEAK = `/?${VEHICLE}&${line(240, "cans", "12 oz", "weak")}&${line(120, "cans", "12 oz", "weak")}&${WEAK_TODAY}`;
const WRONG =
  `/?${VEHICLE}&nameplate=lots&when=someday&did=cans&amount=999+oz&cooled=weak&keep=99&service=diy&go=1`.replace(
    "nameplate=23+oz&",
    "",
  );

/** Each state of the page, and what its first sentence says. */
const STATES = [
  {
    state: "example",
    path: "/?example=1",
    says: /^Top it off\. If it is low again before \d{1,2} \w+ \d{4}, repair it\.$/,
  },
  { state: "empty-sheet", path: "/", says: /^Your answer will be here\.$/ },
  { state: "errors", path: WRONG, says: /^No answer yet\. Fix 3 things first\.$/ },
  {
    state: "nothing-known",
    path: `/?refrigerant=unsure&nameplate=don%27t+know&${line(500, "cans", "1 can", "weak")}&${WEAK_TODAY}`,
    says: /^\w+/,
  },
  {
    state: "electric",
    path: `/?${VEHICLE}&electric=yes&${line(500, "scale", "12 oz", "weak")}&${WEAK_TODAY}`,
    says: /^\w+/,
  },
  {
    state: "nothing-logged",
    path: `/?${VEHICLE}&keep=5&service=diy`,
    says: /^If it cools (weakly|poorly), top it off\./,
  },
  { state: "fast-leak", path: FAST_LEAK, says: /^Repair it\. A full charge is low again in under 6\smonths/ },
  {
    state: "metric",
    path: `/?units=metric&refrigerant=R-1234yf&nameplate=500&${line(400, "scale", "200", "weak")}&today=ok&keep=8&service=shop`,
    says: /^Leave it for now/,
  },
];

/**
 * Chromium itself calls a page with status 422 an error on the console, and a request that a later one takes the place
 * of a failed one.
 */
function unexpected(problems: readonly string[]): string[] {
  return problems.filter((problem) => !/status of 422|net::ERR_ABORTED$/.test(problem));
}

/** Opens what is folded away in the question. */
async function moreExact(page: Page): Promise<void> {
  await page.locator("#more-exact > summary").press("Enter");
}

/** Opens what is folded away in the what-ifs. */
async function moreWhatIfs(page: Page): Promise<void> {
  await page.locator("#what-if-more > summary").click();
}

async function sentence(page: Page): Promise<string> {
  return (await page.locator("#answer h2").textContent()) ?? "";
}

/** Waits until the page has taken in a change. */
async function settled(page: Page): Promise<void> {
  await page.waitForLoadState("networkidle");
  await page.waitForTimeout(100);
}

const look = sharedPage(() => at.browser, { reducedMotion: "reduce" });

test.each(STATES)("$state: says it, readable by everyone, nothing blocked", async ({ state, path, says }) => {
  const { page, problems } = await look();
  await page.goto(at.server.url + path);
  expect(await sentence(page)).toMatch(says);
  await page.evaluate(() => scrollTo(0, document.body.scrollHeight));
  await expectGoodEverywhere(page, `start-${state}`, () => settled(page));
  expect(unexpected(problems)).toEqual([]);
});

describe.each(SIZES)("the start page on a $name", ({ viewport }) => {
  test("tables behind the charts open without widening the page", async () => {
    const { page, close } = await openPage(at.browser, { viewport });
    await page.goto(`${at.server.url}/?example=1`);
    if (viewport === PHONE) await page.locator(".ask-change").click();
    for (const summary of await page.locator("details > summary").all()) await summary.click();
    await expectNoSidewaysScroll(page);
    await expectAccessible(page);
    await close();
  });

  test("the answer is in sight while the question is filled in", async () => {
    const { page, close } = await openPage(at.browser, { viewport });
    await page.goto(`${at.server.url}/?example=1`);
    if (viewport === PHONE) await page.locator(".ask-change").click();
    for (const id of ["refrigerant", "when-1", "today"]) {
      await page.locator(`#${id}`).focus();
      await page.locator(`#${id}`).scrollIntoViewIfNeeded();
      await expect
        .poll(async () => {
          const line = page.locator("#answer-line");
          return (await page.locator("#answer h2").evaluate(isInSight)) || (await line.evaluate(isInSight));
        })
        .toBe(true);
    }
    await page.evaluate(() => scrollTo(0, document.body.scrollHeight));
    await page.locator("#answer-line").click();
    await expect.poll(() => page.locator("#answer h2").evaluate(isInSight)).toBe(true);
    await close();
  });
});

function isInSight(element: Element): boolean {
  const { top, bottom, height } = element.getBoundingClientRect();
  return height > 0 && top >= 0 && bottom <= innerHeight;
}

describe("the answer follows each change", () => {
  test("in place, in the address, and back again", async () => {
    const { page, problems, close } = await openPage(at.browser);
    await page.goto(`${at.server.url}/?example=1`);
    const at_home = await sentence(page);
    await moreExact(page);
    await page.locator("#service-shop").check();
    await expect.poll(() => sentence(page)).not.toBe(at_home);
    expect(new URL(page.url()).searchParams.get("service")).toBe("shop");

    await page.locator("#keep").fill("1");
    await page.locator("#keep").press("Tab");
    await expect.poll(() => new URL(page.url()).searchParams.get("keep")).toBe("1");
    expect(await page.locator(".options caption").textContent()).toMatch(/ over 1\syear$/);

    // Edits in a row are one step back.
    await page.goBack();
    await expect.poll(() => page.locator("#service").isChecked()).toBe(true);
    expect(await page.locator("#keep").inputValue()).toBe("5");
    expect(await sentence(page)).toBe(at_home);
    await page.goForward();
    await expect.poll(() => page.locator("#keep").inputValue()).toBe("1");
    expect(unexpected(problems)).toEqual([]);
    await close();
  });

  test("an address that is shared brings everything back", async () => {
    const { page, close } = await openPage(at.browser);
    await page.goto(`${at.server.url}/?example=1`);
    await page.locator("#amount-2").fill("half a can");
    await page.locator("#amount-2").press("Tab");
    await moreWhatIfs(page);
    await page.locator("#place").selectOption("condenser");
    await page.locator("#quote").fill("$1,200");
    await page.locator("#quote").press("Tab");
    await expect.poll(() => new URL(page.url()).searchParams.get("quote")).toBe("$1,200");
    await settled(page);
    const said = await sentence(page);
    const other = await openPage(at.browser);
    await other.page.goto(page.url());
    expect(await sentence(other.page)).toBe(said);
    expect(await other.page.locator("#amount-2").inputValue()).toBe("half a can");
    expect(await other.page.locator("#place").inputValue()).toBe("condenser");
    expect(await other.page.locator("#quote").inputValue()).toBe("$1,200");
    await other.close();
    await close();
  });

  test("the focus and what is typed elsewhere stay", async () => {
    const { page, close } = await openPage(at.browser);
    await page.goto(`${at.server.url}/?example=1`);
    await moreExact(page);
    await page.locator("#keep").fill("3");
    await page.locator("#keep").press("Shift+Tab");
    await expect.poll(() => new URL(page.url()).searchParams.get("keep")).toBe("3");
    await settled(page);
    expect(await page.evaluate(() => document.activeElement?.id)).toBe("tools");
    await close();
  });

  test("lines come and go, with the focus where the work is", async () => {
    const { page, problems, close } = await openPage(at.browser);
    await page.goto(`${at.server.url}/?example=1`);
    await page.locator("#cooled-1").selectOption("empty");
    await settled(page);
    await page.locator("#add-line").click();
    await expect.poll(() => page.locator(".log-line").count()).toBe(4);
    await expect.poll(() => page.evaluate(() => document.activeElement?.id)).toBe("when-4");
    const second = await page.locator("#when-2").inputValue();
    await page.locator("#remove-1").click();
    await expect.poll(() => page.locator(".log-line").count()).toBe(3);
    expect(await page.locator("#when-1").inputValue()).toBe(second);
    // The select that was touched shows the line that has moved up, not what it showed before.
    expect(await page.locator("#cooled-1").inputValue()).toBe("weak");
    await expect.poll(() => page.evaluate(() => document.activeElement?.id)).toBe("add-line");
    expect(unexpected(problems)).toEqual([]);
    await close();
  });
});

describe("what is typed wrong, or not known", () => {
  test("what cannot be read is told at the field and at the top, and stays as typed", async () => {
    const { page, problems, close } = await openPage(at.browser);
    await page.goto(`${at.server.url}/?example=1`);
    await page.locator("#when-1").fill("🚗 last summer");
    await page.locator("#when-1").press("Tab");
    await expect.poll(() => page.title()).toMatch(/^Error: /);
    expect(await page.locator("#when-1").inputValue()).toBe("🚗 last summer");
    expect(await page.locator("#when-1").getAttribute("aria-invalid")).toBe("true");
    expect(await page.locator("#when-1").getAttribute("aria-describedby")).toContain("when-1-error");
    expect(await page.locator("#when-1-error").textContent()).toContain("Enter when it was, like 14 Jun 2024");

    await page.locator("#when-1").press("Enter");
    await expect.poll(() => page.evaluate(() => document.activeElement?.id)).toBe("error-summary");
    await page.locator("#error-summary a").first().click();
    await expect.poll(() => page.evaluate(() => document.activeElement?.id)).toBe("when-1");

    await page.locator("#when-1").fill("June 2024");
    await page.locator("#when-1").press("Enter");
    await expect.poll(() => page.title()).not.toMatch(/^Error: /);
    expect(await page.locator("#error-summary").count()).toBe(0);
    expect(await sentence(page)).toMatch(/^Top it off/);
    expect(unexpected(problems)).toEqual([]);
    await close();
  });

  test("a slip leaves the last answer, dimmed, and names the entry; put right, the answer follows", async () => {
    const { page, problems, close } = await openPage(at.browser);
    await page.goto(`${at.server.url}/?example=1`);
    const before = await sentence(page);
    await page.locator("#when-2").fill("whenever");
    await page.locator("#when-2").press("Tab");
    await expect.poll(() => page.locator("#to-fix").textContent()).toContain("Entry 2: ");
    expect(await sentence(page)).toBe(before);
    expect(await page.locator(".options tbody tr").count()).toBeGreaterThan(3);
    await expectAccessible(page);
    await page.locator("#to-fix a").click();
    expect(await page.evaluate(() => document.activeElement?.id)).toBe("when-2");
    await page.locator("#when-2").fill("June 2024");
    await page.locator("#when-2").press("Tab");
    await expect.poll(() => page.locator("#to-fix").count()).toBe(0);
    await page.locator("#nameplate").fill("40 oz");
    await page.locator("#nameplate").press("Tab");
    await expect.poll(() => page.locator("#charge-curve-title").textContent()).toMatch(/ of\s40\soz\s/);
    expect(unexpected(problems)).toEqual([]);
    await close();
  });

  test("on a phone the question folds to a line once it is answered, and opens again at it", async () => {
    const { page, problems, close } = await openPage(at.browser, { viewport: PHONE });
    await page.goto(`${at.server.url}/`);
    await page.locator("#nameplate").fill("17 oz");
    await page.locator("#today").selectOption("weak");
    await expect.poll(() => sentence(page)).toMatch(/^(Top|If)/);
    // While it is filled in it stays open.
    expect(await page.locator("#today").isVisible()).toBe(true);
    await page.locator("#ask .button").click();
    await expect.poll(() => page.locator("#today").isVisible()).toBe(false);
    expect(await page.locator("#answer h2").evaluate(isInSight)).toBe(true);
    expect(await page.evaluate(() => document.activeElement?.id)).toBe("answer");
    expect(await page.locator(".ask-said").textContent()).toBe("Refrigerant not known · 17 oz · nothing added");
    await page.locator(".ask-change").click();
    expect(await page.locator("#nameplate").inputValue()).toBe("17 oz");
    expect(unexpected(problems)).toEqual([]);
    await close();
  });

  test("a typical size is one press", async () => {
    const { page, close } = await openPage(at.browser);
    await page.goto(`${at.server.url}/`);
    await page.getByRole("button", { name: "Don't know" }).click();
    await expect.poll(() => page.locator("#nameplate").inputValue()).toBe("don't know");
    await expect.poll(() => page.locator("#mixture").textContent()).toContain("You don't know the refrigerant");
    await page.getByRole("button", { name: /^Compact car/ }).click();
    await expect.poll(() => page.locator("#nameplate").inputValue()).toBe("17 oz");
    await page.locator("#refrigerant").selectOption("R-134a");
    await expect.poll(() => page.locator("#mixture").count()).toBe(0);
    await close();
  });

  test("the sample says so until it is left, and cannot be saved as someone's own", async () => {
    const { page, close } = await openPage(at.browser);
    await page.goto(`${at.server.url}/`);
    await page.getByRole("link", { name: "See an example" }).click();
    await page.locator("#nameplate").fill("17 oz");
    await page.locator("#nameplate").press("Tab");
    await expect.poll(() => new URL(page.url()).searchParams.get("nameplate")).toBe("17 oz");
    expect(await page.locator("#note").textContent()).toContain("Sample car.");
    expect(await page.locator("#keep-vehicle").count()).toBe(0);
    await page.getByRole("link", { name: "start with your own" }).click();
    await expect.poll(() => page.locator("#when-1").inputValue()).toBe("");
    expect(await page.locator("#nameplate").inputValue()).toBe("");
    await close();
  });

  test("a plan for what is not known asks for it", async () => {
    const { page, close } = await openPage(at.browser);
    await page.goto(
      `${at.server.url}/?refrigerant=unsure&nameplate=%3F&when=June+2025&did=cans&amount=1+can&cooled=weak`,
    );
    await page.locator("#onward").getByRole("link", { name: "Top-off plan" }).click();
    await expect.poll(() => page.locator("#error-summary a").allTextContents()).toHaveLength(2);
    expect(await page.locator("#error-summary").textContent()).toContain("off the label under the hood");
    await close();
  });

  test("the question fits 320 px, and text twice as large", async () => {
    const { page, close } = await openPage(at.browser, { viewport: { width: 320, height: 640 } });
    await page.goto(`${at.server.url}/`);
    await moreExact(page);
    await expectNoSidewaysScroll(page);
    await page.setViewportSize(DESK);
    await page.evaluate(() => document.documentElement.style.setProperty("font-size", "200%"));
    await expectNoSidewaysScroll(page);
    await close();
  });
});

describe("what changes beside the question", () => {
  test("units change what is said, not what was meant", async () => {
    const { page, close } = await openPage(at.browser);
    await page.goto(
      `${at.server.url}/?${VEHICLE.replace("23+oz", "23")}&${line(500, "cans", "12", "weak")}&${WEAK_TODAY}`,
    );
    const cost = await page.locator("[data-option=top-off] .money").getAttribute("value");
    await moreExact(page);
    await page.locator("#units-metric").check();
    await expect.poll(() => page.locator("#nameplate").inputValue()).toBe("23 oz");
    expect(await page.locator("#amount-1").inputValue()).toBe("12 oz");
    expect(await page.locator("[data-option=top-off] .money").getAttribute("value")).toBe(cost);
    expect(await page.locator("#charge-curve-title").textContent()).toMatch(/ of 650\sg /);
    await close();
  });

  test("nothing jumps: layout shift under 0.02", async () => {
    const { page, close } = await openPage(at.browser, { viewport: PHONE });
    await page.addInitScript(() => {
      Object.assign(window, { shifted: 0 });
      new PerformanceObserver((list) => {
        for (const entry of list.getEntries() as (PerformanceEntry & { value: number; hadRecentInput: boolean })[]) {
          if (!entry.hadRecentInput) Object.assign(window, { shifted: Reflect.get(window, "shifted") + entry.value });
        }
      }).observe({ type: "layout-shift", buffered: true });
    });
    await page.goto(`${at.server.url}/?example=1`);
    await page.locator(".ask-change").click();
    await moreExact(page);
    await moreWhatIfs(page);
    await page.waitForTimeout(600);
    // Chosen by script, so that none of it counts as the person's own doing.
    for (const [id, value] of [
      ["today", "ok"],
      ["climate", "hot-desert"],
      ["floor", "12"],
    ] as const) {
      await page.locator(`#${id}`).scrollIntoViewIfNeeded();
      await page.waitForTimeout(600);
      await page.locator(`#${id}`).selectOption(value);
      await settled(page);
      await page.waitForTimeout(400);
    }
    expect(new URL(page.url()).searchParams.get("floor")).toBe("12");
    expect(await page.evaluate(() => Reflect.get(window, "shifted"))).toBeLessThan(0.02);
    await close();
  });
});

describe("without scripts", () => {
  const still = { javaScriptEnabled: false } as const;

  test("the form answers, and everything is in the address", async () => {
    const { page, problems, close } = await openPage(at.browser, { ...still, viewport: PHONE });
    await page.goto(`${at.server.url}/?example=1`);
    await page.locator(".ask-change").click();
    await moreExact(page);
    await page.locator("#service-shop").check();
    await page.locator(".button", { hasText: "Show the answer" }).first().click();
    await expect.poll(() => new URL(page.url()).searchParams.get("service")).toBe("shop");
    expect(await page.locator("#service-shop").isChecked()).toBe(true);
    expect(await sentence(page)).toMatch(/^Top it off|^Have a shop/);
    await page.goBack();
    expect(await page.locator("#service").isChecked()).toBe(true);
    expect(unexpected(problems)).toEqual([]);
    await close();
  });

  test("lines come and go", async () => {
    const { page, close } = await openPage(at.browser, still);
    await page.goto(`${at.server.url}/?example=1`);
    await page.locator("#add-line").click();
    await expect.poll(() => page.locator(".log-line").count()).toBe(4);
    const third = await page.locator("#when-3").inputValue();
    await page.locator("#remove-2").click();
    await expect.poll(() => page.locator(".log-line").count()).toBe(3);
    expect(await page.locator("#when-2").inputValue()).toBe(third);
    await close();
  });

  test("errors: the summary links to the field, what was typed stays", async () => {
    const { page, close } = await openPage(at.browser, still);
    await page.goto(`${at.server.url}/?example=1`);
    await moreExact(page);
    await page.locator("#keep").fill("-3 🎈");
    await page.locator("#keep").press("Enter");
    await expect.poll(() => page.title()).toMatch(/^Error: /);
    expect(await page.locator("#keep").inputValue()).toBe("-3 🎈");
    expect(await page.locator("#error-summary a").getAttribute("href")).toBe("#keep");
    await close();
  });

  test("a what-if is a link, and its fields have a button", async () => {
    const { page, close } = await openPage(at.browser, still);
    await page.goto(`${at.server.url}/?example=1`);
    await page.locator("#what-if").getByRole("link", { name: "2 years" }).click();
    await expect.poll(() => page.locator("#keep").inputValue()).toBe("2");
    await moreWhatIfs(page);
    await page.locator("#carbon").fill("190");
    await page.locator("#what-if").getByRole("button").click();
    await expect.poll(() => new URL(page.url()).searchParams.get("carbon")).toBe("190");
    expect(await page.locator("#carbon").inputValue()).toBe("190");
    await close();
  });

  test("charts leave no hole: their sentence and their table say it", async () => {
    const { page, close } = await openPage(at.browser, still);
    await page.goto(`${at.server.url}/?example=1`);
    await page.locator("#more-cost > summary").click();
    expect(await page.locator("#cost-over-years").isVisible()).toBe(true);
    expect(await page.locator("#cost-over-years .plot").isVisible()).toBe(false);
    await page.locator("#cost-over-years summary").click();
    // Today and the end of each of five years.
    await expect.poll(() => page.locator("#cost-over-years tbody tr:visible").count()).toBe(6);
    expect(await page.locator("#cost-over-years tbody tr th").first().textContent()).toBe("today");
    await close();
  });
});

describe("with the keyboard alone", () => {
  test("the question is answered, and the focus is always in sight", async () => {
    const { page, problems, close } = await openPage(at.browser, { viewport: { width: 1280, height: 700 } });
    await page.goto(`${at.server.url}/?blank=1`);
    await page.keyboard.press("Tab");
    expect(await page.evaluate(() => document.activeElement?.textContent?.trim())).toBe("Skip to the content");
    await page.keyboard.press("Enter");
    for (let i = 0; i < 60; i++) {
      await page.keyboard.press("Tab");
      const { id, hidden } = await page.evaluate(focusState);
      expect(hidden, `${id} is hidden while it has the focus`).toBe(false);
      if (id === "nameplate") await page.keyboard.type("650 g");
      if (id === "when-1") await page.keyboard.type("June 2025");
      if (id === "amount-1") await page.keyboard.type("340 g");
      if (id === "refrigerant") await page.keyboard.type("R-134a");
      if (id === "cooled-1" || id === "today") await page.keyboard.type("Poorly");
      if (id === "today") break;
    }
    for (let i = 0; i < 4; i++) {
      await page.keyboard.press("Tab");
      if (await page.evaluate(() => document.activeElement?.textContent === "Show the answer")) break;
    }
    await page.keyboard.press("Enter");
    await expect.poll(() => sentence(page)).toMatch(/^Top it off\. If it is low again before /);
    expect(unexpected(problems)).toEqual([]);
    await close();
  });

  test("the meaning of a word opens and closes", async () => {
    const { page, close } = await openPage(at.browser);
    await page.goto(`${at.server.url}/?example=1`);
    await page.locator(".sure .term").focus();
    await page.keyboard.press("Enter");
    expect(await page.locator("#definition-chance-cheapest").isVisible()).toBe(true);
    await expectAccessible(page);
    await page.keyboard.press("Escape");
    expect(await page.locator("#definition-chance-cheapest").isVisible()).toBe(false);
    await close();
  });
});

/** The element in focus, and whether it lies outside the window or under the line that stands for the answer. */
function focusState(): { id: string; hidden: boolean } {
  const element = document.activeElement;
  if (!element) return { id: "", hidden: true };
  const box = element.getBoundingClientRect();
  const cover = document.querySelector(".answer-line")?.getBoundingClientRect() ?? new DOMRect();
  const outside = box.bottom < 0 || box.top > innerHeight;
  const covered =
    cover.height > 0 && element.id !== "answer-line" && box.top >= cover.top && box.bottom <= cover.bottom;
  return { id: element.id, hidden: outside || covered };
}

describe("on paper", () => {
  test("the answer comes first; what only a screen can do is left out", async () => {
    const { page, close } = await openPage(at.browser, { viewport: PHONE });
    await page.goto(`${at.server.url}/?example=1`);
    await page.emulateMedia({ media: "print" });
    for (const hidden of [".places", "#what-if", ".actions", "#add-line", ".remove"]) {
      expect(await page.locator(hidden).first().isVisible(), hidden).toBe(false);
    }
    const top = (selector: string) => page.locator(selector).evaluate((element) => element.getBoundingClientRect().top);
    expect(await top("#answer")).toBeLessThan(await top("#nameplate"));
    await close();
  });

  test("charts are all drawn, in light colours and paper width, and then as before", async () => {
    const { page, problems, close } = await openPage(at.browser, { viewport: PHONE, colorScheme: "dark" });
    await page.goto(`${at.server.url}/?example=1`);
    await page.evaluate(() => {
      addEventListener("beforeprint", () => {
        const widths = [...document.querySelectorAll("canvas")].map((canvas) => canvas.getBoundingClientRect().width);
        Object.assign(window, { paper: { widths, scheme: getComputedStyle(document.documentElement).colorScheme } });
      });
    });
    const paper = await page.pdf({ format: "A4" });
    const { widths, scheme } = await page.evaluate(() => Reflect.get(window, "paper"));
    expect(widths).toEqual([540, 540, 540, 540, 540]);
    expect(scheme).toBe("light");
    expect(paper.length).toBeGreaterThan(10_000);
    expect(await page.locator("#charge-curve canvas").evaluate((canvas) => canvas.getBoundingClientRect().width)).toBe(
      PHONE.width - 32,
    );
    expect(unexpected(problems)).toEqual([]);
    await close();
  });
});

describe("for those who ask for it", () => {
  test("no motion", async () => {
    const { page, close } = await openPage(at.browser, { reducedMotion: "reduce" });
    await page.addInitScript(() => {
      document.addEventListener("chart:drawn", (event) => {
        const { options } = (event as CustomEvent<{ options: { animation: unknown } }>).detail;
        Object.assign(window, { motion: options.animation });
      });
    });
    await page.goto(`${at.server.url}/?example=1`);
    await page.locator("#charge-curve").scrollIntoViewIfNeeded();
    await expect.poll(() => page.evaluate(() => Reflect.get(window, "motion"))).toBe(false);
    await close();
  });

  test("their own colours, in charts too: what is written stands out from its ground", async () => {
    const { page, problems, close } = await openPage(at.browser, { forcedColors: "active" });
    await page.addInitScript(() => {
      document.addEventListener("chart:drawn", (event) => {
        const { palette } = (event as CustomEvent).detail.config.options.plugins.marks;
        Object.assign(window, { palette });
      });
    });
    await page.goto(`${at.server.url}/?example=1`);
    await page.locator("#charge-curve").scrollIntoViewIfNeeded();
    await page.waitForFunction(() => Reflect.has(window, "palette"));
    const { ink, canvas } = await page.evaluate(() => Reflect.get(window, "palette"));
    expect(ink).not.toBe(canvas);
    await keepShot(page, "start-forced-colors");
    expect(unexpected(problems)).toEqual([]);
    await close();
  });
});

describe("the first visit", () => {
  test("transfers at most 130 kB, and the answer is in the page itself", async () => {
    const { page, close } = await openPage(at.browser, { works_offline: true });
    const devtools = await page.context().newCDPSession(page);
    await devtools.send("Network.enable");
    let bytes = 0;
    devtools.on("Network.loadingFinished", ({ encodedDataLength }) => {
      bytes += encodedDataLength;
    });
    await page.goto(`${at.server.url}/?example=1`);
    await page.evaluate(() => scrollTo(0, document.body.scrollHeight));
    await settled(page);
    expect(bytes).toBeGreaterThan(50_000);
    expect(bytes).toBeLessThanOrEqual(130_000);
    await close();
    const html = await (await fetch(`${at.server.url}/?example=1`)).text();
    expect(html).toMatch(/<h2>Top it off\. If it is low again before <time/);
  });
});
