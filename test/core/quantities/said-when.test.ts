import { describe, expect, test } from "vitest";
import { parseWhen, withinDays } from "../../../src/core/quantities/parse-when.ts";
import { saidWhen, typedWhen } from "../../../src/core/quantities/said-when.ts";

const AS_OF = "2026-05-01";

describe("a vague date is said as it was typed", () => {
  test.each([
    ["14 Jun 2024", "14 June 2024"],
    ["about 14 June 2024", "about 14 June 2024"],
    ["June '24", "June 2024"],
    ["early June 2024", "early June 2024"],
    ["around June 2024", "around June 2024"],
    ["last summer", "summer 2025"],
    ["autumn 2023", "fall 2023"],
    ["winter 2023/24", "winter 2023/24"],
    ["late summer 2024", "late summer 2024"],
    ["2024", "2024"],
    ["mid 2023", "mid 2023"],
    ["2 years ago", "about May 2024"],
    ["3 weeks ago", "about 10 April 2026"],
    // Cut off by the day on which it was typed.
    ["2026", "about March 2026"],
  ])("%s: %s", (typed, said) => {
    const when = parseWhen(typed, { as_of: AS_OF });
    if (!when.ok) throw new Error(when.message);
    expect(saidWhen(when.iso, withinDays(when))).toBe(said);
  });

  test.each([
    "14 Jun 2024",
    "June 2024",
    "last summer",
    "2024",
    "2 years ago",
    "3 weeks ago",
    "2026",
    "late fall 2025",
  ])("%s: a form says what reads as the same days again", (typed) => {
    const when = parseWhen(typed, { as_of: AS_OF });
    if (!when.ok) throw new Error(when.message);
    const again = parseWhen(typedWhen(when.iso, withinDays(when)), { as_of: AS_OF });
    expect(again).toMatchObject({ iso: when.iso });
    if (again.ok) expect(withinDays(again)).toBe(withinDays(when));
  });
});

test("a day give or take so many is read; more than a year, or of a month, is not", () => {
  expect(parseWhen("16 Jul 2024 ± 46 days", { as_of: AS_OF })).toEqual({
    ok: true,
    iso: "2024-07-16",
    earliest: "2024-05-31",
    latest: "2024-08-31",
    said: "16 July 2024, give or take 46 days",
  });
  expect(parseWhen("16 Jul 2024 +/- 3 days", { as_of: AS_OF })).toMatchObject({ earliest: "2024-07-13" });
  for (const text of ["16 Jul 2024 ± 400 days", "July 2024 ± 5 days", "± 5 days"])
    expect(parseWhen(text, { as_of: AS_OF }).ok).toBe(false);
});
