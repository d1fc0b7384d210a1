import { expect, test } from "vitest";
import { blankFields } from "../../../src/web/start/quick-address.ts";
import { readQuickForm } from "../../../src/web/start/quick-form.ts";
import { readBackOf } from "../../../src/web/start/read-back.ts";

const TODAY = "2026-05-01";
const line = (when: string, amount: string) => ({ when, did: "cans", amount, cooled: "" });

test.each([
  ["June 2024", "12 oz", "about mid-June 2024 · 12 oz"],
  ["14 Jun 2024", "2 x 12 oz", "14 June 2024 · 1 lb 8 oz"],
  ["last summer", "?", "summer 2025, about July · amount not known"],
  ["14 Jun 2024", "1 can", "14 June 2024 · 12 oz"],
  ["2 years ago", "", "about May 2024"],
  ["14 Jun 2024", "12 oz", null],
  ["14 Jun 2024", "", null],
  ["soon", "12 oz", null],
  ["", "", null],
])("%j and %j are read as %j", (when, amount, said) => {
  const fields = { ...blankFields(TODAY), refrigerant: "R-134a", lines: [line(when, amount)] };
  expect(readBackOf(fields)).toEqual([said]);
});

test("a can of a refrigerant that nobody named is left as it was typed", () => {
  const fields = { ...blankFields(TODAY), lines: [line("June 2024", "1 can")] };
  expect(readBackOf(fields)).toEqual(["about mid-June 2024"]);
});

test("an amount of “?” counts as one that is not known", () => {
  const asked = (amount: string) => {
    const fields = {
      ...blankFields(TODAY),
      refrigerant: "R-134a",
      nameplate: "23 oz",
      lines: [line("June 2024", amount)],
    };
    const { errors, request } = readQuickForm(fields, true);
    return { errors, log: request?.log };
  };
  expect(asked("?")).toEqual(asked(""));
  expect(asked("don't know").errors).toEqual([]);
});
