import Papa from "papaparse";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { RETAIL_BOOK } from "../../data/price-book.ts";
import type { AssessAnswer } from "../../src/core/question/contract.ts";
import { NEW_VEHICLE } from "../../src/core/question/record.ts";
import type { PriceBook } from "../../src/core/quotes/price-book.ts";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import { vehicleRequest } from "../../src/web/vehicle-answer.ts";
import { type LocalApp, localApp } from "../support/local-app.ts";
import { textOf } from "../support/page-form.ts";

/** In a workspace every page computes with one set of prices, says whose they are, and never mixes currencies. */

const TODAY = "2026-05-01";

const LOG = [
  { date: "2024-06-14", cooling: "weak", added_g: 340, added_by: "cans" },
  { date: "2025-07-20", cooling: "weak", added_g: 340, added_by: "cans" },
  { date: TODAY, cooling: "weak" },
] as const;

/** The same case as someone types it into the quick question. */
const TYPED = new URLSearchParams([
  ["units", "metric"],
  ["refrigerant", "R-134a"],
  ["electric", "no"],
  ["nameplate", "650 g"],
  ...[LOG[0], LOG[1]].flatMap(({ date }): [string, string][] => [
    ["when", date],
    ["did", "cans"],
    ["amount", "340 g"],
    ["cooled", "weak"],
  ]),
  ["today", "weak"],
]);

/** A book unlike the general prices, so that figures tell which was taken. */
function bookIn(currency: string): PriceBook {
  return {
    ...RETAIL_BOOK,
    name: `Prices in ${currency}`,
    currency,
    labor_rate_micro: 83_000_000,
    recover_micro: 31_000_000,
    evacuate_micro: 47_000_000,
  };
}

const CASES = [
  { workspace: "EUR", book: "EUR", money: "EUR" },
  { workspace: "USD", book: "USD", money: "USD" },
  { workspace: "USD", book: null, money: "USD" },
  { workspace: "EUR", book: null, money: "USD" },
  { workspace: "EUR", book: "USD", money: "USD" },
  { workspace: "EUR", book: "JPY", money: "USD" },
] as const;

const OTHER_SIGNS = { EUR: /[$¥]/, USD: /[€¥]/ } as const;

describe.each(CASES)("a workspace in $workspace with a book in $book", ({ workspace, book, money }) => {
  let app: LocalApp;
  let store: WorkspaceStore;
  let id: string;
  const uses_book = book === money;

  beforeEach(async () => {
    app = await localApp();
    ({ store } = app);
    const settings = await store.settings.get();
    await store.settings.update({ ...settings, currency: workspace, mass_unit: "g" }, settings.version);
    if (book !== null) await store.priceBooks.create(bookIn(book));
    const vehicle = { ...NEW_VEHICLE, label: "Van 2", refrigerant: "R-134a", nameplate_g: 650 } as const;
    ({ id } = await store.vehicles.create(vehicle, { charge_log: [...LOG] }));
  });
  afterEach(() => app.close());

  const assessed = async () => JSON.parse(await app.page(`/api/vehicles/${id}/assessment`)) as AssessAnswer;
  const begin = (named: string) =>
    app.post(`/vehicles/${id}/quotes`, new URLSearchParams({ customer: "", keep_years: "5", book: named }));

  test("vehicle page, quick question, fleet, budget and quote have the same figures of every option", async () => {
    const answer = await assessed();
    const expected = new Map(answer.options.map((option) => [option.id as string, option.expected_cost]));
    expect(costsIn(await app.page(`/vehicles/${id}`))).toEqual(expected);

    const quick = costsIn(await app.page(`/?${TYPED}`));
    for (const [option, cost] of expected) expect(quick.get(option), option).toBeCloseTo(cost, 6);

    await app.calculateFleet();
    const { top_off, best } = fleetCosts(await app.page("/fleet.csv"));
    // Topping off for ever, at the same prices: no repair that the option would turn to.
    expect(top_off).toBeGreaterThan(0);
    expect(best * 5).toBeCloseTo(expected.get(answer.verdict.option!)!, 6);

    const [options] = await store.fleet.options();
    for (const { id: option, expected_cost } of options!.options)
      expect(expected_cost, option).toBeCloseTo(expected.get(option)!, 6);
  });

  if (uses_book)
    test("a quote asks the model what the vehicle's page asks", async () => {
      const begun = await app.page(`/vehicles/${id}/quotes`);
      const chosen = /<option value="([^"]+)" selected/.exec(begun)?.[1];
      const stored = (await store.priceBooks.own())[0]!;
      expect(chosen).toBe(stored.id);
      const made = await begin(stored.id);
      expect(made.status).toBe(303);
      const quote = (await store.quotes.list(id))[0]!;
      expect(quote.currency).toBe(money);
      const preview = await app.page(`/vehicles/${id}/quotes/${quote.id}`);
      expect(textOf(preview)).not.toMatch(OTHER_SIGNS[money]);

      const { shopQuestion } = await import("../../src/web/quotes/shop-question.ts");
      const record = await store.record(id);
      const { request } = shopQuestion(record, TODAY, { book: stored.book });
      expect(request).toEqual(vehicleRequest(record, TODAY));
    });

  test("every page with money is in one currency, and says whose prices it used", async () => {
    await app.calculateFleet();
    const paths = [
      `/vehicles/${id}`,
      `/vehicles/${id}/sensitivity`,
      `/?${TYPED}`,
      "/vehicles",
      "/fleet",
      "/fleet/budget?budget=500",
      `/fleet/compare?v=${id}`,
      `/vehicles/${id}/details`,
      "/vehicles/new",
      `/vehicles/${id}/top-off`,
      `/top-off?${TYPED}`,
    ];
    for (const path of paths) {
      const text = textOf(await app.page(path));
      expect(text, path).not.toMatch(OTHER_SIGNS[money]);
      if (path.endsWith("/sensitivity")) continue;
      if (uses_book) expect(text, path).toContain(`Prices: your price book Prices in ${book} , changed 1 May 2026`);
      else expect(text, path).toContain("General prices , US dollars");
      if (money !== workspace) expect(text, path).toContain("There are no prices in euros yet");
    }
  });

  test("the interface says whose prices an answer about a vehicle used", async () => {
    const { prices_used } = (await assessed()) as unknown as { prices_used: unknown };
    const [own] = await store.priceBooks.own();
    expect(prices_used).toEqual({
      currency: money,
      book: uses_book ? { id: own!.id, name: own!.book.name, changed_on: "2026-05-01" } : null,
      wanted: money === workspace ? null : workspace,
      left_out: null,
    });
  });

  test("a quote's builder says which book its lines are from, and whether that has changed since", async () => {
    const named = uses_book ? (await store.priceBooks.own())[0]!.id : "retail";
    const begun = await begin(named);
    const path = begun.headers.get("Location")!;
    const builder = await app.page(path);
    if (!uses_book) {
      // Sample prices: the note says so, and that they cannot be sent.
      expect(textOf(builder)).toMatch(/sample/i);
      expect(textOf(builder)).not.toContain("Prices: your price book");
      return;
    }
    expect(textOf(builder)).toContain(`Prices: your price book Prices in ${book} , changed 1 May 2026`);
    expect(builder).toContain(`href="/prices/${named}"`);
    const { book: stored, version } = await store.priceBooks.get(named);
    await store.priceBooks.update(named, version, { ...stored, labor_rate_micro: 99_000_000 });
    expect(textOf(await app.page(path))).toContain("as it was before its last change");
  });

  if (uses_book)
    test("one edit to a price changes every figure, kept pages and the fleet's too", async () => {
      await app.calculateFleet();
      const before = {
        vehicle: costsIn(await app.page(`/vehicles/${id}`)),
        quick: costsIn(await app.page(`/?${TYPED}`)),
      };
      const stored = (await store.priceBooks.own())[0]!;
      const dearer = { ...stored.book, labor_rate_micro: 2 * stored.book.labor_rate_micro };
      await store.priceBooks.update(stored.id, stored.version, dearer);
      const repair = (await assessed()).options.find((option) => option.id === "repair")!.expected_cost;
      expect(repair).toBeGreaterThan(before.vehicle.get("repair")!);
      expect(costsIn(await app.page(`/vehicles/${id}`)).get("repair")).toBe(repair);
      expect(costsIn(await app.page(`/?${TYPED}`)).get("repair")).toBeCloseTo(repair, 6);
      expect(await store.reckoning.due("2026-04-24", "2026-05-01")).toBe(1);
      await app.calculateFleet();
      const [options] = await store.fleet.options();
      expect(options!.options.find((option) => option.id === "repair")!.expected_cost).toBeCloseTo(repair, 6);
    });

  test("going over to another currency relabels nothing", async () => {
    await app.calculateFleet();
    const before = costsIn(await app.page(`/vehicles/${id}`));
    const settings = await store.settings.get();
    await store.settings.update({ ...settings, currency: "JPY" }, settings.version);
    const after = await app.page(`/vehicles/${id}`);
    const has_yen = book === "JPY";
    if (has_yen) expect(textOf(after)).not.toMatch(/[$€]/);
    else expect(textOf(after)).not.toMatch(/[€¥]/);
    if (money === "USD" && !has_yen) expect(costsIn(after)).toEqual(before);
    else expect(costsIn(after)).not.toEqual(before);
    // What was calculated in other money waits to be calculated anew.
    const [row] = await store.fleet.list();
    if (money === "USD" && !has_yen) expect(row!.reckoned).not.toBeNull();
    else expect(row!.reckoned).toBeNull();
  });
});

/** The average cost of each option in a page's table. */
function costsIn(html: string): Map<string, number> {
  const table = /<table class="options">.*?<\/table>/s.exec(html)?.[0] ?? "";
  const rows = table.matchAll(/<tr[^>]* data-option="([^"]+)".*?<data class="money" value="([^"]+)"/gs);
  return new Map(Array.from(rows, ([, option, cost]) => [option!, Number(cost)]));
}

/** A year's cost of the one vehicle in the fleet's file. */
function fleetCosts(csv: string): { top_off: number; best: number } {
  const { data } = Papa.parse<Record<string, string>>(csv.replace(/^\uFEFF/, ""), { header: true });
  const [row] = data;
  return { top_off: Number(row!.cost_per_year_top_off), best: Number(row!.cost_per_year_answer) };
}
