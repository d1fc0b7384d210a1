import { requestBounds } from "../../../data/parameters.ts";
import { withoutSymbol } from "../../core/quantities/money.ts";
import { parseMass } from "../../core/quantities/parse-mass.ts";
import { plainText, typedNumber } from "../../core/quantities/typed-number.ts";
import type { UnitSystem } from "../../core/quantities/units.ts";

/** Readers for single form fields. Undefined means that the text cannot be read. */

export function isEmpty(typed: string): boolean {
  return typed.trim() === "";
}

/** A number as typed, with a decimal point or comma; undefined for anything else. */
export function readNumber(typed: string): number | undefined {
  const value = typedNumber(plainText(typed) ?? "");
  return typeof value === "number" ? value : undefined;
}

/**
 * `850`, `$850`, `€850`, `850 kr`, `EUR 850`, `1,250.50`. The sign or letters of `currency` (ISO 4217) are skipped;
 * those of another currency are rejected, so that no amount changes its meaning. A comma before three digits is a
 * thousands sign.
 */
export function readMoney(typed: string, currency = "USD"): number | undefined {
  const figures = withoutSymbol(typed.trim(), currency).replace(/,(?=\d{3}(\D|$))/g, "");
  return readNumber(figures);
}

/** Appends the unit to a bare number, so that it keeps its meaning when the units change; null leaves it. */
export function withUnit(typed: string, unit: string | null): string {
  return unit !== null && /\d/.test(typed) && !/[a-z°º]/i.test(typed) ? `${typed.trim()} ${unit}` : typed;
}

/** The nameplate charge in grams, within the range of a request. */
export function readNameplate(typed: string, system: UnitSystem): number | undefined {
  const { min, max } = requestBounds.nameplate_g;
  const mass = parseMass(typed, { system });
  return mass.ok && mass.grams >= min && mass.grams <= max ? mass.grams : undefined;
}

/** The message for a missing or unreadable nameplate charge. */
export const NAMEPLATE_NEEDED =
  "Enter the nameplate charge, like 23 oz or 650 g; it is between 100 g (3.5 oz) and 20 kg (44 lb)";

/** The choice that was sent; undefined for anything that is not among `choices`. */
export function oneOf<const T extends string>(choices: readonly T[], typed: string | null): T | undefined {
  return choices.find((choice) => choice === typed);
}
