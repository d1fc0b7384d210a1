import { describe, expect, test } from "vitest";
import { createApp } from "../../src/app.ts";
import { CAN, TRUCK } from "../store/samples.ts";
import { testDeps } from "../support/deps.ts";
import { linksOnNode } from "../support/links-app.ts";
import { LinksDesk } from "../support/links-desk.ts";
import { textOf } from "../support/page-form.ts";

/** Names in the menu of a page, in order, without what is under "More". */
function menu(page: string): string[] {
  const nav = /<nav aria-label="Main menu">(.*?)<details/s.exec(page)?.[1] ?? "";
  return [...nav.matchAll(/<a [^>]*>([^<]*)<\/a>/g)].map(([, name]) => name!);
}

describe("who the pages are for", () => {
  const app = createApp(testDeps());
  const choose = (person: string) => app.request(`/person?is=${person}`);

  test("is asked once, kept by the browser, and decides which links come first", async () => {
    const first = await (await app.request("/")).text();
    expect(textOf(first)).toContain("This is for");
    const chosen = await choose("shop");
    expect([chosen.status, chosen.headers.get("Location")]).toEqual([303, "/shop"]);
    const cookie = chosen.headers.get("Set-Cookie")?.split(";")[0] ?? "";
    const as_shop = await (await app.request("/", { headers: { Cookie: cookie } })).text();
    expect(menu(as_shop)).toEqual(["Today", "Customers", "Vehicles", "Quotes"]);
    expect(as_shop).not.toContain("This is for");
  });

  test.each(["vehicle", "shop", "fleet"])("%s: at most five links, every page within reach", async (person) => {
    const page = await (await app.request("/method", { headers: { Cookie: `seepwise-for=${person}` } })).text();
    expect(menu(page).length + 1).toBeLessThanOrEqual(5);
    for (const path of [
      "/",
      "/vehicles",
      "/readings",
      "/quotes",
      "/prices",
      "/fleet",
      "/rules",
      "/method",
      "/settings",
    ])
      expect(page).toContain(`<a href="${path}"`);
  });

  test("nobody else is let in, and another word is refused", async () => {
    const other = await choose("everyone");
    expect([other.headers.get("Location"), other.headers.get("Set-Cookie")]).toEqual(["/", null]);
    const page = await (await app.request("/", { headers: { Cookie: "seepwise-for=everyone" } })).text();
    expect(menu(page)).toEqual(["Question", "Vehicles", "Readings"]);
  });
});

describe("a shop's day", () => {
  const desk = new LinksDesk(linksOnNode);
  const day = async () => textOf(await (await desk.as("viewer")).page("/shop"));

  test("says so where nothing waits", async () => {
    expect(await day()).toContain("Nothing is waiting today");
  });

  test("shows a follow-up that is due, with its vehicle and what to do", async () => {
    const truck = await desk.store.vehicles.create(TRUCK, {
      charge_log: [{ ...CAN, date: "2026-03-28", dye: "added", cooling: "weak" }],
    });
    const page = await day();
    expect(page).toMatch(/\d follow-ups? due/);
    expect(page).toMatch(new RegExp(`${truck.label} ?, look for dye`));
  });
});
