import { describe, expect, test } from "vitest";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import { INVOICE } from "../store/invoice-samples.ts";
import { CONTENT, SNAPSHOT } from "../store/quote-samples.ts";
import { VAN } from "../store/samples.ts";
import { linksRuntimes } from "../support/links-app.ts";
import { EditorsDesk } from "../support/links-desk.ts";
import { formIn, textOf } from "../support/page-form.ts";

const ROBIN = { name: "Robin Ames", phone: "555 0142", email: "robin@example.com", address: "3 Hill Road", note: "" };
const SEDAN = {
  words: "2014 sedan, silver",
  plate: "XR-7 402",
  vin: "1m8gdm9a xkp042788",
  odometer: "84,200 miles",
  refrigerant: "R-134a",
  nameplate: "23 oz",
  label: "",
};

/** A quote that Robin accepted by telephone, its invoice, and a payment. */
async function billed(store: WorkspaceStore, vehicle_id: string, customer_id: string): Promise<void> {
  const content = { ...CONTENT, customer: ROBIN.name, customer_id };
  const draft = await store.quotes.create(vehicle_id, content);
  await store.quotes.send(draft.id, 1, { content, snapshot: { ...SNAPSHOT, customer: ROBIN.name } });
  const yes = { option: "b", name: ROBIN.name, keep_years: 5, how: "phone" as const };
  await store.quotes.recordAnswer(draft.id, 2, yes);
  const { id } = await store.invoices.issue({ quote_id: draft.id, vehicle_id, customer_id }, INVOICE, 1);
  await store.invoices.pay(id, { amount_minor: 1_00, paid_on: "2026-05-02", method: "cash", note: "" });
}

describe.each(linksRuntimes)("customers on $name", ({ start }) => {
  const desk = new EditorsDesk(start);

  /** A customer with a vehicle, entered as at the counter; their ids. */
  async function walkIn() {
    const added = await desk.editor.post("/customers", ROBIN);
    expect(added.status).toBe(303);
    const next = added.headers.get("Location")!;
    const customer = next.split("/")[2]!;
    const owned = await desk.editor.post(`/customers/${customer}/vehicles`, SEDAN);
    expect(owned.status, textOf(await owned.clone().text())).toBe(303);
    return { customer, vehicle: owned.headers.get("Location")!.split("/")[2]! };
  }

  test("a person and their vehicle are entered one after the other, and the next step is the quote", async () => {
    const { customer, vehicle } = await walkIn();
    expect(await desk.store.customers.particulars(vehicle)).toMatchObject({
      customer_id: customer,
      words: SEDAN.words,
      plate: SEDAN.plate,
      vin: "1M8GDM9AXKP042788",
    });
    // Without a name of the shop's own the words and the plate are one.
    expect((await desk.store.vehicles.get(vehicle)).label).toBe("2014 sedan, silver, XR-7 402");
    const page = textOf(await desk.editor.page(`/customers/${customer}`));
    for (const words of ["Robin Ames", "555 0142", "2014 sedan, silver, XR-7 402", "VIN 1M8GDM9AXKP042788"])
      expect(page).toContain(words);
  });

  test.each(["ames", "XR7402", "1M8GDM9AXKP042788", "5550142"])("one box finds them by %s", async (search) => {
    await walkIn();
    const page = textOf(await desk.editor.page(`/customers?${new URLSearchParams({ q: search })}`));
    expect(page).toContain("Robin Ames 555 0142");
    expect(textOf(await desk.editor.page("/customers?q=nobody-like-that"))).toContain("Nobody matches");
  });

  test("what is wrong is said at its field, and nothing typed is lost", async () => {
    const wrong = { ...ROBIN, name: " ", phone: "none", email: "robin at home" };
    const refused = await desk.editor.post("/customers", wrong);
    expect(refused.status).toBe(422);
    const page = await refused.text();
    for (const message of ["Enter the customer's name", "Enter a telephone number", "Enter an e-mail address"])
      expect(textOf(page)).toContain(message);
    expect(formIn(page, "customer").get("email")).toBe("robin at home");
    const { customer } = await walkIn();
    const slip = await desk.editor.post(`/customers/${customer}/vehicles`, {
      ...SEDAN,
      vin: "1M8GDM9AXKP042789",
      refrigerant: "",
    });
    expect(slip.status).toBe(422);
    const form = await slip.text();
    expect(textOf(form)).toContain("its ninth character does not fit the others");
    expect(textOf(form)).toContain("Choose the refrigerant on the hood label");
    expect(formIn(form, "vehicle").get("vin")).toBe("1M8GDM9AXKP042789");
  });

  test("a vehicle that was there before is given its owner, and its own name stays off paper", async () => {
    const { customer } = await walkIn();
    const { id } = await desk.store.vehicles.create({ ...VAN, label: "van, bad payer" });
    const form = formIn(await desk.editor.page(`/vehicles/${id}/particulars`), "particulars");
    form.set("customer_id", customer);
    form.set("words", "2019 van");
    expect((await desk.editor.post(`/vehicles/${id}/particulars`, form)).headers.get("Location")).toBe(
      `/customers/${customer}?saved=1`,
    );
    expect(textOf(await desk.editor.page(`/customers/${customer}`))).toContain("2019 van");
    form.set("plate", "NEW 1");
    form.set("submit_key", "another");
    const again = await desk.editor.post(`/vehicles/${id}/particulars`, form);
    expect(again.status).toBe(409);
    expect(textOf(await desk.editor.page("/vehicles?q=ames"))).toContain("van, bad payer");
  });

  test("among more customers than are listed the one is found whose name is typed, with scripts and without", async () => {
    const names = Array.from({ length: 40 }, (_, i) => `Customer ${550 + i}`);
    const long = `Zeta ${"Featherstonehaugh".repeat(6)}`;
    await Promise.all([...names, long].map((name) => desk.store.customers.create({ ...ROBIN, name, phone: "" })));
    const { id } = await desk.store.vehicles.create({ ...VAN, label: "Van" });
    const path = `/vehicles/${id}/particulars`;
    const page = await desk.editor.page(path);
    expect(textOf(page)).toContain("There are more: type more of the name.");
    const form = formIn(page, "particulars");
    form.set("plate", "NEW 1");
    form.set("find", "customer 577");
    const searched = await desk.editor.post(path, new URLSearchParams([...form, ["search", "yes"]]));
    const found = await searched.text();
    expect(searched.status).toBe(200);
    expect(found.match(/name="customer_id"/g)).toHaveLength(2);
    // What was typed besides is still there, and nothing is stored.
    expect(formIn(found, "particulars").get("plate")).toBe("NEW 1");
    expect((await desk.store.customers.particulars(id)).version).toBe(0);
    const chosen = /value="([\w-]+)"[^>]*>\s*Customer 577/.exec(found)?.[1] ?? "";

    // As one types: the one who is chosen stays among those found.
    const part = await desk.editor.page(`${path}/customers?find=zeta&customer_id=${chosen}`);
    expect(textOf(part)).toMatch(new RegExp(`Nobody Customer 577 ${long} *$`));
    expect(part).not.toContain("<html");
    expect(formIn(`<form id="x">${part}</form>`, "x").get("customer_id")).toBe(chosen);
    const none = await desk.editor.page(`${path}/customers?find=nowhere`);
    expect(textOf(none)).toContain("No customer is found by “nowhere”. Type less of it, or add a customer");
    expect(none).toContain("/customers/new?name=nowhere");
  });

  test("everything about one person comes as one file, without anybody else's", async () => {
    const { customer, vehicle } = await walkIn();
    const other = await desk.store.customers.create({ ...ROBIN, name: "Kim Other" });
    await desk.store.notes.add(vehicle, { body: "asked for a call" });
    await desk.store.followUps.close(vehicle, "watch.2026-05-04", { outcome: "dismissed", words: "goes elsewhere" });
    await billed(desk.store, vehicle, customer);
    const answer = await desk.editor.get(`/customers/${customer}/export.json`);
    expect(answer.headers.get("Content-Disposition")).toContain("customer.json");
    const data = await answer.json();
    expect(data).toMatchObject({
      format: "seepwise-personal-data",
      customer: { name: "Robin Ames" },
      vehicles: [
        {
          on_paper: { plate: "XR-7 402" },
          notes: [{ body: "asked for a call" }],
          follow_ups: [{ words: "goes elsewhere" }],
        },
      ],
      quotes: [{ number: 1, decided_name: "Robin Ames", snapshot: { customer: "Robin Ames" } }],
      invoices: [{ number: 1, payments: [{ amount_minor: 1_00 }] }],
    });
    const text = JSON.stringify(data);
    expect(text).not.toContain(other.name);
    // What the shop asks of everybody is not about this person, and no key of a link leaves.
    expect(text).not.toMatch(/labor_rate_micro|token/);
  });

  test("erasing is the owner's, asks first, and leaves no name on any page", async () => {
    const { customer, vehicle } = await walkIn();
    expect((await desk.editor.post(`/customers/${customer}/erasure`, { version: "1" })).status).toBe(403);
    expect(await desk.editor.page(`/customers/${customer}`)).not.toContain("Erase this person");
    const owner = await desk.as("owner");
    const page = await owner.page(`/customers/${customer}`);
    expect(textOf(page)).toContain("This cannot be undone");
    expect((await owner.post(`/customers/${customer}/erasure`, { version: "1" })).status).toBe(303);
    expect(textOf(await owner.page(`/customers/${customer}`))).toContain("This person was erased");
    expect(textOf(await owner.page("/customers"))).toContain("No customers yet");
    for (const path of [`/vehicles/${vehicle}`, "/vehicles", "/quotes"])
      expect(await owner.page(path), path).not.toMatch(/Ames|XR-7/);
    expect((await owner.get(`/customers/${customer}/details`)).status).toBe(404);
  });
});
