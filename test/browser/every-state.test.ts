import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { VAN } from "../store/samples.ts";
import { type ClockApp, clockApp } from "../support/clock-app.ts";
import { expectGoodEverywhere, launchChromium, sharedPage } from "./support.ts";

/** States of pages that are seldom seen: empty, wrong, asked back; readable by everyone, in both schemes. */

let browser: Browser;
let app: ClockApp;
let empty: ClockApp;
let vehicle: string;
let quote: string;
beforeAll(async () => {
  [browser, app, empty] = await Promise.all([
    launchChromium(),
    clockApp("2026-05-04T09:30:00Z"),
    clockApp("2026-05-04T09:30:00Z"),
  ]);
  ({ id: vehicle } = await app.store.vehicles.create(VAN, {
    charge_log: [
      { date: "2025-06-20", cooling: "weak", added_g: 340, added_by: "cans", finish: "low-side" },
      { date: "2026-05-03", cooling: "weak" },
    ],
  }));
  const begun = await fetch(`${app.url}/vehicles/${vehicle}/quotes`, {
    method: "POST",
    redirect: "manual",
    headers: { Origin: app.url },
    body: new URLSearchParams({ submit_key: "quote", customer: "A. Customer", keep_years: "5", book: "retail" }),
  });
  quote = begun.headers.get("Location") ?? "";
});
afterAll(async () => {
  await browser.close();
  await Promise.all([app.close(), empty.close()]);
});

/** Presses what sends the form, after `typed`, by the id of its field. */
async function sent(page: Page, typed: Readonly<Record<string, string>>, button: string): Promise<void> {
  await page.evaluate(() => {
    for (const fold of document.querySelectorAll("details")) fold.open = true;
  });
  for (const [id, text] of Object.entries(typed)) await page.locator(`#${id}`).fill(text);
  await page.getByRole("button", { name: button, exact: true }).first().click();
  await page.locator("#error-summary").waitFor();
}

const STATES: readonly { state: string; address: () => string; reach?: (page: Page) => Promise<void> }[] = [
  { state: "a shop's day, nothing waits", address: () => `${empty.url}/shop` },
  { state: "a shop's day, a draft waits", address: () => `${app.url}/shop` },
  { state: "a fleet without vehicles", address: () => `${empty.url}/fleet` },
  { state: "a budget without vehicles", address: () => `${empty.url}/fleet/budget` },
  { state: "an audit without a year", address: () => `${empty.url}/fleet/audit` },
  { state: "no quotes", address: () => `${empty.url}/quotes` },
  { state: "no customers", address: () => `${empty.url}/customers` },
  {
    state: "is that right, a look that contradicts the log",
    address: () => `${app.url}/vehicles/${vehicle}`,
    reach: async (page) => {
      await page.getByRole("button", { name: "Well", exact: true }).click();
      await page.getByRole("heading", { name: "It cools well again, with nothing added?" }).waitFor();
    },
  },
  {
    state: "an entry to be put right",
    address: () => `${app.url}/vehicles/${vehicle}/log/new`,
    reach: (page) => sent(page, { when: "31 Feb 2026" }, "Save"),
  },
  {
    state: "details to be put right",
    address: () => `${app.url}/vehicles/${vehicle}/details`,
    reach: (page) => sent(page, { nameplate: "lots" }, "Save"),
  },
  {
    state: "readings to be put right",
    address: () => `${app.url}/readings?ambient=cold&low=-9999&go=1`,
  },
  {
    state: "a quote to be put right",
    address: () => app.url + quote,
    reach: (page) => sent(page, { customer: "A. Customer", valid_days: "never" }, "Save and preview"),
  },
  { state: "readings, everything open", address: () => `${app.url}/readings`, reach: opened },
  { state: "details, everything open", address: () => `${app.url}/vehicles/${vehicle}/details`, reach: opened },
  { state: "rules, everything open", address: () => `${app.url}/rules?place=us-wi`, reach: opened },
  { state: "access, everything open", address: () => `${app.url}/settings/access`, reach: opened },
];

async function opened(page: Page): Promise<void> {
  await page.evaluate(() => {
    for (const fold of document.querySelectorAll<HTMLDetailsElement>("main details")) fold.open = true;
  });
}

const look = sharedPage(() => browser, { reducedMotion: "reduce" });

test.each(STATES)("$state: readable by everyone, nowhere too wide", async ({ state, address, reach }) => {
  const { page, problems } = await look();
  await page.goto(address());
  await reach?.(page);
  await expectGoodEverywhere(page, `state-${state.replace(/\W+/g, "-")}`);
  // Chromium itself calls a page that asks back an error on the console.
  expect(problems.filter((problem) => !/status of (409|422)|net::ERR_ABORTED$/.test(problem))).toEqual([]);
});
