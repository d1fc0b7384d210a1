import { describe, expect, test } from "vitest";
import { linksRuntimes } from "../../support/links-app.ts";
import { formIn, textOf } from "../../support/page-form.ts";
import { ShopDesk } from "./shop-desk.ts";

describe.each(linksRuntimes)("quotes on $name", ({ start }) => {
  const desk = new ShopDesk(start);

  describe("a draft", () => {
    test("lines and options are added and removed by buttons", async () => {
      const path = await desk.begin();
      await desk.submit(path, "options/b/lines");
      const lines = (page: string, option: string) => formIn(page, "builder").getAll(`line-${option}`).length;
      expect(lines(await desk.shop.page(path), "b")).toBe(2);
      await desk.submit(path, "options/b/lines/1/removal");
      expect(lines(await desk.shop.page(path), "b")).toBe(1);
      await desk.submit(path, "options", (form) => form.set("new_work", "repair-hose"));
      const with_hose = await desk.shop.page(path);
      expect(formIn(with_hose, "builder").getAll("option")).toEqual(["a", "b", "c", "d"]);
      expect(with_hose).toContain('value="Replace the leaking hose"');
      await desk.submit(path, "options/c/removal");
      expect(formIn(await desk.shop.page(path), "builder").getAll("option")).toEqual(["a", "b", "d"]);
    });

    test("supplies go on with hours that change, up to their cap, unless someone typed another price", async () => {
      // Reseal a joint: 1.2 h × 110.00 = 132.00, with 45.00, 65.00 and 50.00 a base of 292.00: 8 % is 23.36. With 2 h
      // it is 380.00: 30.40; with 3 h 490.00, of which 39.20 is above the cap of 35.00.
      const path = await desk.begin();
      await desk.submit(path, "options", (form) => form.set("new_work", "repair-joint"));
      const lineOf = (form: URLSearchParams, text: string) =>
        form.getAll("line-d").find((n) => form.get(`text-d-${n}`)?.startsWith(text)) ?? "";
      const price = async (page: string) => {
        const form = formIn(page, "builder");
        return form.get(`price-d-${lineOf(form, "Shop supplies")}`);
      };
      const hours = (typed: string) => (form: URLSearchParams) => {
        form.set(`quantity-d-${lineOf(form, "Open the leaking joint")}`, typed);
      };
      expect(await price(await desk.shop.page(path))).toBe("23.36");
      const form = formIn(await desk.shop.page(path), "builder");
      hours("2")(form);
      const sums = await (await desk.shop.post(`${path}/sums`, form)).text();
      expect(await price(`<form id="builder">${sums}</form>`)).toBe("30.40");
      await desk.submit(path, "", hours("3"));
      expect(await price(await desk.shop.page(path))).toBe("35.00");
      await desk.submit(path, "", (typed) => {
        hours("2")(typed);
        typed.set(`price-d-${lineOf(typed, "Shop supplies")}`, "12");
      });
      await desk.submit(path, "", hours("1"));
      expect(await price(await desk.shop.page(path))).toBe("12.00");
    });

    test("takes its lines from today's prices again when asked to, and not before", async () => {
      const path = await desk.begin();
      const retail = await desk.store.priceBooks.get("retail");
      await desk.store.priceBooks.update("retail", 0, { ...retail.book, electronic_micro: 77_000_000 });
      expect(await desk.shop.page(path)).toContain('value="100.00"');
      expect(await desk.shop.page(path)).not.toContain('value="77.00"');
      await desk.submit(path, "options/b/renewal");
      expect(await desk.shop.page(path)).toContain('value="77.00"');
    });

    test("holds eight options of thirty lines, and says so rather than losing one", async () => {
      const path = await desk.begin();
      for (let i = 0; i < 5; i++) await desk.submit(path, "options", (form) => form.set("new_work", "own"));
      const ninth = await desk.submit(path, "options", (form) => form.set("new_work", "own"));
      expect(ninth.status).toBe(422);
      expect(textOf(await ninth.text())).toContain("Keep a quote to 8 options");
      const too_long = await desk.submit(path, "", (form) => {
        for (let n = 2; n <= 31; n++) {
          form.append("line-b", String(n));
          form.set(`text-b-${n}`, `Line ${n}`);
          form.set(`price-b-${n}`, "1");
        }
      });
      const page = await too_long.text();
      expect(too_long.status).toBe(422);
      expect(textOf(page)).toContain("Keep an option to 30 lines");
      expect(page).toContain('value="Line 31"');
    });
  });
});
