import { describe, expect, test } from "vitest";
import { OPTION, quoted } from "../../support/an-order.ts";
import { linksRuntimes } from "../../support/links-app.ts";
import { formIn, textOf } from "../../support/page-form.ts";
import { ShopDesk } from "./shop-desk.ts";

/** The price of the order, worked out by hand beside its lines: 402.67. Its deposit of 100.00 leaves 302.67. */
describe.each(linksRuntimes)("what is agreed with an order on $name", ({ start }) => {
  const desk = new ShopDesk(start);
  const answer = (path: string, fields: Record<string, string>) =>
    desk.shop.post(`${path}/answer`, { version: "2", choice: OPTION.id, name: "Robin", how: "phone", ...fields });
  const agreed = { ready_by: "in 3 days", extra: "150", deposit: "$100", deposit_method: "card" };
  const quoteAt = (path: string) => desk.store.quotes.get(path.split("/").at(-1)!);

  test("goes with a recorded yes to the customer's page, the paper, the work order and the invoice", async () => {
    const { path, link } = await quoted(desk.store, desk.vehicle);
    expect((await answer(path, agreed)).status).toBe(303);
    const { agreed: written } = await quoteAt(path);
    expect(written).toMatchObject([{ extra_minor: 150_00, deposit: { amount_minor: 100_00, method: "card" } }]);
    const customers = textOf(await desk.customer.page(link));
    for (const words of [
      /Ready by \d+ \w+ \d{4}\./,
      /Extra work may add up to \$150\.00 with tax; beyond that we ask you first\./,
      /Deposit paid on \d+ \w+ \d{4}: \$100\.00\. Left to pay: \$302\.67\./,
      // On its paper the lines are filled in.
      /More work without asking, up to \$150\.00/,
      /Deposit paid \$100\.00/,
    ])
      expect(customers).toMatch(words);
    expect(textOf(await desk.shop.page(`${path}/preview`))).toContain("☑ Yes: Repair the hose");
    const order = textOf(await desk.shop.page(`${path}/work-order`));
    expect(order).toMatch(/Ready by \d+ \w+ \d{4}/);
    expect(order).toContain("More work for over $150.00 with tax, or another location of the leak");

    const form = await desk.shop.page(`${path}/invoice`);
    expect(textOf(form)).toContain("The deposit of $100.00 counts as paid.");
    const issued = await desk.shop.post(`${path}/invoice`, formIn(form, "issue"));
    const invoice = issued.headers.get("Location")!;
    const paper = textOf(await desk.shop.page(`${invoice}/paper`));
    expect(paper).toContain("Paid: $100.00, of it $100.00 as deposit. To pay: $302.67");
    expect(textOf(await desk.shop.page(invoice))).toContain("$100.00, deposit, card");

    // The invoice has it: it is put right there.
    const { version } = await quoteAt(path);
    const changed = { version: String(version), ...agreed, ready_by: "", deposit: "90" };
    const refused = await desk.shop.post(`${path}/agreement`, changed);
    expect(refused.status).toBe(422);
    expect(textOf(await refused.text())).toContain(
      "The invoice is issued: enter what was paid, or take it back, there",
    );
  });

  test("of a German customer: page and invoice are in German, the work order has no word of it", async () => {
    const { path, link } = await quoted(desk.store, desk.vehicle, { language: "de" });
    await answer(path, agreed);
    const german = /Angebot|Fahrzeug|Kennzeichen|Arbeit|Teile|Gesamt|Zu zahlen|Anzahlung|Fertig/g;
    const order = textOf(await desk.shop.page(`${path}/work-order`));
    expect(order).toContain("Vehicle 2014 sedan Plate XR-7 402");
    expect(order.match(german)).toBeNull();
    expect(textOf(await desk.customer.page(link))).toContain("Anzahlung vom");
    const form = formIn(await desk.shop.page(`${path}/invoice`), "issue");
    const { headers } = await desk.shop.post(`${path}/invoice`, form);
    const paper = await desk.shop.page(`${headers.get("Location")}/paper`);
    expect(paper).toContain('<html lang="de"');
    for (const words of [
      "Rechnung 1",
      "Fahrzeug 2014 sedan",
      "Gesamt $402.67",
      "davon $100.00 als Anzahlung",
      "Erstellt mit",
    ])
      expect(textOf(paper)).toContain(words);
    // What is wrong is said to the shop in its own language.
    const other = await quoted(desk.store, desk.vehicle, { language: "de" });
    const refused = await desk.shop.post(`${other.path}/answer`, { version: "2", choice: "", name: "", how: "" });
    expect(textOf(await refused.text())).toContain("Choose one of the options");
  });

  test("is changed with a trace, and a promised day that has passed may stay", async () => {
    const { path } = await quoted(desk.store, desk.vehicle);
    await answer(path, agreed);
    const before = await quoteAt(path);
    const form = formIn(await desk.shop.page(path), "agreement");
    form.set("extra", "200");
    expect((await desk.shop.post(`${path}/agreement`, form)).status).toBe(303);
    const { agreed: written } = await quoteAt(path);
    expect(written?.map(({ extra_minor }) => extra_minor)).toEqual([150_00, 200_00]);
    expect(written?.[1]?.ready_by).toBe(before.agreed?.[0]?.ready_by);
    const page = textOf(await desk.shop.page(path));
    expect(page).toMatch(/Extra work up to \$200\.00 .* Before, written on .* by .*: Ready by .* up to \$150\.00/);
    // Sent as it stands, nothing is added.
    await desk.shop.post(`${path}/agreement`, formIn(await desk.shop.page(path), "agreement"));
    expect((await quoteAt(path)).agreed).toHaveLength(2);
    // A deposit has to be taken out before the answer is.
    const { version } = await quoteAt(path);
    const kept = await desk.shop.post(`${path}/answer/removal`, { version: String(version) });
    expect(textOf(await kept.text())).toContain("Take the deposit out under What is agreed first");
    const without = formIn(await desk.shop.page(path), "agreement");
    without.set("deposit", "");
    without.set("deposit_method", "");
    await desk.shop.post(`${path}/agreement`, without);
    await desk.shop.post(`${path}/answer/removal`, { version: String(version + 1) });
    const waiting = await quoteAt(path);
    expect([waiting.status, waiting.agreed?.at(-1)?.ready_by, waiting.agreed?.length]).toEqual(["sent", null, 4]);
  });

  test.each([
    [{ ready_by: "yesterday" }, "That day is past"],
    [{ ready_by: "soon" }, "Enter a day, like tomorrow, Friday or"],
    [{ extra: "much" }, "Error"],
    [{ deposit: "402.68" }, "Enter at most $402.67: that is the price"],
    [{ deposit: "0" }, "Enter more than nothing"],
    [{ deposit_method: "" }, "Choose how it was paid"],
    [{ deposit: "" }, "Enter the amount of the deposit, or choose No deposit"],
    [{ choice: "no" }, "This goes with a yes only"],
  ])("refuses %o and keeps what was typed", async (fields, message) => {
    const { path } = await quoted(desk.store, desk.vehicle);
    const refused = await answer(path, { ...agreed, ...fields });
    const page = await refused.text();
    expect(refused.status).toBe(422);
    expect(textOf(page)).toContain(message);
    expect(page).toContain(
      `value="${Object.entries({ ...agreed, ...fields }).find(([, typed]) => typed !== "")?.[1]}"`,
    );
    expect(await quoteAt(path)).toMatchObject({ status: "sent", agreed: null });
  });
});
