import { describe, expect, test } from "vitest";
import { linksRuntimes } from "../../support/links-app.ts";
import { textOf } from "../../support/page-form.ts";
import { ShopDesk } from "./shop-desk.ts";

describe.each(linksRuntimes)("quotes on $name", ({ start }) => {
  const desk = new ShopDesk(start);

  describe("the list", () => {
    test("is searched by customer, vehicle, plate, VIN and number, and narrowed to a state", async () => {
      await desk.send((form) => {
        form.set("customer", "Featherstone");
        form.set("plate", "ABC 123");
        form.set("vin", "1M8GDM9AXKP042788");
      });
      await desk.begin({ customer: "Someone Else" });
      for (const q of ["feather", "abc 1", "1M8GDM9AXKP042788", "1"]) {
        const found = textOf(await desk.shop.page(`/quotes?${new URLSearchParams({ q })}`));
        expect(found, q).toContain("Featherstone");
        expect(found, q).not.toContain("Someone Else");
      }
      expect(textOf(await desk.shop.page("/quotes?state=draft"))).not.toContain("Featherstone");
      expect(textOf(await desk.shop.page("/quotes?state=expired"))).toContain("No quote matches");
      expect(textOf(await desk.shop.page("/quotes?q=%25"))).toContain("No quote matches");
    });

    test("says what was answered or ran out since one's last visit, to each person their own", async () => {
      const { link } = await desk.send();
      const lead = async (who = desk.shop) =>
        /(\d+ (?:accepted|declined|expired)[^.]*)/.exec(textOf(await who.page("/quotes")))?.[1];
      const other = await desk.as("viewer");
      expect([await lead(), await lead(other)]).toEqual([undefined, undefined]);
      const long_ago = () =>
        desk.app.sql.batch([
          {
            sql: "UPDATE quote_visits SET since = '2026-04-01T00:00:00.000Z', visited_at = '2026-04-02T00:00:00.000Z' WHERE workspace_id = ?",
            params: [desk.store.workspaceId],
          },
        ]);
      await long_ago();
      await desk.customer.post(link, { choice: "no", name: "Robin Ames", years: "5" });
      expect(await lead()).toMatch(/^1 declined since your last visit, 2 April 2026/);
      // It stays for this visit, and is the other person's news, too.
      const page = await desk.shop.page("/quotes");
      expect(textOf(page)).toContain("1 declined");
      expect(page.match(/class="quote-new"/g)).toHaveLength(1);
      expect(await lead(other)).toMatch(/^1 declined/);
    });

    test("goes on after fifty, to the last", async () => {
      for (let i = 0; i < 53; i++) await desk.begin();
      const first = await desk.shop.page("/quotes");
      const older = /href="(\/quotes\?[^"]*before=\d+)"/.exec(first)?.[1]?.replaceAll("&amp;", "&") ?? "";
      const numbers = (page: string) => [...page.matchAll(/Quote (\d+),/g)].map(([, number]) => Number(number));
      expect(numbers(textOf(first))).toHaveLength(50);
      expect(numbers(textOf(await desk.shop.page(older)))).toEqual([3, 2, 1]);
    });

    test("is a file with the totals", async () => {
      await desk.send((form) => form.set("customer", "=Ames"));
      const file = await desk.shop.page("/quotes.csv");
      expect(file).toMatch(/^\ufeff?quote,customer,vehicle,state,on,option,total,currency,work_logged\r\n/);
      expect(file).toMatch(
        /\r\n1,'=Ames,White van,"?Sent, waiting for an answer"?,\d{4}-\d\d-\d\d,,\d+(\.\d+)?,USD,no\r\n$/,
      );
    });
  });
});
