import { describe, expect, test } from "vitest";
import {
  CUSTOMER_WORDS,
  type CustomerWord,
  type CustomerWords,
  LANGUAGE_NAMES,
  LANGUAGES,
  type Language,
} from "../../data/customer-words.ts";
import { RETAIL_BOOK } from "../../data/price-book.ts";
import { assess } from "../../src/core/assess.ts";
import type { AssessRequest } from "../../src/core/question/contract.ts";
import { customersFormat } from "../../src/core/quotes/customer-format.ts";
import type { InvoiceDocument } from "../../src/core/quotes/invoice.ts";
import type { QuoteOption } from "../../src/core/quotes/quote.ts";
import { BLANK_LETTERHEAD, type QuoteSnapshot } from "../../src/core/quotes/quote-document.ts";
import { lineOfOne } from "../../src/core/quotes/quote-lines.ts";
import { optionFromBook, quoteCase } from "../../src/core/quotes/quote-options.ts";
import { quoteOutlook } from "../../src/core/quotes/quote-outlook.ts";
import { inLanguage } from "../../src/core/quotes/standard-words.ts";
import { InvoicePaper } from "../../views/invoices/invoice-paper.tsx";
import { CustomerSaid } from "../../views/quotes/customer-said.tsx";
import { OfferPage, type OfferState, UnknownQuotePage } from "../../views/quotes/offer-page.tsx";
import { INVOICE } from "../store/invoice-samples.ts";
import { SNAPSHOT } from "../store/quote-samples.ts";

const KEYS = Object.keys(CUSTOMER_WORDS) as CustomerWord[];
const places = (text: string) =>
  Array.from(text.matchAll(/\{[\w-]+\}/g), ([place]) => place).toSorted((a, b) => a.localeCompare(b));

describe("the table of words", () => {
  test.each(LANGUAGES)("has every key in %s, with the places of the English text", (language) => {
    const wrong = KEYS.filter((key) => {
      const text: string | undefined = CUSTOMER_WORDS[key][language];
      return !text?.trim() || String(places(text)) !== String(places(CUSTOMER_WORDS[key].en));
    });
    expect(wrong).toEqual([]);
  });

  test("what counts one counts others, too", () => {
    const ones = KEYS.filter((key) => key.endsWith(".one"));
    expect(ones.filter((key) => !KEYS.includes(key.replace(/\.one$/, ".other") as CustomerWord))).toEqual([]);
    for (const language of LANGUAGES)
      expect(new Intl.PluralRules(LANGUAGE_NAMES[language].locale).resolvedOptions().pluralCategories).toEqual(
        expect.arrayContaining(["one", "other"]),
      );
  });

  test("a caution says no less in another language: no text is much shorter", () => {
    const short = KEYS.filter((key) => key.startsWith("care.")).filter((key) =>
      LANGUAGES.some((language) => CUSTOMER_WORDS[key][language].length < 0.8 * CUSTOMER_WORDS[key].en.length),
    );
    expect(short).toEqual([]);
  });
});

/** A leak that is worth a search, so that every kind of option has something to say. */
const REQUEST: AssessRequest = {
  as_of: "2026-05-01",
  vehicle: { refrigerant: "R-1234yf", nameplate_g: 650 },
  log: [
    { date: "2024-05-01", finish: "weighed" },
    { date: "2025-06-15", cooling: "weak", added_g: 250, added_by: "scale", finish: "gauges" },
    { date: "2026-05-01", cooling: "weak" },
  ],
};

function snapshotIn(language: Language, table: CustomerWords, changes: Partial<QuoteSnapshot> = {}): QuoteSnapshot {
  const given = quoteCase({ refrigerant: "R-1234yf", nameplate_g: 650 }, assess(REQUEST, { sensitivity: false }));
  const book = { ...RETAIL_BOOK, refrigerants: withMachine(RETAIL_BOOK) };
  const works: QuoteOption["work"][] = [
    { recharge: true, test: null, repair: null },
    { recharge: true, test: "dye", repair: null },
    { recharge: false, test: "electronic", repair: null },
    { recharge: false, test: "electronic", repair: "found" },
    { recharge: false, test: null, repair: "service-port" },
    { recharge: false, test: null, repair: "evaporator" },
  ];
  const drafted = works.map((work, i) => {
    const option = optionFromBook("abcdef"[i]!, book, work, given, "EUR");
    const lines = option.lines.map((line, l) => ({
      ...line,
      discount: l === 0 ? ({ kind: "percent", rate_ppm: 75_000 } as const) : null,
    }));
    return { ...option, lines, replaces: i === 3 ? ["a", "c"] : [], excludes: i === 4 ? ["a"] : [] };
  });
  const { options, taxes, warranty } = inLanguage({ options: drafted, ...book }, language, table);
  const offer = { options, taxes, currency: "EUR", request: REQUEST };
  return {
    ...SNAPSHOT,
    ...BLANK_LETTERHEAD,
    letterhead: { ...SNAPSHOT.letterhead, shop: "Ω", tax_number: "Ψ" },
    customer: "Ξ",
    vehicle: {
      label: "",
      refrigerant: "R-1234yf",
      nameplate_g: 650,
      shown: { words: "", plate: "Π", vin: "Φ", odometer: "Θ" },
    },
    currency: "EUR",
    language,
    number_format: customersFormat(language, { language: "en", number_format: "1,234.56" }, "EUR"),
    options,
    taxes,
    warranty,
    recommended: "d",
    request: REQUEST,
    outlook: quoteOutlook(offer, 5),
    ...changes,
  };
}

function withMachine({ refrigerants }: typeof RETAIL_BOOK) {
  const { "R-1234yf": one, ...others } = refrigerants;
  return { ...others, "R-1234yf": { ...one, service_extra_micro: 20_000_000 } };
}

const AGREED = {
  ready_by: "2026-05-08",
  extra_minor: 150_00,
  deposit: { amount_minor: 100_00, paid_on: "2026-05-03", method: "card" as const },
};

/** The page of a quote, as markup. */
function pageOf(snapshot: QuoteSnapshot, said: CustomerSaid, offer: OfferState, changes = {}): string {
  const props = {
    snapshot,
    outlook: snapshot.outlook,
    said,
    offer,
    logo: "data:image/png;base64,AAAA",
    path: "/q/x",
    code: null,
    years: "5",
    answer: { choice: "", name: "" },
    errors: [],
    too_late: false,
    asset: (name: string) => `/assets/${name}`,
  };
  return String(OfferPage({ ...props, ...changes }));
}

/** What can be read on a page: its text, title and the texts of its attributes. */
function readable(markup: string): string {
  const attributes = Array.from(
    markup.matchAll(/ (?:aria-label|alt|title|placeholder)="([^"]*)"/g),
    ([, text]) => text,
  );
  const text = markup.replace(/<(script|style)\b.*?<\/\1>/gs, " ").replace(/<[^>]*>/g, " ");
  return [text, ...attributes].join(" ").replace(/&[#\w]+;/g, " ");
}

describe("a language that nobody speaks", () => {
  /** Each text in brackets, its Latin letters made Greek: what is not from the table stands out. */
  const greek = (text: string) =>
    text.replace(/\{[\w-]+\}|[A-Za-z]+/g, (part) => (part.startsWith("{") ? part : "λ".repeat(part.length)));
  const PSEUDO = Object.fromEntries(
    KEYS.map((key) => [
      key,
      Object.fromEntries(LANGUAGES.map((language) => [language, greek(CUSTOMER_WORDS[key].en)])),
    ]),
  ) as unknown as CustomerWords;
  const saidFor = (snapshot: QuoteSnapshot) => new CustomerSaid({ ...snapshot, language: "de" }, PSEUDO, "el");

  /** Symbols of units, refrigerants, and our own name, which no language changes. */
  const SAME_EVERYWHERE = /R-1234yf|\b(?:oz|lb|kg|g|h|CO|Seepwise|GMT|UTC|EEST)\b/g;

  const snapshot = snapshotIn("de", PSEUDO);
  const latin = (markup: string) =>
    readable(markup)
      .replace(SAME_EVERYWHERE, "")
      .match(/[A-Za-z]{2,}/g) ?? [];
  const at = saidFor(snapshot).instant("2026-05-03T14:02:00Z", "UTC");
  const states: OfferState[] = [
    { state: "preview", accepted: null, back: "/" },
    { state: "sent" },
    { state: "expired", newer: null },
    { state: "expired", newer: 7 },
    { state: "withdrawn", newer: null },
    { state: "withdrawn", newer: 7 },
    { state: "accepted", option: "d", name: "Ξ", at, agreement: AGREED },
    { state: "declined", name: "Ξ", at },
  ];

  test.each(states)("leaves no English on the page of a quote that is $state", (offer) => {
    expect(latin(pageOf(snapshot, saidFor(snapshot), offer))).toEqual([]);
  });

  const { outlook } = snapshot;
  test.each([
    ["when nothing is needed", { outlook: { ...outlook, not_needed: true, advised: null } }],
    ["when it may not be low", { outlook: { ...outlook, check_first: true, advised: null } }],
    ["when it is not low yet", { outlook: { ...outlook, nothing: { ...outlook.nothing, low_now: false } } }],
    [
      "with a first step",
      {
        outlook: {
          ...outlook,
          first_step: {
            id: "cores-and-caps" as const,
            location: "service-port" as const,
            probability: 0.2,
            ends_leak: 0.2,
            price: 40,
            saves: 3,
          },
        },
      },
    ],
    ["with a measured leak", { outlook: { ...outlook, leak: { ...outlook.leak, from_nothing: false } } }],
    ["of a hybrid", { vehicle: { ...snapshot.vehicle, electric: true } }],
    ["in ounces", { units: "us" as const }],
    ["with nothing recommended", { recommended: null }],
  ])("nor %s", (_case, changes) => {
    const changed = { ...snapshot, ...changes };
    expect(latin(pageOf(changed, saidFor(changed), { state: "sent" }))).toEqual([]);
  });

  test("nor where something is to be put right", () => {
    const said = saidFor(snapshot);
    const errors = [
      { field: "choice", message: said.word("answer.choose") },
      { field: "name", message: said.word("answer.name-needed") },
    ];
    expect(latin(pageOf(snapshot, said, { state: "sent" }, { errors, too_late: true }))).toEqual([]);
    expect(latin(String(UnknownQuotePage({ said, asset: () => "" })))).toEqual([]);
  });

  test.each(["invoice", "credit-note"] as const)("nor on an %s", (kind) => {
    const said = saidFor(snapshot);
    const parts = lineOfOne("parts", "Ξ", 50_000_000);
    const document: InvoiceDocument = {
      ...INVOICE,
      prefix: "",
      language: "de",
      letterhead: snapshot.letterhead,
      customer: { name: "Ξ", address: "" },
      vehicle: {
        ...INVOICE.vehicle,
        refrigerant: "R-1234yf",
        shown: { words: "", plate: "Π", vin: "Φ", odometer: "Θ" },
      },
      title: "Ξ",
      lines: [parts],
      discount: { kind: "percent", rate_ppm: 100_000 },
      extra: { lines: [parts], agreed_minor: 1, yes: { name: "Ξ", how: "phone", on: "2026-05-02" } },
      taxes: { parts: { name: "Ξ", rate_ppm: 10_000 }, labor: { name: "Ξ", rate_ppm: 10_000 } },
      billed: { ...INVOICE.billed, taxes: [{ name: "Ξ", rate_ppm: 10_000, taxable_minor: 1, tax_minor: 1 }] },
      worked_on: "2026-05-02",
      pay_by: "2026-05-20",
      credits: kind === "invoice" ? null : { number: 1, prefix: "", reason: "Ξ" },
    };
    const paid = [
      { total_minor: 9, credited_minor: 1, paid_minor: 2, deposit_minor: 1 },
      { total_minor: 9, credited_minor: 0, paid_minor: 9, deposit_minor: 0 },
      { total_minor: 9, credited_minor: 1, paid_minor: 9, deposit_minor: 0 },
    ];
    for (const balance of paid)
      expect(latin(String(InvoicePaper({ kind, number: 3, document, balance, logo: "", said })))).toEqual([]);
    expect(latin(String(InvoicePaper({ kind, number: null, document, balance: null, logo: "", said })))).toEqual([]);
  });

  test("the test itself sees English", () => {
    const english = new CustomerSaid({ ...snapshot, language: "en" });
    expect(latin(pageOf(snapshot, english, { state: "sent" })).length).toBeGreaterThan(100);
  });
});

describe("how a language writes", () => {
  const said = (language: Language, currency: string) =>
    new CustomerSaid({
      language,
      currency,
      units: "metric",
      number_format: customersFormat(language, { language: "en", number_format: "1,234.56" }, currency),
    });

  test.each([
    ["de", "EUR", "de-DE"],
    ["de", "CHF", "de-CH"],
    ["es", "USD", "es-US"],
    ["es", "EUR", "es-ES"],
    ["en", "USD", "en-US"],
  ] as const)("amounts in %s with %s as %s has them", (language, currency, locale) => {
    const style = { style: "currency", currency, useGrouping: "always" } as const;
    const intl = new Intl.NumberFormat(locale, style).format(2108.49);
    expect(said(language, currency).amount(210_849)).toBe(intl.replaceAll("'", "’"));
  });

  // As the Unicode Common Locale Data Repository has the long date of each.
  test.each([
    ["en", "14 August 2027", "August 2027"],
    ["es", "14 de agosto de 2027", "agosto de 2027"],
    ["de", "14. August 2027", "August 2027"],
  ] as const)("dates in %s", (language, day, month) => {
    expect(said(language, "EUR").day("2027-08-14")).toBe(day);
    expect(said(language, "EUR").month("2027-08-14")).toBe(month);
  });

  test("weights, gases and chances with the same figures as amounts", () => {
    const de = said("de", "EUR");
    expect([de.co2e(1250), de.mass(340), de.chance(0.81)]).toEqual(["1.250\u00a0kg", "340\u00a0g", "81 von 100"]);
    expect(said("es", "EUR").co2e(0.21)).toBe("0,21\u00a0kg");
    expect(de.years(2.5)).toBe("2,5 Jahre");
    expect([de.span(3, 9), de.span(10, 30), de.span(30, 30)]).toEqual([
      "3 bis 9\u00a0Monate",
      "10\u00a0Monate bis 2½\u00a0Jahre",
      "etwa 2½ Jahre",
    ]);
  });

  test("an instant has its zone with it", () => {
    const at = "2026-05-03T19:02:00Z";
    expect(said("de", "EUR").instant(at, "Europe/Berlin")).toMatch(/^3\. Mai 2026 um 21:02 (MESZ|GMT\+2)$/);
    expect(said("en", "USD").instant(at, "America/Chicago")).toMatch(/^3 May 2026 at 14:02 (GMT-5|CDT)$/);
  });

  test("a shop's own way of writing amounts stays in its own language", () => {
    const swiss = { language: "de", number_format: "1’234.56" } as const;
    expect(customersFormat("de", swiss, "CHF")).toBe("1’234.56");
    expect(customersFormat("en", swiss, "CHF")).toBe("1,234.56");
  });
});

describe("what a quote begins with", () => {
  test("is translated, and what somebody typed is not", () => {
    const [recharge] = snapshotIn("es", CUSTOMER_WORDS).options;
    expect(recharge).toMatchObject({ title: "Recargar ahora", not_covered: "Encontrar y reparar la fuga." });
    expect(recharge!.lines.map(({ text }) => text)).toEqual(
      expect.arrayContaining([
        "Recuperar el refrigerante",
        "Máquina para R-1234yf",
        "R-1234yf, lo que falta; el resto vuelve a entrar",
      ]),
    );
    const typed = { ...recharge!, title: "Oil change", words: "As agreed on the telephone" };
    const [stays] = inLanguage({ options: [typed], ...RETAIL_BOOK }, "de").options;
    expect(stays).toMatchObject({ title: "Oil change", words: "As agreed on the telephone" });
  });
});
