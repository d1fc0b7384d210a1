import { describe, expect, test } from "vitest";
import { linksRuntimes } from "../../support/links-app.ts";
import { textOf } from "../../support/page-form.ts";
import { ShopDesk } from "./shop-desk.ts";

describe.each(linksRuntimes)("quotes on $name", ({ start }) => {
  const desk = new ShopDesk(start);

  describe("an answer by phone or on paper", () => {
    test("is recorded by the shop with how it came and who took it, and taken back with a trace", async () => {
      const { path, link } = await desk.send();
      const version = (await desk.store.quotes.get(path.split("/").at(-1)!)).version;
      const answer = await desk.shop.post(`${path}/answer`, {
        version: String(version),
        choice: "a",
        name: "Robin",
        how: "phone",
      });
      expect(answer.status).toBe(303);
      expect(textOf(await desk.shop.page(path))).toMatch(/Accepted: Recharge now by Robin on .*, by phone, taken by /);
      expect(textOf(await desk.customer.page(link))).toMatch(/Recharge now ?: accepted by Robin on/);

      await desk.shop.post(`${path}/answer/removal`, { version: String(version + 1) });
      const waiting = textOf(await desk.shop.page(path));
      expect(waiting).toContain("sent, waiting for an answer");
      expect(waiting).toMatch(/Accepted by Robin: Recharge now on .*; taken back on .* by /);
      expect(textOf(await desk.customer.page(link))).toContain("Your answer");
      const quote = await desk.store.quotes.get(path.split("/").at(-1)!);
      expect(quote.earlier_answers).toMatchObject([{ status: "accepted", name: "Robin", option: "a", how: "phone" }]);
    });

    test("needs option, name and how", async () => {
      const { path } = await desk.send();
      const answer = await desk.shop.post(`${path}/answer`, { version: "2", choice: "z", name: "", how: "" });
      const page = textOf(await answer.text());
      expect(answer.status).toBe(422);
      for (const words of [
        "Choose one of the options",
        "Enter the name of whoever said so",
        "Choose how the answer came",
      ])
        expect(page).toContain(words);
    });

    test("is not taken back once work is logged, not even in the table", async () => {
      const { path } = await desk.send();
      const id = path.split("/").at(-1)!;
      const { version } = await desk.store.quotes.get(id);
      await desk.store.quotes.recordAnswer(id, version, { option: "a", name: "Robin", keep_years: 5, how: "paper" });
      const work = { date: "2026-05-02", option: "a", follow_up_on: null };
      await desk.store.quotes.logWork(id, version + 1, { work, charge_log: [], findings: [] });
      await expect(desk.store.quotes.takeBackAnswer(id, version + 2)).rejects.toThrow("Someone else changed this");
      expect((await desk.store.quotes.get(id)).status).toBe("accepted");
    });

    test("two at once: one is written", async () => {
      const { path } = await desk.send();
      const id = path.split("/").at(-1)!;
      const { version } = await desk.store.quotes.get(id);
      const said = (option: string) =>
        desk.store.quotes.recordAnswer(id, version, { option, name: option, keep_years: 5, how: "phone" });
      const answers = await Promise.allSettled([said("a"), said("b")]);
      expect(answers.map(({ status }) => status).toSorted()).toEqual(["fulfilled", "rejected"]);
    });
  });
});
