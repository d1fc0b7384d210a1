import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { createApp } from "../../src/app.ts";
import type { WorkspaceDocument } from "../../src/store/workspace-document.ts";
import { engines } from "../store/engines.ts";
import { acceptedQuote, INVOICE } from "../store/invoice-samples.ts";
import { TransferDatabase } from "../store/transfer/transfer-database.ts";
import { type ClockApp, clockApp } from "../support/clock-app.ts";
import { testDeps } from "../support/deps.ts";
import { poisoned, textPlaces } from "../support/poisoned-document.ts";
import { TypedEverywhere } from "../support/typed-everywhere.ts";
import { launchChromium, openPage } from "./support.ts";

/**
 * What would run, or at least stand as an element in the page, if a text were put in as markup; the short for short
 * fields.
 */
const PAYLOADS = [`"'><img src=x onerror=stored()>`, `'"><i onx=1>`];
const RAW = "<i onx";
const AS_ELEMENT = "[onerror], [onx]";

/** Where buttons, choices and amounts of money are sent, and no text; or where others come in; or to erase all. */
const NO_TEXT =
  /\/(?:again|answers|archive|back|closing|confirm|discard|erasure|examples|leave|lines|link|locks|looks|next|options|predictions|preview|reckoning|reopenings?|restoration|removals?|renewal|reversal|revise|revocation|secret|send|sending|stop|sums|take|test|unarchive|undos?|up|withdraw)$|^\/fleet\/plan(?:\/orders\/:id)?$|^\/access|^\/settings\/erase$/;

/** Lists that the exported document does not have here: the forms below fill them. */
const TYPED_IN_FORMS =
  /^\.(?:invoices|payments|cylinders|cylinder_moves|refrigerant_work|follow_ups_closed|fleet_plans|fleet_orders|fleet_closed_rows)\[\]/;
/** Texts that it does not have here: those of forms, names of people who sign in, ids, and words of ours. */
const NOT_IN_THE_DOCUMENT = [
  ".findings[].note",
  ".price_books[].book.own_lines.*.text",
  ".quotes[].content.book.own_lines.*.text",
  ...["words", "plate", "vin", "odometer"].map((name) => `.quotes[].content.vehicle_shown.${name}`),
  ...["content", "snapshot"].flatMap((of) =>
    ["replaces", "excludes"].map((name) => `.quotes[].${of}.options[].${name}[]`),
  ),
  ...["options[].id", "rules[].title", "rules[].says", "rules[].citation"].map((name) => `.quotes[].snapshot.${name}`),
  ".quotes[].snapshot.outlook.why.than",
  ".quotes[].decided_by",
  ".quotes[].agreed[].by",
  ".fleet_closed_years[].reopened_by",
  ".imports[].undone_by",
];
const NOW = "2026-05-04T09:30:00Z";
const QUESTION = "/?refrigerant=R-134a&nameplate=23+oz&today=weak&keep=5&service=diy";

describe("texts that are markup", () => {
  const database = new TransferDatabase(engines[0]!.start);
  let browser: Browser;
  let app: ClockApp;
  let document: WorkspaceDocument;
  let taken: string[];
  let token: string;
  let vehicle: string;
  beforeAll(async () => {
    const { store, sent } = await database.whole();
    ({ document, taken } = poisoned(await store.transfer.export(), PAYLOADS));
    [browser, app] = await Promise.all([launchChromium(), clockApp(NOW)]);
    await app.store.transfer.import(document, { take_vehicles: true });
    const { vehicle_id, content, snapshot } = document.quotes.find(({ id }) => id === sent)!;
    const again = await app.store.quotes.create(vehicle_id, content);
    vehicle = vehicle_id;
    const invoiced = await acceptedQuote(app.store);
    await app.store.invoices.issue(invoiced, INVOICE, 1);
    token = (await app.store.quotes.send(again.id, 1, { content, snapshot: snapshot! })).token!;
  });
  afterAll(async () => {
    await browser.close();
    await app.close();
  });

  let seen: readonly string[] = [];
  test("are typed into every field, and stay texts in every answer to a form that has them", async () => {
    const tried = await typedIntoEveryField();
    seen = tried.pages;
    expect([...tried.untried]).toEqual([]);
    const raw = tried.answers.filter((html) => html.includes(RAW));
    expect(raw.map((html) => html.slice(html.indexOf(RAW) - 200).slice(0, 240))).toEqual([]);
    // Otherwise this would say nothing.
    const left_out = textPlaces().filter((place) => !taken.includes(place) && !TYPED_IN_FORMS.test(place));
    expect(new Set(left_out)).toEqual(new Set(NOT_IN_THE_DOCUMENT));
    expect(tried.taken.size).toBeGreaterThan(90);
    expect(tried.refused.size).toBeGreaterThan(200);
    const reached = new Set([...tried.taken, ...tried.refused].map((field) => field.split(" ")[0]));
    const sent = createApp(testDeps()).routes.filter(
      ({ method, path }) => method === "POST" && !path.startsWith("/api/"),
    );
    expect(sent.map(({ path }) => path).filter((path) => !reached.has(path) && !NO_TEXT.test(path))).toEqual([]);
  });

  test("stay texts on every page that shows them", async () => {
    const { page, problems, close } = await openPage(browser);
    await page.addInitScript(() => {
      Object.assign(window, { stored: () => Object.assign(window, { ran: true }) });
    });
    const shown: string[] = [];
    for (const address of seen) {
      const answer = await page.goto(app.url + address, { waitUntil: "domcontentloaded" });
      expect([address, answer!.status() < 500]).toEqual([address, true]);
      const found = await lookAt(page);
      // Of some things there are none here, which the console tells of.
      const wrong = problems.filter((problem) => !problem.includes("404"));
      expect([address, found.elements, found.ran, wrong]).toEqual([address, 0, false, []]);
      if (found.shows) shown.push(address);
    }
    await close();
    expect(shown.length).toBeGreaterThan(40);
    expect(shown).toContain(`/q/${token}`);
  });

  /** Types into every text field of every form that there is, and gives the pages on which that may stand. */
  async function typedIntoEveryField() {
    const { routes } = createApp(testDeps());
    const seeds = routes.filter(({ method, path }) => method === "GET" && !/[:*]|^\/api/.test(path));
    const ask = async (path: string, asked: RequestInit = {}) =>
      fetch(app.url + path, { redirect: "manual", ...asked, headers: { "Sec-Fetch-Site": "same-origin" } });
    const places = {
      shows: /onerror=stored|onx=1/,
      // With the name that was typed everywhere this would be confirmed.
      except: ["/settings/erase"],
      routes: [...new Set(routes.map(({ path }) => path))].filter((path) => !path.includes("*")),
      get: ask,
      post: (path: string, body: URLSearchParams | FormData) => ask(path, { method: "POST", body }),
    };
    const begin = [...seeds.map(({ path }) => path), QUESTION, `/q/${token}`, `/fleet/change?v=${vehicle}`];
    const tried = await new TypedEverywhere({ ...places, seeds: begin }, PAYLOADS[1]!).run();
    // What is to be followed up is due by then.
    app.setNow("2026-11-10T09:30:00Z");
    const later = await new TypedEverywhere({ ...places, seeds: ["/follow-ups"] }, PAYLOADS[1]!).run();
    app.setNow(NOW);
    for (const field of later.taken) tried.taken.add(field);
    tried.answers.push(...later.answers);
    return tried;
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
