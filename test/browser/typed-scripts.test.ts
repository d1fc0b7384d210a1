import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { createApp } from "../../src/app.ts";
import type { WorkspaceDocument } from "../../src/store/workspace-document.ts";
import { parseWorkspaceDocument } from "../../src/web/schemas/transfer-schema.ts";
import { engines } from "../store/engines.ts";
import { TransferDatabase } from "../store/transfer/transfer-database.ts";
import { type ClockApp, clockApp } from "../support/clock-app.ts";
import { testDeps } from "../support/deps.ts";
import { launchChromium, openPage } from "./support.ts";

/** What would run, or at least stand as an element in the page, if a text were put in as markup; the short for short fields. */
const PAYLOADS = [`"'><img src=x onerror=stored()>`, `'"><i onx=1>`];
const AS_ELEMENT = "[onerror], [onx]";

type Json = string | number | boolean | null | Json[] | { [key: string]: Json };

/** The document with a payload for each text that may be any text: those at one place of the schema all at once. */
function poisoned(document: WorkspaceDocument) {
  let whole = JSON.parse(JSON.stringify(document)) as Json;
  const places = new Set<string>();
  const each = (value: Json, place: string, change: (text: string, place: string) => string): Json => {
    if (typeof value === "string") return change(value, place);
    if (Array.isArray(value)) return value.map((one) => each(one, `${place}[]`, change));
    if (value === null || typeof value !== "object") return value;
    return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, each(one, `${place}.${key}`, change)]));
  };
  each(whole, "", (text, place) => {
    places.add(place);
    return text;
  });
  const taken: string[] = [];
  for (const place of places) {
    for (const payload of PAYLOADS) {
      const tried = each(whole, "", (text, at) => (at === place ? payload : text));
      const parsed = parseWorkspaceDocument(JSON.parse(JSON.stringify(tried)));
      if (!parsed.ok) continue;
      whole = tried;
      taken.push(place);
      break;
    }
  }
  const parsed = parseWorkspaceDocument(whole);
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.issues));
  return { document: parsed.document, taken };
}

describe("texts that are markup", () => {
  const database = new TransferDatabase(engines[0]!.start);
  let browser: Browser;
  let app: ClockApp;
  let document: WorkspaceDocument;
  let taken: string[];
  let token: string;
  beforeAll(async () => {
    const { store, sent } = await database.whole();
    ({ document, taken } = poisoned(await store.transfer.export()));
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
