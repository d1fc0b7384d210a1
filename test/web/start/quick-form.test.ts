import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { CLIMATES } from "../../../data/climates.ts";
import { priceParameters } from "../../../data/parameters.ts";
import { TYPICAL_CHARGES } from "../../../data/typical-charges.ts";
import { addressOfFields, blankFields, exampleFields, fieldsOfAddress } from "../../../src/web/start/quick-address.ts";
import { readQuickForm } from "../../../src/web/start/quick-form.ts";
import type { QuickFields } from "../../../views/start/quick-fields.ts";

const TODAY = "2026-05-01";
/** International avoirdupois ounce, exact (NIST SP 811, appendix B). */
const GRAMS_PER_OUNCE = 28.349523125;

function fields(changes: Partial<QuickFields> = {}): QuickFields {
  return { ...blankFields(TODAY), refrigerant: "R-134a", nameplate: "23 oz", lines: [], ...changes };
}

function line(when: string, did = "cans", amount = "", cooled = "") {
  return { when, did, amount, cooled };
}

function errorsOf(changes: Partial<QuickFields>): [field: string, message: string][] {
  return readQuickForm(fields(changes), true).errors.map(({ field, message }) => [field, message]);
}

function queryOf(address: string): URLSearchParams {
  return new URL(address, "http://localhost").searchParams;
}

describe("readQuickForm(fields)", () => {
  test("the example is a question without errors, with three top-offs", () => {
    const { errors, request } = readQuickForm(exampleFields(TODAY), false);
    expect(errors).toEqual([]);
    expect(request?.log?.filter(({ added_g }) => (added_g ?? 0) > 0)).toHaveLength(3);
  });

  test("what each line says goes into the log in its own terms", () => {
    const lines = [
      line("2023-06-01", "cans", "1 can", "weak"),
      line("2023-07-01", "cans-gauges", "10 oz"),
      line("2023-08-01", "cans-low-side"),
      line("2023-09-01", "scale", "0"),
      line("2023-10-01", "weighed", "650 g"),
      line("2023-11-01", "recovered", "400 g", "short-cycling"),
      line("2023-12-01", "repair-condenser"),
      line("2024-01-01", "looked", "", "empty"),
    ];
    const { request } = readQuickForm(fields({ lines, today: "ok" }), true);
    expect(request?.log).toEqual([
      { date: "2023-06-01", cooling: "weak", added_by: "cans", finish: "unknown", added_g: 340 },
      { date: "2023-07-01", cooling: null, added_by: "cans", finish: "gauges", added_g: 10 * GRAMS_PER_OUNCE },
      { date: "2023-08-01", cooling: null, added_by: "cans", finish: "low-side", added_g: null },
      { date: "2023-09-01", cooling: null, added_by: "scale", finish: "unknown", added_g: 0 },
      { date: "2023-10-01", cooling: null, finish: "weighed", added_g: 650 },
      { date: "2023-11-01", cooling: "short-cycling", finish: "weighed", recovered_g: 400 },
      { date: "2023-12-01", cooling: null, finish: "weighed", repair: "condenser", added_g: null },
      { date: "2024-01-01", cooling: "empty" },
      { date: TODAY, cooling: "ok" },
    ]);
  });

  test("the vehicle, its climate, and the plan", () => {
    const { request } = readQuickForm(
      fields({
        refrigerant: "R-1234yf",
        nameplate: "0,5 kg",
        climate: "hot-desert",
        keep: "2.5",
        service: "shop",
        tools: true,
      }),
      true,
    );
    expect(request?.vehicle).toEqual({
      refrigerant: "R-1234yf",
      nameplate_g: 500,
      monthly_mean_c: CLIMATES.find(({ id }) => id === "hot-desert")?.monthly_mean_c,
    });
    expect(request?.plan).toMatchObject({ keep_years: 2.5, service: "shop", tools_owned: true });
  });

  test("lines that say nothing are passed over; an empty log is no error", () => {
    const { errors, request } = readQuickForm(fields({ lines: blankFields(TODAY).lines }), true);
    expect(errors).toEqual([]);
    expect(request?.log).toEqual([]);
  });

  test("without the nameplate charge it waits, and asks for it only when an answer is asked for", () => {
    expect(readQuickForm(fields({ nameplate: "" }), false)).toMatchObject({ errors: [], request: null });
    expect(readQuickForm(fields({ nameplate: "" }), true).errors.map(({ field }) => field)).toEqual(["nameplate"]);
  });
});

describe("what readQuickForm(fields) refuses", () => {
  test.each<[what: string, changes: Partial<QuickFields>, field: string, says: RegExp]>([
    ["a date in words that is none", { lines: [line("a while ago")] }, "when-1", /Enter when it was, like 14 Jun 2024/],
    ["a date to come", { lines: [line("June 2030")] }, "when-1", /in the future/],
    ["a date long gone", { lines: [line("1 Jan 1979")] }, "when-1", /last 40 years/],
    ["an amount without a date", { lines: [line("", "cans", "12 oz")] }, "when-1", /Enter when it was/],
    ["a negative amount", { lines: [line("2025-06-01", "cans", "-12 oz")] }, "amount-1", /0 or more/],
    ["emoji", { lines: [line("2025-06-01", "cans", "🥶🥶")] }, "amount-1", /Enter the amount, like 12 oz/],
    [
      "four nameplates",
      { lines: [line("2025-06-01", "cans", "92 oz")] },
      "amount-1",
      /more than three times the nameplate/,
    ],
    ["a deed that is not there", { lines: [line("2025-06-01", "pour")] }, "did-1", /Choose what was done/],
    ["a nameplate of 30 kg", { nameplate: "30 kg" }, "nameplate", /between 100 g .* and 20 kg/],
    ["a nameplate of a can", { nameplate: "1 can" }, "nameplate", /Enter the nameplate charge/],
    ["a hundred years", { keep: "100" }, "keep", /from 0.25 to 20/],
    ["no years", { keep: "" }, "keep", /how many years/],
    ["a refrigerant of its own", { refrigerant: "R-999" }, "refrigerant", /Choose the refrigerant/],
    ["a drive of its own", { electric: "steam" }, "electric", /yes, no or not sure/],
    ["a climate of its own", { climate: "the moon" }, "climate", /Choose the climate/],
    ["a quote in words", { quote: "too much" }, "quote", /Enter the quote/],
    ["a negative carbon price", { carbon: "-1" }, "carbon", /from 0 to 10,000/],
    ["a carbon price out of range", { carbon: "20000" }, "carbon", /from 0 to 10,000/],
  ])("%s is told at its field", (_what, changes, field, says) => {
    const errors = errorsOf(changes);
    expect(errors.map(([at]) => at)).toEqual([field]);
    expect(errors[0]?.[1]).toMatch(says);
  });

  test("all problems are told at once, in the order of the page", () => {
    const lines = [line("someday", "cans", "lots"), line("2025-06-01", "cans", "99 lb")];
    expect(errorsOf({ refrigerant: "?", nameplate: "23 oz", lines, keep: "99" }).map(([field]) => field)).toEqual([
      "refrigerant",
      "when-1",
      "amount-1",
      "amount-2",
      "keep",
    ]);
  });
});

describe("readQuickForm(fields), where not everything is known", () => {
  test.each(["?", "don't know", "I don’t know", "Not sure", "unknown"])(
    "a nameplate charge of “%s” is a question over the typical sizes",
    (nameplate) => {
      const { errors, request, cases } = readQuickForm(fields({ nameplate }), true);
      expect(errors).toEqual([]);
      expect(request).toBeNull();
      expect(cases.map(({ weight, request: one }) => [weight, one.vehicle.nameplate_g])).toEqual(
        TYPICAL_CHARGES["R-134a"].map(({ share, nameplate_g }) => [share, nameplate_g]),
      );
    },
  );

  test("a refrigerant that nobody is sure of is a question over the likely ones, cans as each is sold", () => {
    const lines = [line("2025-06-01", "cans", "1 can", "weak")];
    const { errors, cases } = readQuickForm(fields({ refrigerant: "unsure", lines }), true);
    expect(errors).toEqual([]);
    expect(cases.map(({ request }) => [request.vehicle.refrigerant, request.log?.[0]?.added_g])).toEqual([
      ["R-134a", priceParameters.can_net_g.default["R-134a"]],
      ["R-1234yf", priceParameters.can_net_g.default["R-1234yf"]],
    ]);
  });

  test("a size that one top-off would have overfilled is left out", () => {
    const lines = [line("2025-06-01", "cans", "600 g", "weak")];
    const { cases } = readQuickForm(fields({ nameplate: "?", lines }), true);
    expect(cases.map(({ request }) => request.vehicle.nameplate_g)).toEqual([650, 850]);
    expect(cases.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 12);
  });

  test("a size for which an amount is impossible is left out; more than all of them hold is told", () => {
    const of = (amount: string) =>
      readQuickForm(fields({ nameplate: "?", lines: [line("2025-06-01", "cans", amount)] }), true);
    expect(of("1500 g").cases.map(({ request }) => request.vehicle.nameplate_g)).toEqual([850]);
    expect(of("9 kg").errors.map(({ field }) => field)).toEqual(["amount-1"]);
  });

  test("a season is one question, that says how vague it is, also where the vehicle is saved", () => {
    const typed = fields({ lines: [line("summer 2024", "cans", "12-14 oz")] });
    for (const exact of [false, true]) {
      const { errors, request } = readQuickForm(typed, true, { exact });
      expect(errors).toEqual([]);
      expect(request?.log?.[0]).toMatchObject({ date: "2024-07-16", date_within_days: 46 });
    }
  });

  test("6/5/2024 is read as the place has it, and asked where no place is chosen", () => {
    const typed = { lines: [line("6/5/2024", "cans", "12 oz")] };
    expect(readQuickForm(fields({ ...typed, where: "us-tx" }), true).request?.log?.[0]?.date).toBe("2024-06-05");
    expect(readQuickForm(fields({ ...typed, where: "uk" }), true).request?.log?.[0]?.date).toBe("2024-05-06");
    expect(errorsOf(typed)[0]?.[1]).toContain("can be 6 May 2024 or 5 Jun 2024");
  });

  test("what is needed exactly is asked for: for a plan, or to save the vehicle", () => {
    const unknown = fields({ nameplate: "?", refrigerant: "unsure" });
    const { errors, cases } = readQuickForm(unknown, true, { exact: true });
    expect(errors.map(({ field }) => field)).toEqual(["refrigerant", "nameplate"]);
    expect(cases).toEqual([]);
  });
});

describe("readQuickForm(fields), whatever is typed", () => {
  test("199 lines are read, 200 are too many", () => {
    const many = Array.from({ length: 199 }, (_, i) =>
      line(`2025-${String((i % 12) + 1).padStart(2, "0")}-01`, "looked", "", "ok"),
    );
    expect(errorsOf({ lines: many })).toEqual([]);
    expect(errorsOf({ lines: [...many, line("2026-01-01")] }).map(([field]) => field)).toEqual(["when-1"]);
  });

  test("whatever is typed, it never throws, and gives a request or errors with a field of the page", () => {
    const typed = fc.oneof(
      fc.string(),
      fc.string({ unit: "grapheme" }),
      fc.constantFrom("12 oz", "June 2024", "5", ""),
    );
    const anything = fc.record({
      nameplate: typed,
      refrigerant: typed,
      climate: typed,
      keep: typed,
      service: typed,
      place: typed,
      quote: typed,
      carbon: typed,
      floor: typed,
      today: typed,
      lines: fc.array(fc.record({ when: typed, did: typed, amount: typed, cooled: typed }), { maxLength: 4 }),
    });
    fc.assert(
      fc.property(anything, (changes) => {
        const { errors, cases } = readQuickForm(fields(changes), true);
        expect(errors.length === 0).toBe(cases.length > 0);
        if (cases.length > 0) expect(cases.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 9);
        for (const { field, message } of errors) {
          expect(field).toMatch(
            /^(refrigerant|nameplate|climate|(when|did|amount|cooled)-\d+|today|keep|service|place|quote|floor|carbon)$/,
          );
          expect(message).not.toMatch(/undefined|NaN|invalid/i);
        }
      }),
    );
  });
});

describe("the address", () => {
  test("brings every field back as it was typed", () => {
    const text = fc.string({ unit: "grapheme" });
    const some = fc.record({
      nameplate: text,
      climate: text,
      today: text,
      keep: text,
      service: text,
      place: text,
      quote: text,
      carbon: text,
      tools: fc.boolean(),
      units: fc.constantFrom("us" as const, "metric" as const),
      lines: fc.array(fc.record({ when: text, did: text, amount: text, cooled: text }), { maxLength: 4 }),
    });
    fc.assert(
      fc.property(some, (changes) => {
        const typed = fields(changes);
        expect(fieldsOfAddress(queryOf(addressOfFields(typed)), TODAY)).toEqual(typed);
      }),
    );
  });

  test("a button for a size writes the nameplate charge", () => {
    const address = addressOfFields(fields());
    expect(fieldsOfAddress(queryOf(`${address}&size=17+oz`), TODAY).nameplate).toBe("17 oz");
  });

  test("the sample stays the sample while it is changed", () => {
    const changed = { ...exampleFields(TODAY), keep: "2" };
    expect(fieldsOfAddress(queryOf(addressOfFields(changed)), TODAY).example).toBe(true);
    expect(addressOfFields(fields())).not.toContain("example");
  });

  test("adds and removes a line by its place", () => {
    const lines = [line("2024-01-01"), line("2025-01-01")];
    const address = addressOfFields(fields({ lines }));
    const whens = (more: string) => fieldsOfAddress(queryOf(address + more), TODAY).lines.map(({ when }) => when);
    expect(whens("&add=1")).toEqual(["2024-01-01", "2025-01-01", ""]);
    expect(whens("&remove=1")).toEqual(["2025-01-01"]);
    expect(whens("&remove=99")).toEqual(["2024-01-01", "2025-01-01"]);
  });

  test("bare numbers keep their meaning when the units change", () => {
    const query = queryOf(addressOfFields(fields({ nameplate: "23", lines: [line("2025-01-01", "cans", "12")] })));
    query.set("typed_in", "us");
    query.set("units", "metric");
    const changed = fieldsOfAddress(query, TODAY);
    expect(changed.nameplate).toBe("23 oz");
    expect(changed.lines[0]?.amount).toBe("12 oz");
    expect(readQuickForm(changed, true).request?.vehicle.nameplate_g).toBeCloseTo(23 * GRAMS_PER_OUNCE, 9);
  });

  test("a day that does not exist is today", () => {
    expect(fieldsOfAddress(queryOf("/?as_of=2026-02-30"), TODAY).as_of).toBe(TODAY);
  });
});

describe("an address with thousands of lines", () => {
  test("is refused by the number of lines, and shows no more than that one too many", () => {
    const query = new URLSearchParams({ nameplate: "23 oz", go: "1" });
    for (let i = 0; i < 20_000; i += 1) query.append("when", "1");
    const fields = fieldsOfAddress(query, "2026-05-01");
    expect(fields.lines).toHaveLength(200);
    expect(readQuickForm(fields, true).errors[0]).toMatchObject({
      message: expect.stringContaining("at most 199 lines"),
    });
  });
});
