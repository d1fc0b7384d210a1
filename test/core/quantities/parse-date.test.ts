import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { formatDate, isIsoDate, isoFromDay } from "../../../src/core/quantities/dates.ts";
import { parseDate } from "../../../src/core/quantities/parse-date.ts";

describe("parseDate(text)", () => {
  it.each([
    ["2025-08-14"],
    ["2025-8-14"],
    ["2025/08/14"],
    ["14 Aug 2025"],
    ["14 August 2025"],
    ["14. August 2025"],
    ["14aug2025"],
    ["14-Aug-2025"],
    ["14th of August 2025"],
    ["Aug 14, 2025"],
    ["August 14th 2025"],
    ["AUG 14 2025"],
    ["14/08/2025"],
    ["08/14/2025"],
    ["14.8.2025"],
    [" 14 aug 2025 "],
  ])("%j is 14 August 2025", (text) => {
    expect(parseDate(text)).toEqual({ ok: true, iso: "2025-08-14", approximate: false });
  });

  it.each([
    ["August 2025", "2025-08-15"],
    ["aug 2025", "2025-08-15"],
    ["Sept. 2025", "2025-09-15"],
    ["2025 February", "2025-02-15"],
  ])("%j is about %s", (text, iso) => {
    expect(parseDate(text)).toEqual({ ok: true, iso, approximate: true });
  });

  it("takes a day and month that are the same number either way", () => {
    expect(parseDate("04/04/2025")).toEqual({ ok: true, iso: "2025-04-04", approximate: false });
  });

  it.each([
    ["03/04/2025", "03/04/2025 can be 3 Apr 2025 or 4 Mar 2025. Write the month as a word, like 3 Apr 2025"],
    ["3.4.2025", "3.4.2025 can be 3 Apr 2025 or 4 Mar 2025. Write the month as a word, like 3 Apr 2025"],
    ["2025-02-30", "There is no such day. Enter a date, like 14 Aug 2025"],
    ["29 Feb 2023", "There is no such day. Enter a date, like 14 Aug 2025"],
    ["31/31/2025", "There is no such day. Enter a date, like 14 Aug 2025"],
    ["14 Aug 25", "Write the year in full, like 14 Aug 2025"],
    ["14/8/25", "Write the year in full, like 14 Aug 2025"],
    ["14 Aug", "Add the year in full, like 14 Aug 2025 or August 2025"],
    ["August", "Add the year, like August 2025"],
    ["", "Enter a date, like 14 Aug 2025 or August 2025"],
    ["2025", "Enter a date, like 14 Aug 2025 or August 2025"],
    ["last summer", "Enter a date, like 14 Aug 2025 or August 2025"],
    ["today", "Enter a date, like 14 Aug 2025 or August 2025"],
    ["🗓️", "Enter a date, like 14 Aug 2025 or August 2025"],
    ["1".repeat(500), "Enter a date, like 14 Aug 2025 or August 2025"],
  ])("refuses %j", (text, message) => {
    expect(parseDate(text)).toEqual({ ok: false, message });
  });
});

describe("parseDate(text, as_of)", () => {
  it.each([
    ["today", "2026-05-01", false],
    ["Yesterday", "2026-04-30", false],
    ["1 May 2026", "2026-05-01", false],
    ["May 2026", "2026-05-01", true],
    ["April 2026", "2026-04-15", true],
  ])("%j on 1 May 2026 is %s", (text, iso, approximate) => {
    expect(parseDate(text, "2026-05-01")).toEqual({ ok: true, iso, approximate });
  });

  it.each(["2 May 2026", "June 2026", "2027-01-01"])("refuses %j, which has not been yet", (text) => {
    expect(parseDate(text, "2026-05-01")).toEqual({
      ok: false,
      message: "That date is in the future. Enter 1 May 2026 or earlier",
    });
  });

  it("throws RangeError on an as_of that is no date", () => {
    expect(() => parseDate("today", "soon")).toThrow(RangeError);
  });
});

describe("any text", () => {
  it("never throws, and gives real dates not after as_of", () => {
    const piece = fc.constantFrom(
      "1",
      "14",
      "31",
      "2025",
      "0",
      "aug",
      "february",
      "mar",
      "of",
      "th",
      "/",
      "-",
      ".",
      ",",
      " ",
      "today",
    );
    const text = fc.oneof(
      fc.string({ unit: "binary" }),
      fc.array(piece, { maxLength: 8 }).map((pieces) => pieces.join("")),
    );
    fc.assert(
      fc.property(text, fc.constantFrom(undefined, "2025-08-10"), (typed, as_of) => {
        const parsed = parseDate(typed, as_of);
        if (!parsed.ok) expect(parsed.message).not.toBe("");
        else expect(isIsoDate(parsed.iso) && parsed.iso <= (as_of ?? "9999-12-31")).toBe(true);
      }),
      { numRuns: 2000 },
    );
  });

  it("parseDate(formatDate(iso)) is iso", () => {
    fc.assert(
      fc.property(fc.integer({ min: -354_285, max: 2_932_896 }), (day) => {
        const iso = isoFromDay(day); // from the year 1000: a shorter year is not one in full
        expect(parseDate(formatDate(iso))).toEqual({ ok: true, iso, approximate: false });
      }),
    );
  });
});
