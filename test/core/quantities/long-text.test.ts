import { describe, expect, test } from "vitest";
import { parseAmount, parsePercent, parseQuantity, parseUnitPrice } from "../../../src/core/quantities/money.ts";
import { parseDate } from "../../../src/core/quantities/parse-date.ts";
import { parseMass } from "../../../src/core/quantities/parse-mass.ts";
import { dateOrderOf, noDateEvidence, readDate, weighDate } from "../../../src/web/fleet/import/date-column.ts";

/**
 * What nobody types, and what patterns that try every split of it would take hours for: two million characters. A
 * parser that looks at its length first refuses it at once; one that does not never ends here.
 */
const MANY = 2_000_000;
const TEXTS = [
  ["figures", `${"1".repeat(MANY)}x`],
  ["zeros", `1.${"0".repeat(MANY)}1`],
  ["points", `${"1.".repeat(MANY)}x`],
  ["spaces", `1${" ".repeat(MANY)}x`],
  ["letters", `${"T".repeat(MANY)}`],
] as const;

describe.each(TEXTS)("two million %s", (_what, text) => {
  test.each([
    ["an amount", () => parseAmount(text, "USD", "1,234.56")],
    ["a unit price", () => parseUnitPrice(text, "USD", "1,234.56")],
    ["a quantity", () => parseQuantity(text, "1,234.56")],
    ["a percentage", () => parsePercent(text, "1,234.56")],
    ["a mass", () => parseMass(text, { system: "us" })],
    ["a date", () => parseDate(text, "2026-05-01")],
    ["a date in a column", () => readDate(text, null, "2026-05-01")],
  ])("are refused as %s", (_as, parse) => {
    expect(parse().ok).toBe(false);
  });

  test("say nothing of the order of a column of dates", () => {
    const evidence = noDateEvidence();
    weighDate(evidence, text);
    expect(dateOrderOf(evidence)).toEqual({ order: null, asked: false });
  });
});
