import { describe, expect, test } from "vitest";
import { linksRuntimes } from "../../support/links-app.ts";
import { textOf } from "../../support/page-form.ts";
import { LETTERHEAD, ShopDesk } from "./shop-desk.ts";

describe.each(linksRuntimes)("quotes on $name", ({ start }) => {
  const desk = new ShopDesk(start);

  test("sample prices are not sent", async () => {
    await desk.shop.post("/prices/letterhead", LETTERHEAD);
    const answer = await desk.submit(await desk.begin(), "send");
    expect(answer.status).toBe(422);
    expect(textOf(await answer.text())).toContain("Enter your own prices first: this quote uses sample prices");
  });

  describe("what cannot be undone", () => {
    test("asks first: deleting a draft, withdrawing a quote", async () => {
      const draft = await desk.shop.page(await desk.begin());
      expect(textOf(draft)).toContain("are deleted for good");
      const { path } = await desk.send();
      expect(textOf(await desk.shop.page(path))).toContain("The customer can no longer accept it");
    });

    test("a withdrawn quote makes no new link, and tells of the quote that was sent instead", async () => {
      const { path, link } = await desk.send();
      const revised = await desk.shop.post(`${path}/revise`, {});
      await desk.submit(revised.headers.get("Location")!, "send");
      expect(await desk.shop.page(path)).not.toContain("Make a new link");
      expect(textOf(await desk.customer.page(link))).toMatch(/there is a newer one, quote \d+/);
    });
  });

  test("a revision keeps every line, discount and fee that was typed by hand", async () => {
    const { path } = await desk.send((form) => {
      form.set("quantity-c-1", "2.25");
      form.set("discount-c-1", "10 %");
      form.set("text-c-2", "Hand-picked hose");
      form.set("discount-c", "20");
      form.set("recommended_why", "We have seen the hose.");
    });
    const before = (await desk.store.quotes.get(path.split("/").at(-1)!)).content;
    const answer = await desk.shop.post(`${path}/revise`, {});
    const after = (await desk.store.quotes.get(answer.headers.get("Location")!.split("/").at(-1)!)).content;
    expect(after).toEqual(before);
    expect(JSON.stringify(after.options[2]?.lines)).toContain("Hand-picked hose");
  });
});
