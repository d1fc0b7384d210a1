import { describe, expect, test } from "vitest";
import { PAGE_FORMAT } from "../../../data/number-formats.ts";
import { planBounds } from "../../../src/core/fleet/year-plan.ts";
import { quoteBounds } from "../../../src/core/quotes/quote.ts";
import { BLANK_LETTERHEAD, LETTERHEAD_CHARS, UNNAMED_VEHICLE } from "../../../src/core/quotes/quote-document.ts";
import { readPlanTerms } from "../../../src/web/fleet/plan-request.ts";
import { fieldsOfLetterhead, readLetterhead } from "../../../src/web/prices/letterhead-form.ts";
import { fieldsOfContent, readQuote } from "../../../src/web/quotes/quote-form.ts";
import { planStored } from "../../../src/web/schemas/plan-schema.ts";
import { letterhead_text, quoteStored } from "../../../src/web/schemas/quote-schema.ts";
import { CONTENT } from "../../store/quote-samples.ts";
import { readSource, sourceFiles } from "../../support/sources.ts";

const OWN_BOUND = /^(?:export )?const (?:MAX_\w+|\w+_CHARS|MOST(?:_MONEY|_HOURS|_DAYS)?)(?:: [^=]*)? = .*$/gm;

describe("a bound is said once, for the form and for what is stored", () => {
  test("no file that reads a form names one of its own", () => {
    const forms = sourceFiles("src/web").filter((file) => readSource(file).includes('forms/form-reading.ts"'));
    expect(forms.length).toBeGreaterThan(25);
    const own = forms.flatMap((file) => [...readSource(file).matchAll(OWN_BOUND)].map(([line]) => `${file}: ${line}`));
    expect(own).toEqual([]);
  });

  test.each(Object.keys(letterhead_text) as (keyof typeof letterhead_text)[])("letterhead, %s", (name) => {
    const most = LETTERHEAD_CHARS[name];
    const refused = (chars: number) => {
      const text = "é".repeat(chars);
      const read = readLetterhead({ ...fieldsOfLetterhead(BLANK_LETTERHEAD), shop: "North Yard", [name]: text });
      return [read.ok ? [] : read.errors.map(({ field }) => field), letterhead_text[name].safeParse(text).success];
    };
    expect(refused(most)).toEqual([[], true]);
    expect(refused(most + 1)).toEqual([[name], false]);
  });

  test.each([
    ["customer", quoteBounds.customer_chars],
    ["note", quoteBounds.note_chars],
    ["recommended_why", quoteBounds.words_chars],
  ] as const)("a quote, %s", (name, most) => {
    const { content } = quoteStored.shape;
    const refused = (chars: number) => {
      const text = "é".repeat(chars);
      const read = readQuote({ ...fieldsOfContent(CONTENT, PAGE_FORMAT), [name]: text }, CONTENT, PAGE_FORMAT);
      const errors = read.ok ? [] : read.errors.map(({ field }) => field);
      return [errors, content.safeParse({ ...CONTENT, [name]: text }).success];
    };
    expect(refused(most)).toEqual([[], true]);
    expect(refused(most + 1)).toEqual([[name], false]);
  });

  test.each([
    ["words", "vehicle_words", quoteBounds.vehicle_chars],
    ["plate", "plate", quoteBounds.plate_chars],
    ["odometer", "odometer", quoteBounds.odometer_chars],
  ] as const)("the vehicle on a quote, %s", (name, field, most) => {
    const { content } = quoteStored.shape;
    const refused = (chars: number) => {
      const vehicle_shown = { ...UNNAMED_VEHICLE, [name]: "é".repeat(chars) };
      const quoted = { ...CONTENT, vehicle_shown };
      const read = readQuote(fieldsOfContent(quoted, PAGE_FORMAT), CONTENT, PAGE_FORMAT);
      return [read.ok ? [] : read.errors.map((error) => error.field), content.safeParse(quoted).success];
    };
    expect(refused(most)).toEqual([[], true]);
    expect(refused(most + 1)).toEqual([[field], false]);
  });

  test.each([
    ["budget", planBounds.money],
    ["shop", planBounds.a_month],
    ["repair_hours", planBounds.hours],
  ] as const)("the plan of a year, %s", (name, most) => {
    const { terms } = planStored.shape;
    const refused = (value: number) => {
      const typed = {
        budget: "1000",
        shop: "1",
        repair_hours: "1",
        test_hours: "1",
        [name]: name === "budget" ? `${value / 1e6} million` : String(value),
      };
      const read = readPlanTerms({ aim: "cost", year: 2027, per: "hours", depots: [], ...typed }, "USD");
      const shop = {
        unit: "hours",
        a_month: Number(typed.shop),
        repair_hours: Number(typed.repair_hours),
        test_hours: 1,
      };
      const stored = { budget: name === "budget" ? value : 1000, aim: "cost", shop, depots: [] };
      return [read.errors.map(({ field }) => field), terms.safeParse(stored).success];
    };
    expect(refused(most)).toEqual([[], true]);
    expect(refused(1.001 * most)).toEqual([[name], false]);
  });
});
