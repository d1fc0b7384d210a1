import { describe, expect, test } from "vitest";
import { linksRuntimes } from "../../support/links-app.ts";
import { formIn, textOf } from "../../support/page-form.ts";
import { LETTERHEAD, ShopDesk } from "./shop-desk.ts";

describe.each(linksRuntimes)("quotes on $name", ({ start }) => {
  const desk = new ShopDesk(start);

  describe("a draft", () => {
    test("begins with the options that the record speaks for, and the model's choice", async () => {
      const page = textOf(await desk.shop.page(await desk.begin()));
      for (const words of ["Recharge now", "Find the leak first", "Find the leak and repair it"])
        expect(page).toContain(words);
      expect(page).toContain("These are sample prices");
      expect(page).toMatch(/The model's choice is/);
    });

    test("begins with the latest reading of the odometer where its papers have none", async () => {
      const { version, ...vehicle } = await desk.store.vehicles.get(desk.vehicle);
      const odometer = { km: 84_200 * 1.609344, on: "2026-04-02" };
      await desk.store.vehicles.update(desk.vehicle, version, { ...vehicle, odometer });
      const form = formIn(await desk.shop.page(await desk.begin()), "builder");
      expect(form.get("odometer")).toBe("84,200 mi (2026-04-02)");
    });

    test("begins with the repair of the place where a test found the leak, at that place's price of the book: 927.22", async () => {
      // 2.2 h × 110.00 = 242.00; condenser 390.00; recover 45.00, evacuate 65.00, charge 50.00; 650 g are 22.9 oz, at
      // 3.00 68.70; supplies 8 % of 402.00 = 32.16; before tax 892.86; 7 % of 390.00 + 68.70 + 32.16 = 34.36.
      await desk.store.findings.add(desk.vehicle, {
        date: "2026-05-01",
        test: "electronic",
        location: "condenser",
        result: "leak",
      });
      const form = formIn(await desk.shop.page(`/vehicles/${desk.vehicle}/quotes`), "new-quote");
      expect(form.get("found")).toBe("condenser");
      const begun = await desk.shop.post(`/vehicles/${desk.vehicle}/quotes`, form);
      const page = await desk.shop.page(begun.headers.get("Location")!);
      expect(page).toContain('value="Replace the condenser"');
      expect(page).not.toContain('value="Find the leak');
      expect(textOf(page)).toContain("To pay today $927.22");
    });

    test("is summed up as it was typed: 0.5 h at 120.00 less 10 %, and a part at 33.335 with 7 % tax", async () => {
      // 0.5 × 120.00 = 60.00, less 6.00 = 54.00; 1 × 33.335 = 33.34 (half up); 87.34; 7 % of 33.34 = 2.33 → 89.67
      const path = await desk.begin();
      const answer = await desk.submit(path, "", (form) => {
        const [option] = form.getAll("option");
        for (const other of form.getAll("option").slice(1)) form.delete("option", other);
        form.delete(`line-${option}`);
        form.append(`line-${option}`, "1");
        form.append(`line-${option}`, "2");
        const lines = {
          [`text-${option}-1`]: "Labor",
          [`kind-${option}-1`]: "labor",
          [`quantity-${option}-1`]: "0.5",
          [`price-${option}-1`]: "120.00",
          [`discount-${option}-1`]: "10 %",
          [`tax_class-${option}-1`]: "labor",
          [`text-${option}-2`]: "Part",
          [`kind-${option}-2`]: "parts",
          [`quantity-${option}-2`]: "1",
          [`price-${option}-2`]: "33.335",
          [`discount-${option}-2`]: "",
          [`tax_class-${option}-2`]: "parts",
        };
        for (const [name, value] of Object.entries(lines)) form.set(name, value);
        form.set("recommended", "");
      });
      expect(answer.status).toBe(303);
      const page = textOf(await desk.shop.page(path));
      expect(page).toContain("Before tax $87.34");
      expect(page).toContain("Sales tax on parts $2.33");
      expect(page).toContain("To pay today $89.67");
    });

    test("with something wrong is given back as it was typed, and not saved", async () => {
      const path = await desk.begin();
      const answer = await desk.submit(path, "", (form) => {
        form.set("keep_years", "many");
        form.set("price-a-1", "a lot");
        form.set("discount-a-2", "150 %");
        form.set("customer", "Someone <else>");
      });
      const page = await answer.text();
      expect(answer.status).toBe(422);
      expect(page).toMatch(/<title>Error: /);
      expect(page).toContain('href="#price-a-1"');
      expect(page).toContain('value="a lot"');
      expect(page).toContain('value="Someone &lt;else&gt;"');
      expect(textOf(page)).toContain("Enter a discount, like 10 % or 25.00, at most all of it");
      const [quote] = await desk.store.quotes.list(desk.vehicle);
      expect(quote).toMatchObject({ customer: "Robin Ames", version: 1 });
    });

    test("two in one draft: the second is told, and keeps what they typed", async () => {
      const path = await desk.begin();
      const form = formIn(await desk.shop.page(path), "builder");
      await desk.submit(path, "", (other) => other.set("note", "From the first"));
      form.set("note", "From the second");
      form.set("submit_key", "other");
      const answer = await desk.shop.post(path, form);
      const page = await answer.text();
      expect(answer.status).toBe(409);
      expect(textOf(page)).toContain("Someone else changed this draft in the meantime");
      expect(page).toContain("From the second");
      const again = formIn(page, "builder");
      expect((await desk.shop.post(path, again)).status).toBe(303);
      expect((await desk.store.quotes.get(path.split("/").at(-1)!)).content.note).toBe("From the second");
    });

    test("sums of what stands in the form come without saving", async () => {
      const path = await desk.begin();
      const form = formIn(await desk.shop.page(path), "builder");
      form.set("price-a-1", "145.00");
      const before = await desk.store.quotes.list(desk.vehicle);
      const answer = await desk.shop.post(`${path}/sums`, form);
      const fragment = await answer.text();
      expect(answer.status).toBe(200);
      expect(fragment).not.toContain("<html");
      expect(fragment).toContain('value="145.00"');
      expect(await desk.store.quotes.list(desk.vehicle)).toEqual(before);
    });

    test("is not sent without a head, without a line, or against the model without saying why", async () => {
      const path = await desk.begin();
      const headless = await desk.submit(path, "send");
      expect(headless.status).toBe(422);
      expect(textOf(await headless.text())).toContain("Enter your shop's name");
      await desk.shop.post("/prices/letterhead", LETTERHEAD);
      const silent = await desk.submit(path, "send", (form) => form.set("recommended", "a"));
      expect(textOf(await silent.text())).toContain("Say why you recommend something else than the model");
      const empty = await desk.submit(path, "send", (form) => form.delete("line-b"));
      expect(textOf(await empty.text())).toContain("Add a line to “Find the leak first”");
      const [quote] = await desk.store.quotes.list(desk.vehicle);
      expect(quote).toMatchObject({ status: "draft", version: 1 });
    });

    test("can be thrown away", async () => {
      const path = await desk.begin();
      expect((await desk.shop.post(`${path}/discard`, { version: "1" })).status).toBe(303);
      expect(await desk.store.quotes.list(desk.vehicle)).toEqual([]);
    });
  });

  test("an option that is added is ticked as included in those that do its work already", async () => {
    const path = await desk.begin();
    await desk.submit(path, "options", (form) => form.set("new_work", "dye"));
    const { options } = (await desk.store.quotes.get(path.split("/").at(-1)!)).content;
    const added = options.at(-1)!;
    expect(options.find(({ work }) => work.repair === "found")!.replaces).toContain(added.id);
  });
});
