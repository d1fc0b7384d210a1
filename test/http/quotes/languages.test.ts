import { describe, expect, test } from "vitest";
import { linksRuntimes } from "../../support/links-app.ts";
import { textOf } from "../../support/page-form.ts";
import { LETTERHEAD, ShopDesk } from "./shop-desk.ts";

describe.each(linksRuntimes)("the language of a quote on $name", ({ start }) => {
  const desk = new ShopDesk(start);

  /** Robin, who owns the van and reads in a language. */
  async function owner(language: "" | "es" | "de") {
    const person = { name: "Robin Ames", phone: "", email: "", address: "", note: "", language };
    const { id } = await desk.store.customers.create(person);
    const shown = { words: "2019 van", plate: "", vin: "", odometer: "" };
    await desk.store.customers.setParticulars(desk.vehicle, 0, { ...shown, customer_id: id });
  }

  test("is the customer's: page, form, refusal and what is said afterwards", async () => {
    await owner("de");
    const { link } = await desk.send();
    const page = await desk.customer.page(link);
    expect(page).toContain('<html lang="de"');
    const words = textOf(page);
    for (const said of ["Angebot", "Gültig bis", "Wir empfehlen:", "Ihre Antwort", "Nein, danke", "Vorsicht"])
      expect(words).toContain(said);
    expect(words).toMatch(/\d,\d\d\s\$/);
    expect(words).not.toContain("Your answer");

    const refused = await desk.customer.post(link, { choice: "", name: "", years: "5" });
    expect(refused.status).toBe(422);
    const wrong = textOf(await refused.text());
    expect(wrong).toContain("Bitte berichtigen Sie diese 2 Angaben");
    expect(wrong).toContain("Wählen Sie eine der Möglichkeiten oder Nein");

    await desk.customer.post(link, { choice: "no", name: "Robin Ames", years: "5" });
    expect(textOf(await desk.customer.page(link))).toMatch(/Abgelehnt von Robin Ames am .*Vielen Dank/);
  });

  test("else the shop's; and one quote may be in another", async () => {
    await owner("");
    await desk.ownPrices();
    await desk.shop.post("/prices/letterhead", { ...LETTERHEAD, language: "es" });
    const path = await desk.begin();
    expect(await desk.shop.page(`${path}/preview`)).toContain('<html lang="es"');
    await desk.submit(path, "", (form) => form.set("language", "en"));
    expect(await desk.shop.page(`${path}/preview`)).toContain('<html lang="en"');
  });

  test("where there is no quote, that of the browser", async () => {
    const path = `/q/${"a".repeat(43)}`;
    const asked = (language: string) => desk.app.request(path, { headers: { "Accept-Language": language } });
    const spanish = await asked("fr-FR,es-MX;q=0.8,en;q=0.5");
    expect(spanish.status).toBe(404);
    expect(await spanish.text()).toMatch(/lang="es".*No encontrado/s);
    expect(await (await asked("fr")).text()).toMatch(/lang="en".*There is no quote at this address/s);
  });
});
