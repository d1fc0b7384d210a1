import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isIsoDate } from "../../../src/core/quantities/dates.ts";
import { parseWhen } from "../../../src/core/quantities/parse-when.ts";

// Seasons are the meteorological ones, three calendar months each (WMO, Guide to Climatological Practices).
const AS_OF = "2026-05-01";
const read = (text: string, more = {}) => parseWhen(text, { as_of: AS_OF, ...more });

describe("parseWhen(text) keeps what is vague vague", () => {
  it.each([
    ["14 Jun 2024", "2024-06-14", "2024-06-14", "2024-06-14", "14 June 2024"],
    ["6/15/24", "2024-06-15", "2024-06-15", "2024-06-15", "15 June 2024"],
    ["14 Jun '24", "2024-06-14", "2024-06-14", "2024-06-14", "14 June 2024"],
    ["yesterday", "2026-04-30", "2026-04-30", "2026-04-30", "30 April 2026"],
    ["10 days ago", "2026-04-21", "2026-04-21", "2026-04-21", "21 April 2026"],
    ["about 14 June 2024", "2024-06-14", "2024-06-07", "2024-06-21", "about 14 June 2024"],
    ["three weeks ago", "2026-04-10", "2026-04-06", "2026-04-14", "about 10 April 2026"],
    ["June 2024", "2024-06-15", "2024-06-01", "2024-06-30", "about mid-June 2024"],
    ["June '24", "2024-06-15", "2024-06-01", "2024-06-30", "about mid-June 2024"],
    ["June ’24", "2024-06-15", "2024-06-01", "2024-06-30", "about mid-June 2024"],
    ["6/2024", "2024-06-15", "2024-06-01", "2024-06-30", "about mid-June 2024"],
    ["2024-06", "2024-06-15", "2024-06-01", "2024-06-30", "about mid-June 2024"],
    ["last June", "2025-06-15", "2025-06-01", "2025-06-30", "about mid-June 2025"],
    ["early June 2024", "2024-06-05", "2024-06-01", "2024-06-10", "early June 2024"],
    ["mid June 2024", "2024-06-15", "2024-06-11", "2024-06-20", "mid-June 2024"],
    ["late Feb 2024", "2024-02-25", "2024-02-21", "2024-02-29", "late February 2024"],
    ["about June 2024", "2024-06-15", "2024-05-17", "2024-07-15", "around June 2024"],
    ["summer 2024", "2024-07-16", "2024-06-01", "2024-08-31", "summer 2024, about July"],
    ["last summer", "2025-07-16", "2025-06-01", "2025-08-31", "summer 2025, about July"],
    ["this spring", "2026-03-31", "2026-03-01", "2026-05-01", "spring 2026, about April"],
    ["winter 2023/24", "2024-01-15", "2023-12-01", "2024-02-29", "winter 2023–24, about January"],
    ["2024", "2024-07-01", "2024-01-01", "2024-12-31", "2024, about July"],
    ["early 2024", "2024-03-01", "2024-01-01", "2024-05-01", "early 2024"],
    ["2 years ago", "2024-05-01", "2024-01-31", "2024-07-31", "about May 2024"],
    ["a year and a half ago", "2024-11-01", "2024-08-02", "2025-01-31", "about November 2024"],
    ["1½ years ago", "2024-11-01", "2024-08-02", "2025-01-31", "about November 2024"],
  ])("%j on 1 May 2026", (text, iso, earliest, latest, said) => {
    expect(read(text)).toEqual({ ok: true, iso, earliest, latest, said });
  });

  it("reads 6/5/2024 as the place has it, and asks where nobody knows", () => {
    expect(read("6/5/2024", { order: "month-first" })).toMatchObject({ iso: "2024-06-05" });
    expect(read("6/5/24", { order: "day-first" })).toMatchObject({ iso: "2024-05-06" });
    expect(read("6/5/2024")).toMatchObject({ ok: false, message: expect.stringContaining("6 May 2024 or 5 Jun 2024") });
  });

  it("has the seasons of the southern half of the world there", () => {
    expect(read("winter 2024", { southern: true })).toMatchObject({ earliest: "2024-06-01", latest: "2024-08-31" });
    expect(read("last summer", { southern: true })).toMatchObject({ earliest: "2025-12-01", latest: "2026-02-28" });
  });

  it.each([
    ["winter 2024", "January 2024 or December 2024"],
    ["June 24", "June 2024, or the day with its year"],
    ["summer", "summer 2024 or last summer"],
    ["this summer", "in the future"],
    ["June 2027", "in the future"],
    ["2025-02-30", "no such day"],
    ["13/2024", "Enter when it was"],
    ["999 years ago", "Enter when it was"],
    ["when the dog was small", "Enter when it was"],
    ["", "Enter when it was"],
    ["1".repeat(100_000), "Enter when it was"],
  ])("refuses %j", (text, part) => {
    expect(read(text)).toEqual({ ok: false, message: expect.stringContaining(part) });
  });

  it("never throws; the best day lies between the earliest and the latest, and none is after as_of", () => {
    const words = [
      "last",
      "this",
      "early",
      "about",
      "summer",
      "winter",
      "june",
      "2",
      "24",
      "2024",
      "'24",
      "/",
      "-",
      "ago",
    ];
    const piece = fc.constantFrom(...words, "years", "month", "a", "half", "and", "1/2", "of", " ");
    const text = fc.oneof(
      fc.string({ unit: "binary" }),
      fc.array(piece, { maxLength: 6 }).map((pieces) => pieces.join(" ")),
      fc.array(piece, { maxLength: 6 }).map((pieces) => pieces.join("")),
    );
    fc.assert(
      fc.property(
        text,
        fc.boolean(),
        fc.constantFrom(null, "day-first" as const, "month-first" as const),
        (typed, southern, order) => {
          const when = parseWhen(typed, { as_of: AS_OF, southern, order });
          if (!when.ok) expect(when.message).not.toBe("");
          else {
            expect([when.earliest, when.iso, when.latest].every(isIsoDate)).toBe(true);
            expect(when.earliest <= when.iso && when.iso <= when.latest && when.latest <= AS_OF).toBe(true);
          }
        },
      ),
      { numRuns: 3000 },
    );
  });
});
