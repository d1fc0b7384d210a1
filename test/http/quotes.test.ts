import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { RETAIL_BOOK } from "../../data/price-book.ts";
import type { Role } from "../../src/store/roles.ts";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import { settingsOf } from "../../src/store/workspaces.ts";
import { NO_LIMITS, tokenBuckets } from "../../src/web/edge/rate-limit.ts";
import { newStore } from "../store/engines.ts";
import { VAN } from "../store/samples.ts";
import { browser, type LinksApp, linksOnNode, linksRuntimes } from "../support/links-app.ts";
import { formIn, textOf } from "../support/page-form.ts";
import { Person } from "../support/person.ts";

const LETTERHEAD = {
  version: "0",
  shop: "North Yard Cooling",
  address: "12 Mill Lane\nEastbrook",
  phone: "",
  email: "",
  certificate: "",
  tax_number: "",
  terms: "",
  number_format: "1,234.56",
};

/** A leak that is worth a search; dates far enough back for any clock. */
const LOG = [
  { date: "2024-05-01", finish: "weighed" as const },
  { date: "2025-06-15", cooling: "weak" as const, added_g: 250, added_by: "scale" as const, finish: "gauges" as const },
  { date: "2026-05-01", cooling: "weak" as const },
];

describe.each(linksRuntimes)("quotes on $name", ({ start }) => {
  let app: LinksApp;
  let store: WorkspaceStore;
  let shop: Person;
  let customer: Person;
  let vehicle: string;
  beforeAll(async () => {
    app = await start();
  });
  beforeEach(async () => {
    store = await newStore(app.sql);
    shop = await as("editor");
    customer = new Person(app);
    ({ id: vehicle } = await store.vehicles.create({ ...VAN, label: "White van" }, { charge_log: LOG }));
  });
  afterAll(() => app.close());

  async function as(role: Role, of = store): Promise<Person> {
    return new Person(app, (await browser(app, of, role)).headers);
  }

  async function begin(fields: Record<string, string> = {}): Promise<string> {
    const answer = await shop.post(`/vehicles/${vehicle}/quotes`, {
      customer: "Robin Ames",
      keep_years: "5",
      book: "retail",
      ...fields,
    });
    expect(answer.status).toBe(303);
    return answer.headers.get("Location") ?? "";
  }

  /** The draft's form, changed and sent by its button that goes to `button` below the draft's address; "" saves. */
  async function submit(path: string, button: string, change: (form: URLSearchParams) => void = () => {}) {
    const page = await shop.page(path);
    const form = formIn(page, "builder");
    change(form);
    if (button !== "") expect(page).toContain(` formaction="${path}/${button}"`);
    return shop.post(button === "" ? path : `${path}/${button}`, form);
  }

  /** The book that came with the program, as prices of the shop's own: with invented ones nothing is sent. */
  async function ownPrices(): Promise<void> {
    const { book, version } = await store.priceBooks.get("retail");
    if (version === 0) await store.priceBooks.update("retail", 0, book);
  }

  /** A quote that was sent, and its customer's link. */
  async function send(change?: (form: URLSearchParams) => void): Promise<{ path: string; link: string }> {
    await ownPrices();
    await shop.post("/prices/letterhead", LETTERHEAD);
    const path = await begin();
    const answer = await submit(path, "send", change);
    const page = await answer.text();
    expect(answer.status, textOf(page)).toBe(200);
    return { path, link: linkIn(page) };
  }

  function linkIn(page: string): string {
    return new URL(/href="([^"]*\/q\/[\w-]{43,86})"/.exec(page)?.[1] ?? "").pathname;
  }

  describe("a draft", () => {
    test("begins with the options that the record speaks for, and the model's choice", async () => {
      const page = textOf(await shop.page(await begin()));
      for (const words of ["Recharge now", "Find the leak first", "Find the leak and repair it"])
        expect(page).toContain(words);
      expect(page).toContain("These are sample prices");
      expect(page).toMatch(/The model's choice is/);
    });

    test("is summed up as it was typed: 0.5 h at 120.00 less 10 %, and a part at 33.335 with 7 % tax", async () => {
      // 0.5 × 120.00 = 60.00, less 6.00 = 54.00; 1 × 33.335 = 33.34 (half up); 87.34; 7 % of 33.34 = 2.33 → 89.67
      const path = await begin();
      const answer = await submit(path, "", (form) => {
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
      const page = textOf(await shop.page(path));
      expect(page).toContain("Before tax $87.34");
      expect(page).toContain("Sales tax on parts $2.33");
      expect(page).toContain("To pay today $89.67");
    });

    test("with something wrong is given back as it was typed, and not saved", async () => {
      const path = await begin();
      const answer = await submit(path, "", (form) => {
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
      const [quote] = await store.quotes.list(vehicle);
      expect(quote).toMatchObject({ customer: "Robin Ames", version: 1 });
    });

    test("lines and options are added and removed by buttons", async () => {
      const path = await begin();
      await submit(path, "options/b/lines");
      const lines = (page: string, option: string) => formIn(page, "builder").getAll(`line-${option}`).length;
      expect(lines(await shop.page(path), "b")).toBe(2);
      await submit(path, "options/b/lines/1/removal");
      expect(lines(await shop.page(path), "b")).toBe(1);
      await submit(path, "options", (form) => form.set("new_work", "repair-hose"));
      const with_hose = await shop.page(path);
      expect(formIn(with_hose, "builder").getAll("option")).toEqual(["a", "b", "c", "d"]);
      expect(with_hose).toContain('value="Replace the leaking hose"');
      await submit(path, "options/c/removal");
      expect(formIn(await shop.page(path), "builder").getAll("option")).toEqual(["a", "b", "d"]);
    });

    test("two in one draft: the second is told, and keeps what they typed", async () => {
      const path = await begin();
      const form = formIn(await shop.page(path), "builder");
      await submit(path, "", (other) => other.set("note", "From the first"));
      form.set("note", "From the second");
      form.set("submit_key", "other");
      const answer = await shop.post(path, form);
      const page = await answer.text();
      expect(answer.status).toBe(409);
      expect(textOf(page)).toContain("Someone else changed this draft in the meantime");
      expect(page).toContain("From the second");
      const again = formIn(page, "builder");
      expect((await shop.post(path, again)).status).toBe(303);
      expect((await store.quotes.get(path.split("/").at(-1)!)).content.note).toBe("From the second");
    });

    test("sums of what stands in the form come without saving", async () => {
      const path = await begin();
      const form = formIn(await shop.page(path), "builder");
      form.set("price-a-1", "145.00");
      const before = await store.quotes.list(vehicle);
      const answer = await shop.post(`${path}/sums`, form);
      const fragment = await answer.text();
      expect(answer.status).toBe(200);
      expect(fragment).not.toContain("<html");
      expect(fragment).toContain('value="145.00"');
      expect(await store.quotes.list(vehicle)).toEqual(before);
    });

    test("is not sent without a head, without a line, or against the model without saying why", async () => {
      const path = await begin();
      const headless = await submit(path, "send");
      expect(headless.status).toBe(422);
      expect(textOf(await headless.text())).toContain("Enter your shop's name");
      await shop.post("/prices/letterhead", LETTERHEAD);
      const silent = await submit(path, "send", (form) => form.set("recommended", "a"));
      expect(textOf(await silent.text())).toContain("Say why you recommend something else than the model");
      const empty = await submit(path, "send", (form) => form.delete("line-b"));
      expect(textOf(await empty.text())).toContain("Add a line to “Find the leak first”");
      const [quote] = await store.quotes.list(vehicle);
      expect(quote).toMatchObject({ status: "draft", version: 1 });
    });

    test("takes its lines from today's prices again when asked to, and not before", async () => {
      const path = await begin();
      const retail = await store.priceBooks.get("retail");
      await store.priceBooks.update("retail", 0, { ...retail.book, electronic_micro: 77_000_000 });
      expect(await shop.page(path)).toContain('value="100.00"');
      expect(await shop.page(path)).not.toContain('value="77.00"');
      await submit(path, "options/b/renewal");
      expect(await shop.page(path)).toContain('value="77.00"');
    });

    test("holds eight options of thirty lines, and says so rather than losing one", async () => {
      const path = await begin();
      for (let i = 0; i < 5; i++) await submit(path, "options", (form) => form.set("new_work", "own"));
      const ninth = await submit(path, "options", (form) => form.set("new_work", "own"));
      expect(ninth.status).toBe(422);
      expect(textOf(await ninth.text())).toContain("Keep a quote to 8 options");
      const too_long = await submit(path, "", (form) => {
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

    test("can be thrown away", async () => {
      const path = await begin();
      expect((await shop.post(`${path}/discard`, { version: "1" })).status).toBe(303);
      expect(await store.quotes.list(vehicle)).toEqual([]);
    });
  });

  describe("the customer's link", () => {
    test("is shown once; the same press again sends nothing anew and shows none", async () => {
      await ownPrices();
      await shop.post("/prices/letterhead", LETTERHEAD);
      const path = await begin();
      const form = formIn(await shop.page(path), "builder");
      const first = await shop.post(`${path}/send`, form);
      const link = linkIn(await first.text());
      expect(first.headers.get("Cache-Control")).toBe("no-store");
      const again = await shop.post(`${path}/send`, form);
      expect(again.status).toBe(303);
      expect(await shop.page(path)).not.toContain(link);
      expect((await customer.get(link)).status).toBe(200);
    });

    test("opens the quote and nothing else: no id, no way on, no cookie, nothing to be found by", async () => {
      const { path, link } = await send();
      const answer = await customer.get(link);
      const page = await answer.text();
      expect(answer.headers.get("X-Robots-Tag")).toBe("noindex, nofollow, noarchive");
      expect(answer.headers.get("Cache-Control")).toBe("private, no-store");
      expect(answer.headers.get("Set-Cookie")).toBeNull();
      expect(page).toContain('<meta name="robots" content="noindex, nofollow, noarchive"');
      const { workspaceId } = store;
      for (const secret of [workspaceId, vehicle, path.split("/").at(-1)!, "/vehicles", "/prices"])
        expect(page).not.toContain(secret);
      const addresses = [...page.matchAll(/\s(?:href|action|src|hx-get|hx-post)="([^"]*)"/g)].map(([, to]) => to);
      for (const to of addresses) expect(to).toMatch(/^(?:\/assets\/|#)|^\/q\/[\w-]{43,86}$/);
      for (const elsewhere of [`${link}/sums`, `${link}x`, "/q/", "/q", `/q/${"A".repeat(43)}`])
        expect((await customer.get(elsewhere)).status, elsewhere).toBe(404);
      for (const shops of [path, `${path}/preview`, "/quotes", "/prices"])
        expect((await customer.get(shops)).status, shops).toBe(401);
    });

    test("shows price, years, release, sureness, nothing done, cautions", async () => {
      const { link } = await send((form) => {
        form.set("vehicle_words", "2016 white van");
        form.set("vin", "1m8gdm9axkp042788");
      });
      const page = textOf(await customer.page(link));
      for (const words of [
        "North Yard Cooling",
        "Robin Ames",
        "2016 white van",
        "1M8GDM9AXKP042788",
        "Recharge now",
        "Price today",
        "Today and later, over 5 years",
        "Refrigerant to air",
        "How sure",
        "If nothing is done",
        "Take care",
        "Your answer",
      ])
        expect(page).toContain(words);
    });

    test("other years change the sums, as a page and as a part of it; nonsense is told", async () => {
      const { link } = await send();
      const [five, ten] = await Promise.all(
        [5, 10].map(async (years) => textOf(await customer.page(`${link}?years=${years}`))),
      );
      expect(five).toContain("over 5 years");
      expect(ten).toContain("over 10 years");
      const fragment = await customer.get(`${link}?years=10`, { "HX-Request": "true", "HX-Request-Type": "partial" });
      const part = await fragment.text();
      expect(part).not.toContain("<html");
      expect(ten).toContain(textOf(part).trim().slice(0, 200));
      const wrong = await customer.get(`${link}?years=forever`);
      expect(wrong.status).toBe(422);
      expect(textOf(await wrong.text())).toContain("Enter years from 0.25 to 20, like 5");
    });

    test("is the same page after prices, head, vehicle and record have changed", async () => {
      const { link } = await send();
      const before = await customer.page(link);
      await store.priceBooks.update("retail", 1, (await store.priceBooks.get("fleet")).book);
      await shop.post("/prices/letterhead", { ...LETTERHEAD, version: "1", shop: "Another" });
      await store.vehicles.update(vehicle, 1, { ...VAN, label: "Renamed", nameplate_g: 900 });
      await store.chargeLog.add(vehicle, { date: "2026-05-02", cooling: "ok", added_g: 400 });
      const settings = await store.settings.get();
      await store.settings.update({ ...settingsOf(settings), currency: "EUR", mass_unit: "g" }, settings.version);
      expect(await customer.page(link)).toBe(before);
    });

    test("counts in the currency of its price book, as the shop writes amounts", async () => {
      const settings = await store.settings.get();
      await store.settings.update({ ...settingsOf(settings), currency: "EUR", mass_unit: "g" }, settings.version);
      const { id: book } = await store.priceBooks.create({ ...RETAIL_BOOK, currency: "EUR" });
      await shop.post("/prices/letterhead", { ...LETTERHEAD, number_format: "1.234,56" });
      const sent = await submit(await begin({ book }), "send", (form) => form.set("price-a-1", "1.045,5"));
      const page = textOf(await customer.page(linkIn(await sent.text())));
      expect(page).toContain("1.045,50 €");
      expect(page).toMatch(/about [\d.]+ €/);
      expect(page).toMatch(/about \d+ g of 650 g of R-134a/);
      expect(page).not.toContain("$");
    });

    test("a new link ends the one before", async () => {
      const { path, link } = await send();
      const next = linkIn(await (await shop.post(`${path}/link`)).text());
      expect(next).not.toBe(link);
      expect((await customer.get(link)).status).toBe(404);
      expect((await customer.get(next)).status).toBe(200);
    });
  });

  describe("the customer's answer", () => {
    test("needs a choice and a name", async () => {
      const { link } = await send();
      const answer = await customer.post(link, { choice: "", name: "  ", years: "5" });
      const page = await answer.text();
      expect(answer.status).toBe(422);
      expect(page).toMatch(/<title>Error: /);
      expect(textOf(page)).toContain("Choose one of the options, or no");
      expect(textOf(page)).toContain("Type your name: it stands for your signature");
      for (const choice of ["z", "__proto__", "a b"])
        expect((await customer.post(link, { choice, name: "Robin" })).status, choice).toBe(422);
      expect((await customer.post(link, { choice: "a", name: "x".repeat(121) })).status).toBe(422);
    });

    test("a yes is written down with name and time, and the shop sees it", async () => {
      const { path, link } = await send();
      const answer = await customer.post(link, { choice: "c", name: "Robin <Ames>", years: "7" });
      expect(answer.status).toBe(303);
      expect(answer.headers.get("Location")).toBe(link);
      const page = await customer.page(link);
      expect(textOf(page)).toMatch(/Find the leak and repair it ?: accepted by Robin <Ames> on \d+ \w+ \d{4} at/);
      expect(page).not.toContain("Send my answer");
      expect(textOf(await shop.page(path))).toContain("Accepted: Find the leak and repair it");
      expect(textOf(await shop.page("/quotes"))).toContain("by Robin <Ames>; the work is not logged yet");
      const quote = await store.quotes.get(path.split("/").at(-1)!);
      expect(quote).toMatchObject({ decided_option: "c", decided_keep_years: 7 });
    });

    test("a no, too", async () => {
      const { path, link } = await send();
      await customer.post(link, { choice: "no", name: "Robin Ames" });
      expect(textOf(await customer.page(link))).toContain("Declined by Robin Ames on");
      expect(textOf(await shop.page(path))).toContain("Declined");
    });

    test("twice is once: the second is told what stands", async () => {
      const { link } = await send();
      await customer.post(link, { choice: "a", name: "First" });
      const second = await customer.post(link, { choice: "no", name: "Second" });
      const page = textOf(await second.text());
      expect(second.status).toBe(409);
      expect(page).toContain("Your answer came too late and was not taken.");
      expect(page).toContain("accepted by First on");
      expect(page).not.toContain("Second");
    });

    test("of two at once, one is taken", async () => {
      const { path, link } = await send();
      const answers = await Promise.all(
        ["a", "b", "c", "no"].map((choice) => customer.post(link, { choice, name: `Chose ${choice}` })),
      );
      expect(answers.map(({ status }) => status).toSorted((a, b) => a - b)).toEqual([303, 409, 409, 409]);
      const { decided_name } = await store.quotes.get(path.split("/").at(-1)!);
      expect(textOf(await customer.page(link))).toContain(`by ${decided_name} on`);
    });

    test("after it was withdrawn, the page says so and shows no prices", async () => {
      const { path, link } = await send();
      const { version } = await store.quotes.get(path.split("/").at(-1)!);
      await shop.post(`${path}/withdraw`, { version: String(version) });
      const page = textOf(await customer.page(link));
      expect(page).toContain("This quote was withdrawn");
      expect(page).not.toContain("$");
      const answer = await customer.post(link, { choice: "a", name: "Robin" });
      expect(answer.status).toBe(409);
    });

    test("when a newer one is sent in its place, at the prices it had, the older is withdrawn", async () => {
      const { path, link } = await send();
      const retail = await store.priceBooks.get("retail");
      await store.priceBooks.update("retail", 1, { ...retail.book, electronic_micro: 77_000_000 });
      const revise = () => shop.post(`${path}/revise`, { submit_key: "once" });
      const revised = (await revise()).headers.get("Location") ?? "";
      expect((await revise()).headers.get("Location")).toBe(revised);
      expect(await shop.page(revised)).not.toContain('value="77.00"');
      await submit(revised, "options/b/renewal");
      expect(await shop.page(revised)).toContain('value="77.00"');
      expect(textOf(await customer.page(link))).toContain("$100.00");
      expect((await submit(revised, "send")).status).toBe(200);
      expect(textOf(await customer.page(link))).toContain("This quote was withdrawn");
    });

    test("a form of another site is refused", async () => {
      const { link } = await send();
      const answer = await app.request(link, {
        method: "POST",
        headers: { "Sec-Fetch-Site": "cross-site", "Content-Type": "application/x-www-form-urlencoded" },
        body: "choice=a&name=Robin",
      });
      expect(answer.status).toBe(403);
    });
  });

  describe("the work after a yes", () => {
    async function accepted(choice: string) {
      const { path, link } = await send();
      await customer.post(link, { choice, name: "Robin Ames" });
      return { path, form: workForm(await shop.page(path)) };
    }

    function workForm(page: string): URLSearchParams {
      return formIn(page.replace(/(<form[^>]*action="[^"]*\/work")/, '$1 id="work"'), "work");
    }

    test("is filled in as it was quoted, and becomes log entries in one step", async () => {
      const { path, form } = await accepted("c");
      // What went in is read off the scale, never filled in from the nameplate.
      expect(Object.fromEntries(form)).toMatchObject({ filled: "weighed", added: "" });
      form.set("added", "1 lb 6.9 oz");
      form.set("when", "today");
      form.set("recovered", "9 oz");
      form.set("repair", "hose");
      form.set("electronic", "hose");
      const answer = await shop.post(`${path}/work`, form);
      expect(answer.status, textOf(await answer.text())).toBe(303);
      const { charge_log, findings } = await store.record(vehicle);
      expect(charge_log.at(-1)).toMatchObject({
        recovered_g: expect.closeTo(255.1, 1),
        added_g: expect.closeTo(649.2, 1),
        added_by: "scale",
        finish: "weighed",
        repair: "hose",
        note: "Quote 1: Find the leak and repair it",
      });
      expect(findings.at(-1)).toMatchObject({ test: "electronic", location: "hose", result: "leak" });
      const page = textOf(await shop.page(path));
      expect(page).toMatch(/Did it hold\? Check around \d+ \w+ \d{4}/);
      expect(page).not.toContain("Log the work");
    });

    test("is logged once, however often the button is pressed", async () => {
      const { path, form } = await accepted("a");
      form.set("added", "9 oz");
      const answers = await Promise.all([1, 2].map(() => shop.post(`${path}/work`, form)));
      for (const { status } of answers) expect(status).toBe(303);
      expect((await store.record(vehicle)).charge_log).toHaveLength(LOG.length + 1);
    });

    test("more recovered than a system holds, and a charge without its weight, are asked about", async () => {
      const { path, form } = await accepted("c");
      form.set("recovered", "60 oz");
      const answer = await shop.post(`${path}/work`, form);
      const page = await answer.text();
      expect(answer.status).toBe(422);
      expect(textOf(page)).toContain("That is more than the system holds");
      expect(textOf(page)).toContain("Enter how much was charged, as the scale showed it");
      expect((await store.record(vehicle)).charge_log).toHaveLength(LOG.length);
    });

    test("with something wrong is given back, and nothing is logged", async () => {
      const { path, form } = await accepted("a");
      form.set("when", "someday");
      form.set("recovered", "much");
      const answer = await shop.post(`${path}/work`, form);
      const page = await answer.text();
      expect(answer.status).toBe(422);
      expect(page).toContain('value="someday"');
      expect(page).toContain('href="#recovered"');
      expect((await store.record(vehicle)).charge_log).toHaveLength(LOG.length);
    });
  });

  describe("an answer by phone or on paper", () => {
    test("is recorded by the shop with how it came and who took it, and taken back with a trace", async () => {
      const { path, link } = await send();
      const version = (await store.quotes.get(path.split("/").at(-1)!)).version;
      const answer = await shop.post(`${path}/answer`, {
        version: String(version),
        choice: "a",
        name: "Robin",
        how: "phone",
      });
      expect(answer.status).toBe(303);
      expect(textOf(await shop.page(path))).toMatch(/Accepted: Recharge now by Robin on .*, by phone, taken by /);
      expect(textOf(await customer.page(link))).toMatch(/Recharge now ?: accepted by Robin on/);

      await shop.post(`${path}/answer/removal`, { version: String(version + 1) });
      const waiting = textOf(await shop.page(path));
      expect(waiting).toContain("sent, waiting for an answer");
      expect(waiting).toMatch(/Accepted by Robin: Recharge now on .*; taken back on .* by /);
      expect(textOf(await customer.page(link))).toContain("Your answer");
      const quote = await store.quotes.get(path.split("/").at(-1)!);
      expect(quote.earlier_answers).toMatchObject([{ status: "accepted", name: "Robin", option: "a", how: "phone" }]);
    });

    test("needs option, name and how", async () => {
      const { path } = await send();
      const answer = await shop.post(`${path}/answer`, { version: "2", choice: "z", name: "", how: "" });
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
      const { path } = await send();
      const id = path.split("/").at(-1)!;
      const { version } = await store.quotes.get(id);
      await store.quotes.recordAnswer(id, version, { option: "a", name: "Robin", keep_years: 5, how: "paper" });
      const work = { date: "2026-05-02", option: "a", follow_up_on: null };
      await store.quotes.logWork(id, version + 1, { work, charge_log: [], findings: [] });
      await expect(store.quotes.takeBackAnswer(id, version + 2)).rejects.toThrow("Someone else changed this");
      expect((await store.quotes.get(id)).status).toBe("accepted");
    });

    test("two at once: one is written", async () => {
      const { path } = await send();
      const id = path.split("/").at(-1)!;
      const { version } = await store.quotes.get(id);
      const said = (option: string) =>
        store.quotes.recordAnswer(id, version, { option, name: option, keep_years: 5, how: "phone" });
      const answers = await Promise.allSettled([said("a"), said("b")]);
      expect(answers.map(({ status }) => status).toSorted()).toEqual(["fulfilled", "rejected"]);
    });
  });

  test("sample prices are not sent", async () => {
    await shop.post("/prices/letterhead", LETTERHEAD);
    const answer = await submit(await begin(), "send");
    expect(answer.status).toBe(422);
    expect(textOf(await answer.text())).toContain("Enter your own prices first: this quote uses sample prices");
  });

  describe("the list", () => {
    test("is searched by customer, vehicle, plate, VIN and number, and narrowed to a state", async () => {
      await send((form) => {
        form.set("customer", "Featherstone");
        form.set("plate", "ABC 123");
        form.set("vin", "1M8GDM9AXKP042788");
      });
      await begin({ customer: "Someone Else" });
      for (const q of ["feather", "abc 1", "1M8GDM9AXKP042788", "1"]) {
        const found = textOf(await shop.page(`/quotes?${new URLSearchParams({ q })}`));
        expect(found, q).toContain("Featherstone");
        expect(found, q).not.toContain("Someone Else");
      }
      expect(textOf(await shop.page("/quotes?state=draft"))).not.toContain("Featherstone");
      expect(textOf(await shop.page("/quotes?state=expired"))).toContain("No quote matches");
      expect(textOf(await shop.page("/quotes?q=%25"))).toContain("No quote matches");
    });

    test("goes on after fifty, to the last", async () => {
      for (let i = 0; i < 53; i++) await begin();
      const first = await shop.page("/quotes");
      const older = /href="(\/quotes\?[^"]*before=\d+)"/.exec(first)?.[1]?.replaceAll("&amp;", "&") ?? "";
      const numbers = (page: string) => [...page.matchAll(/Quote (\d+),/g)].map(([, number]) => Number(number));
      expect(numbers(textOf(first))).toHaveLength(50);
      expect(numbers(textOf(await shop.page(older)))).toEqual([3, 2, 1]);
    });

    test("is a file with the totals", async () => {
      await send((form) => form.set("customer", "=Ames"));
      const file = await shop.page("/quotes.csv");
      expect(file).toMatch(/^\ufeff?quote,customer,vehicle,state,on,option,total,currency,work_logged\r\n/);
      expect(file).toMatch(
        /\r\n1,'=Ames,White van,"?Sent, waiting for an answer"?,\d{4}-\d\d-\d\d,,\d+(\.\d+)?,USD,no\r\n$/,
      );
    });
  });

  describe("what cannot be undone", () => {
    test("asks first: deleting a draft, withdrawing a quote", async () => {
      const draft = await shop.page(await begin());
      expect(textOf(draft)).toContain("are deleted for good");
      const { path } = await send();
      expect(textOf(await shop.page(path))).toContain("The customer can no longer accept it");
    });

    test("a withdrawn quote makes no new link, and tells of the quote that was sent instead", async () => {
      const { path, link } = await send();
      const revised = await shop.post(`${path}/revise`, {});
      await submit(revised.headers.get("Location")!, "send");
      expect(await shop.page(path)).not.toContain("Make a new link");
      expect(textOf(await customer.page(link))).toMatch(/there is a newer one, quote \d+/);
    });
  });

  test("a revision keeps every line, discount and fee that was typed by hand", async () => {
    const { path } = await send((form) => {
      form.set("quantity-c-1", "2.25");
      form.set("discount-c-1", "10 %");
      form.set("text-c-2", "Hand-picked hose");
      form.set("discount-c", "20");
      form.set("recommended_why", "We have seen the hose.");
    });
    const before = (await store.quotes.get(path.split("/").at(-1)!)).content;
    const answer = await shop.post(`${path}/revise`, {});
    const after = (await store.quotes.get(answer.headers.get("Location")!.split("/").at(-1)!)).content;
    expect(after).toEqual(before);
    expect(JSON.stringify(after.options[2]?.lines)).toContain("Hand-picked hose");
  });

  test("an option that is added is ticked as included in those that do its work already", async () => {
    const path = await begin();
    await submit(path, "options", (form) => form.set("new_work", "dye"));
    const { options } = (await store.quotes.get(path.split("/").at(-1)!)).content;
    const added = options.at(-1)!;
    expect(options.find(({ work }) => work.repair === "found")!.replaces).toContain(added.id);
  });

  test("the shop's own name for a vehicle never reaches the customer; a slip in the VIN is told", async () => {
    const { link, path } = await send();
    expect(await customer.page(link)).not.toContain("White van");
    const draft = (await shop.post(`${path}/revise`, {})).headers.get("Location")!;
    const answer = await submit(draft, "", (form) => form.set("vin", "1M8GDM9AXKP042789"));
    expect(answer.status).toBe(422);
    expect(textOf(await answer.text())).toContain("its ninth character does not fit the others");
  });

  describe("who may", () => {
    test("someone from another workspace finds no page of it", async () => {
      const { path } = await send();
      const stranger = await as("owner", await newStore(app.sql));
      for (const there of [path, `${path}/preview`, `/vehicles/${vehicle}/quotes`])
        expect((await stranger.get(there)).status, there).toBe(404);
      for (const there of [
        path,
        `${path}/link`,
        `${path}/withdraw`,
        `${path}/revise`,
        `${path}/work`,
        `${path}/discard`,
      ])
        expect((await stranger.post(there, { version: "2" })).status, there).toBe(404);
      expect(textOf(await (await stranger.get("/quotes")).text())).toContain("No quotes yet");
    });

    test("a quote is not found under another vehicle", async () => {
      const { path } = await send();
      const { id } = await store.vehicles.create({ ...VAN, label: "Other" });
      expect((await shop.get(path.replace(vehicle, id))).status).toBe(404);
    });

    test("a viewer sees and changes nothing", async () => {
      const { path } = await send();
      const viewer = await as("viewer");
      for (const there of [
        path,
        `${path}/preview`,
        `/vehicles/${vehicle}/quotes`,
        "/quotes",
        "/prices",
        "/prices/retail",
      ])
        expect((await viewer.get(there)).status, there).toBe(200);
      expect(await viewer.page(path)).not.toContain("Make a new link");
      for (const there of [
        `/vehicles/${vehicle}/quotes`,
        path,
        `${path}/link`,
        `${path}/withdraw`,
        `${path}/revise`,
        `${path}/work`,
        "/prices",
        "/prices/letterhead",
        "/prices/retail",
        "/prices/retail/archive",
      ])
        expect((await viewer.post(there, { version: "0" })).status, there).toBe(403);
    });
  });
});

describe("on Node, with a clock that can be set", () => {
  let now = "2026-05-01T12:00:00Z";
  let app: LinksApp;
  beforeAll(async () => {
    app = await linksOnNode({
      now: () => new Date(now),
      limits: () => limits,
    });
  });
  const guesses = tokenBuckets({ now: () => new Date(now), burst: 5, refill_ms: 6000 });
  const limits = { ...NO_LIMITS, guesses };
  afterAll(() => app.close());

  async function sent(time_zone = "UTC") {
    const store = await newStore(app.sql, () => new Date(now));
    const settings = await store.settings.get();
    await store.settings.update({ ...settingsOf(settings), time_zone }, settings.version);
    const shop = new Person(app, (await browser(app, store, "editor")).headers);
    const { id } = await store.vehicles.create(VAN, { charge_log: LOG });
    await shop.post("/prices/letterhead", LETTERHEAD);
    await store.priceBooks.update("retail", 0, (await store.priceBooks.get("retail")).book);
    const begun = await shop.post(`/vehicles/${id}/quotes`, { customer: "", keep_years: "5", book: "retail" });
    const path = begun.headers.get("Location") ?? "";
    const form = formIn(await shop.page(path), "builder");
    const page = await (await shop.post(`${path}/send`, form)).text();
    return { shop, path, link: new URL(/href="([^"]*\/q\/[\w-]{43,86})"/.exec(page)?.[1] ?? "").pathname };
  }

  test("on its last day a quote can be accepted, after it the page says that it expired", async () => {
    const { shop, path, link } = await sent();
    const customer = new Person(app);
    now = "2026-05-31T23:59:00Z"; // 30 days
    expect(await customer.page(link)).toContain("Send my answer");
    now = "2026-06-01T00:01:00Z";
    const page = textOf(await customer.page(link));
    expect(page).toContain("This quote expired on 31 May 2026");
    expect(page).not.toContain("Send my answer");
    const late = await customer.post(link, { choice: "a", name: "Robin" });
    expect(late.status).toBe(409);
    expect(textOf(await late.text())).toContain("Your answer came too late and was not taken.");
    expect(textOf(await shop.page(path))).toContain("expired");
    now = "2026-05-31T23:59:00Z";
    expect((await customer.post(link, { choice: "a", name: "Robin" })).status).toBe(303);
    expect(textOf(await customer.page(link))).toContain("accepted by Robin on 31 May 2026 at 23:59");
    now = "2026-05-01T12:00:00Z";
  });

  test("the last day is that of the shop, not of the server", async () => {
    const { link } = await sent("America/Los_Angeles");
    now = "2026-06-01T06:00:00Z"; // still 31 May there
    expect(await new Person(app).page(link)).toContain("Send my answer");
    now = "2026-06-01T07:30:00Z";
    expect(textOf(await new Person(app).page(link))).toContain("This quote expired on 31 May 2026");
    now = "2026-05-01T12:00:00Z";
  });

  test("whoever guesses is slowed down", async () => {
    const { link } = await sent();
    const guesser = new Person(app);
    const statuses: number[] = [];
    for (let i = 0; i < 8; i++) statuses.push((await guesser.get(`/q/${"A".repeat(42)}${i}`)).status);
    expect(statuses.slice(0, 5)).toEqual([404, 404, 404, 404, 404]);
    expect(statuses.slice(5)).toEqual([429, 429, 429]);
    // A link that is one opens for everyone at that address, whoever guesses there.
    expect((await guesser.get(link)).status).toBe(200);
    now = "2026-05-01T12:10:00Z";
    expect((await guesser.get(`/q/${"A".repeat(42)}9`)).status).toBe(404);
  });
});
