import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { createApp } from "../../src/app.ts";
import type { WorkspaceDocument } from "../../src/store/workspace-document.ts";
import { engines } from "../store/engines.ts";
import { TransferDatabase } from "../store/transfer/transfer-database.ts";
import { type ClockApp, clockApp } from "../support/clock-app.ts";
import { testDeps } from "../support/deps.ts";
import { poisoned } from "../support/poisoned-document.ts";
import { launchChromium, openPage } from "./support.ts";

/**
 * What would run, or at least stand as an element in the page, if a text were put in as markup; the short for short
 * fields.
 */
const PAYLOADS = [`"'><img src=x onerror=stored()>`, `'"><i onx=1>`];
const AS_ELEMENT = "[onerror], [onx]";

describe("texts that are markup", () => {
  const database = new TransferDatabase(engines[0]!.start);
  let browser: Browser;
  let app: ClockApp;
  let document: WorkspaceDocument;
  let taken: string[];
  let token: string;
  beforeAll(async () => {
    const { store, sent } = await database.whole();
    ({ document, taken } = poisoned(await store.transfer.export(), PAYLOADS));
    [browser, app] = await Promise.all([launchChromium(), clockApp("2026-05-04T09:30:00Z")]);
    await app.store.transfer.import(document, { take_vehicles: true });
    const { vehicle_id, content, snapshot } = document.quotes.find(({ id }) => id === sent)!;
    const again = await app.store.quotes.create(vehicle_id, content);
    token = (await app.store.quotes.send(again.id, 1, { content, snapshot: snapshot! })).token!;
  });
  afterAll(async () => {
    await browser.close();
    await app.close();
  });

  test("stay texts on every page that shows them", async () => {
    const { page, problems, close } = await openPage(browser);
    await page.addInitScript(() => {
      Object.assign(window, { stored: () => Object.assign(window, { ran: true }) });
    });
    const shown: string[] = [];
    for (const address of addresses()) {
      const answer = await page.goto(app.url + address, { waitUntil: "domcontentloaded" });
      expect([address, answer!.status() < 500]).toEqual([address, true]);
      const found = await lookAt(page);
      // Of some things there are none here, which the console tells of.
      const wrong = problems.filter((problem) => !problem.includes("404"));
      expect([address, found.elements, found.ran, wrong]).toEqual([address, 0, false, []]);
      if (found.shows) shown.push(address);
    }
    await close();
    // Otherwise this would say nothing.
    expect(taken.length).toBeGreaterThan(30);
    expect(shown.length).toBeGreaterThan(20);
    expect(shown).toContain(`/q/${token}`);
  });

  /** Every page, of the things that the records hold. */
  function addresses(): string[] {
    const quote = document.quotes.find(({ status }) => status === "accepted") ?? document.quotes[0]!;
    const vehicle = quote.vehicle_id;
    const of = (list: readonly { id: string; vehicle_id: string }[]) =>
      list.find(({ vehicle_id }) => vehicle_id === vehicle)?.id ?? "none";
    const lines: Record<string, string> = {
      log: of(document.charge_log),
      findings: of(document.findings),
      readings: of(document.readings),
      notes: of(document.notes),
    };
    const ids: Record<string, string> = {
      prices: document.price_books[0]!.id,
      customers: document.customers[0]!.id,
      vehicles: vehicle,
    };
    const routes = createApp(testDeps()).routes.filter(
      ({ method, path }) => method === "GET" && !/^\/(api|feed|access\/:key|healthz|readyz)|\.\w+$|\*/.test(path),
    );
    const filled = routes.map(({ path }) =>
      path
        .replace(/\/(\w+)\/:line/, (_, ledger: string) => `/${ledger}/${lines[ledger]}`)
        .replace(":token", token)
        .replace(":quote", quote.id)
        .replace(":year", "2026")
        .replace(/^\/(\w+)\/:id/, (_, list: string) => `/${list}/${ids[list] ?? "none"}`)
        .replace(/:\w+/g, "none"),
    );
    return [...new Set(filled)];
  }
});

function lookAt(page: Page): Promise<{ elements: number; ran: boolean; shows: boolean }> {
  return page.evaluate((selector) => {
    const values = [...document.querySelectorAll("input, textarea")].map((field) => (field as HTMLInputElement).value);
    return {
      elements: document.querySelectorAll(selector).length,
      ran: "ran" in window,
      shows: /onerror=stored|<i onx/.test([document.documentElement.textContent, ...values].join("\n")),
    };
  }, AS_ELEMENT);
}
