import { plainText, typedNumber } from "../../core/quantities/typed-number.ts";

/** What came in a field of a form, read. Undefined stands for what cannot be read as asked. */

export function isEmpty(typed: string): boolean {
  return typed.trim() === "";
}

export function readNumber(typed: string): number | undefined {
  const value = typedNumber(plainText(typed) ?? "");
  return typeof value === "number" ? value : undefined;
}

/** `850`, `$850`, `1,250.50`: with money a comma before three figures is read as a thousands sign. */
export function readMoney(typed: string): number | undefined {
  const figures = typed
    .trim()
    .replace(/^\$ ?/, "")
    .replace(/,(?=\d{3}(\D|$))/g, "");
  return readNumber(figures);
}

export function oneOf<const T extends string>(choices: readonly T[], typed: string | null): T | undefined {
  return choices.find((choice) => choice === typed);
}
