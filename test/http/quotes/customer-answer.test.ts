import { describe, expect, test } from "vitest";
import { linksRuntimes } from "../../support/links-app.ts";
import { textOf } from "../../support/page-form.ts";
import { ShopDesk } from "./shop-desk.ts";

describe.each(linksRuntimes)("quotes on $name", ({ start }) => {
  const desk = new ShopDesk(start);

  describe("the customer's answer", () => {
    test("needs a choice and a name", async () => {
      const { link } = await desk.send();
      const answer = await desk.customer.post(link, { choice: "", name: "  ", years: "5" });
      const page = await answer.text();
      expect(answer.status).toBe(422);
      expect(page).toMatch(/<title>Error: /);
      expect(textOf(page)).toContain("Choose one of the options, or no");
      expect(textOf(page)).toContain("Type your name: it stands for your signature");
      for (const choice of ["z", "__proto__", "a b"])
        expect((await desk.customer.post(link, { choice, name: "Robin" })).status, choice).toBe(422);
      expect((await desk.customer.post(link, { choice: "a", name: "x".repeat(121) })).status).toBe(422);
    });

    test("a yes is written down with name and time, and the shop sees it", async () => {
      const { path, link } = await desk.send();
      const answer = await desk.customer.post(link, { choice: "c", name: "Robin <Ames>", years: "7" });
      expect(answer.status).toBe(303);
      expect(answer.headers.get("Location")).toBe(link);
      const page = await desk.customer.page(link);
      expect(textOf(page)).toMatch(/Find the leak and repair it ?: accepted by Robin <Ames> on \d+ \w+ \d{4} at/);
      expect(page).not.toContain("Send my answer");
      expect(textOf(await desk.shop.page(path))).toContain("Accepted: Find the leak and repair it");
      expect(textOf(await desk.shop.page("/quotes"))).toContain("by Robin <Ames>; the work is not logged yet");
      const quote = await desk.store.quotes.get(path.split("/").at(-1)!);
      expect(quote).toMatchObject({ decided_option: "c", decided_keep_years: 7 });
    });

    test("a no, too", async () => {
      const { path, link } = await desk.send();
      await desk.customer.post(link, { choice: "no", name: "Robin Ames" });
      expect(textOf(await desk.customer.page(link))).toContain("Declined by Robin Ames on");
      expect(textOf(await desk.shop.page(path))).toContain("Declined");
    });

    test("twice is once: the second is told what stands", async () => {
      const { link } = await desk.send();
      await desk.customer.post(link, { choice: "a", name: "First" });
      const second = await desk.customer.post(link, { choice: "no", name: "Second" });
      const page = textOf(await second.text());
      expect(second.status).toBe(409);
      expect(page).toContain("Your answer came too late and was not taken.");
      expect(page).toContain("accepted by First on");
      expect(page).not.toContain("Second");
    });

    test("of two at once, one is taken", async () => {
      const { path, link } = await desk.send();
      const answers = await Promise.all(
        ["a", "b", "c", "no"].map((choice) => desk.customer.post(link, { choice, name: `Chose ${choice}` })),
      );
      expect(answers.map(({ status }) => status).toSorted((a, b) => a - b)).toEqual([303, 409, 409, 409]);
      const { decided_name } = await desk.store.quotes.get(path.split("/").at(-1)!);
      expect(textOf(await desk.customer.page(link))).toContain(`by ${decided_name} on`);
    });

    test("after it was withdrawn, the page says so and shows no prices", async () => {
      const { path, link } = await desk.send();
      const { version } = await desk.store.quotes.get(path.split("/").at(-1)!);
      await desk.shop.post(`${path}/withdraw`, { version: String(version) });
      const page = textOf(await desk.customer.page(link));
      expect(page).toContain("This quote was withdrawn");
      expect(page).not.toContain("$");
      const answer = await desk.customer.post(link, { choice: "a", name: "Robin" });
      expect(answer.status).toBe(409);
    });

    test("when a newer one is sent in its place, at the prices it had, the older is withdrawn", async () => {
      const { path, link } = await desk.send();
      const retail = await desk.store.priceBooks.get("retail");
      await desk.store.priceBooks.update("retail", 1, { ...retail.book, electronic_micro: 77_000_000 });
      const revise = () => desk.shop.post(`${path}/revise`, { submit_key: "once" });
      const revised = (await revise()).headers.get("Location") ?? "";
      expect((await revise()).headers.get("Location")).toBe(revised);
      expect(await desk.shop.page(revised)).not.toContain('value="77.00"');
      await desk.submit(revised, "options/b/renewal");
      expect(await desk.shop.page(revised)).toContain('value="77.00"');
      expect(textOf(await desk.customer.page(link))).toContain("$100.00");
      expect((await desk.submit(revised, "send")).status).toBe(200);
      expect(textOf(await desk.customer.page(link))).toContain("This quote was withdrawn");
    });

    test("a form of another site is refused", async () => {
      const { link } = await desk.send();
      const answer = await desk.app.request(link, {
        method: "POST",
        headers: { "Sec-Fetch-Site": "cross-site", "Content-Type": "application/x-www-form-urlencoded" },
        body: "choice=a&name=Robin",
      });
      expect(answer.status).toBe(403);
    });
  });
});
