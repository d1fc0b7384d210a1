import { describe, expect, test } from "vitest";
import { RETAIL_BOOK } from "../../../data/price-book.ts";
import { settingsOf } from "../../../src/store/workspaces.ts";
import { VAN } from "../../store/samples.ts";
import { linksRuntimes } from "../../support/links-app.ts";
import { formIn, textOf } from "../../support/page-form.ts";
import { LETTERHEAD, linkIn, ShopDesk } from "./shop-desk.ts";

describe.each(linksRuntimes)("quotes on $name", ({ start }) => {
  const desk = new ShopDesk(start);

  describe("the customer's link", () => {
    test("is shown once; the same press again sends nothing anew and shows none", async () => {
      await desk.ownPrices();
      await desk.shop.post("/prices/letterhead", LETTERHEAD);
      const path = await desk.begin();
      const form = formIn(await desk.shop.page(path), "builder");
      const first = await desk.shop.post(`${path}/send`, form);
      const link = linkIn(await first.text());
      expect(first.headers.get("Cache-Control")).toBe("no-store");
      const again = await desk.shop.post(`${path}/send`, form);
      expect(again.status).toBe(303);
      expect(await desk.shop.page(path)).not.toContain(link);
      expect((await desk.customer.get(link)).status).toBe(200);
    });

    test("opens the quote and nothing else: no id, no way on, no cookie, nothing to be found by", async () => {
      const { path, link } = await desk.send();
      const answer = await desk.customer.get(link);
      const page = await answer.text();
      expect(answer.headers.get("X-Robots-Tag")).toBe("noindex, nofollow, noarchive");
      expect(answer.headers.get("Cache-Control")).toBe("private, no-store");
      expect(answer.headers.get("Set-Cookie")).toBeNull();
      expect(page).toContain('<meta name="robots" content="noindex, nofollow, noarchive"');
      const { workspaceId } = desk.store;
      for (const secret of [workspaceId, desk.vehicle, path.split("/").at(-1)!, "/vehicles", "/prices"])
        expect(page).not.toContain(secret);
      const addresses = [...page.matchAll(/\s(?:href|action|src|hx-get|hx-post)="([^"]*)"/g)].map(([, to]) => to);
      for (const to of addresses) expect(to).toMatch(/^(?:\/assets\/|#)|^\/q\/[\w-]{43,86}$/);
      for (const elsewhere of [`${link}/sums`, `${link}x`, "/q/", "/q", `/q/${"A".repeat(43)}`])
        expect((await desk.customer.get(elsewhere)).status, elsewhere).toBe(404);
      for (const shops of [path, `${path}/preview`, "/quotes", "/prices"])
        expect((await desk.customer.get(shops)).status, shops).toBe(401);
    });

    test("shows price, years, release, sureness, nothing done, cautions", async () => {
      const { link } = await desk.send((form) => {
        form.set("vehicle_words", "2016 white van");
        form.set("vin", "1m8gdm9axkp042788");
      });
      const page = textOf(await desk.customer.page(link));
      for (const words of [
        "North Yard Cooling",
        "Robin Ames",
        "2016 white van",
        "1M8GDM9AXKP042788",
        "Recharge now",
        "Price today",
        "Over 5 years, in all",
        "Refrigerant to air",
        "How sure",
        "If nothing is done",
        "Take care",
        "Your answer",
      ])
        expect(page).toContain(words);
    });

    test("other years change the sums, as a page and as a part of it; nonsense is told", async () => {
      const { link } = await desk.send();
      const [five, ten] = await Promise.all(
        [5, 10].map(async (years) => textOf(await desk.customer.page(`${link}?years=${years}`))),
      );
      expect(five).toContain("over 5 years");
      expect(ten).toContain("over 10 years");
      const fragment = await desk.customer.get(`${link}?years=10`, {
        "HX-Request": "true",
        "HX-Request-Type": "partial",
      });
      const part = await fragment.text();
      expect(part).not.toContain("<html");
      expect(ten).toContain(textOf(part).trim().slice(0, 200));
      const wrong = await desk.customer.get(`${link}?years=forever`);
      expect(wrong.status).toBe(422);
      expect(textOf(await wrong.text())).toContain("Enter years from 0.25 to 20, like 5");
    });

    test("is the same page after prices, head, vehicle and record have changed", async () => {
      const { link } = await desk.send();
      const before = await desk.customer.page(link);
      await desk.store.priceBooks.update("retail", 1, (await desk.store.priceBooks.get("fleet")).book);
      await desk.shop.post("/prices/letterhead", { ...LETTERHEAD, version: "1", shop: "Another" });
      await desk.store.vehicles.update(desk.vehicle, 1, { ...VAN, label: "Renamed", nameplate_g: 900 });
      await desk.store.chargeLog.add(desk.vehicle, { date: "2026-05-02", cooling: "ok", added_g: 400 });
      const settings = await desk.store.settings.get();
      await desk.store.settings.update({ ...settingsOf(settings), currency: "EUR", mass_unit: "g" }, settings.version);
      expect(await desk.customer.page(link)).toBe(before);
    });

    test("counts in the currency of its price book, as the shop writes amounts", async () => {
      const settings = await desk.store.settings.get();
      await desk.store.settings.update({ ...settingsOf(settings), currency: "EUR", mass_unit: "g" }, settings.version);
      const { id: book } = await desk.store.priceBooks.create({ ...RETAIL_BOOK, currency: "EUR" });
      await desk.shop.post("/prices/letterhead", { ...LETTERHEAD, number_format: "1.234,56" });
      const sent = await desk.submit(await desk.begin({ book }), "send", (form) => form.set("price-a-1", "1.045,5"));
      const page = textOf(await desk.customer.page(linkIn(await sent.text())));
      expect(page).toContain("1.045,50 €");
      expect(page).toMatch(/about [\d.]+ €/);
      expect(page).toMatch(/about \d+ g of 650 g of R-134a/);
      expect(page).not.toContain("$");
    });

    test("a new link ends the one before", async () => {
      const { path, link } = await desk.send();
      const next = linkIn(await (await desk.shop.post(`${path}/link`)).text());
      expect(next).not.toBe(link);
      expect((await desk.customer.get(link)).status).toBe(404);
      expect((await desk.customer.get(next)).status).toBe(200);
    });
  });

  test("the shop's own name for a vehicle never reaches the customer; a slip in the VIN is told", async () => {
    const { link, path } = await desk.send();
    expect(await desk.customer.page(link)).not.toContain("White van");
    const draft = (await desk.shop.post(`${path}/revise`, {})).headers.get("Location")!;
    const answer = await desk.submit(draft, "", (form) => form.set("vin", "1M8GDM9AXKP042789"));
    expect(answer.status).toBe(422);
    expect(textOf(await answer.text())).toContain("its ninth character does not fit the others");
  });
});
