import { createHash } from "node:crypto";

/** One line of a bench: what was measured, what it may be, and what came out of the work. */
export interface Measurement {
  name: string;
  value: number;
  unit: "s" | "ms" | "MB" | "%";
  /** The budget at full size; null where there is none. */
  most: number | null;
  /** Of the result, so that nobody makes it fast by making it wrong; null where nothing comes out. */
  digest: string | null;
  /** What else helps to read the value, as a ratio to a baseline that was measured beside it. */
  beside?: string;
}

/** Middle value; of an even number of values the mean of the two in the middle. */
export function medianOf(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const half = sorted.length / 2;
  return sorted.length % 2 === 1 ? sorted[Math.floor(half)]! : (sorted[half - 1]! + sorted[half]!) / 2;
}

/** SHA-256 of a result, its first twelve digits; numbers to nine digits, so that the order of a sum does not count. */
export function digestOf(result: unknown): string {
  const text = JSON.stringify(result, (_, value) =>
    typeof value === "number" && !Number.isInteger(value) ? Number(value.toPrecision(9)) : value,
  );
  return createHash("sha256").update(text).digest("hex").slice(0, 12);
}

/** A line for people. */
export function lineOf({ name, value, unit, most, digest, beside }: Measurement): string {
  const parts = [`${name}: ${value.toPrecision(3)} ${unit}`];
  if (beside !== undefined) parts.push(`= ${beside}`);
  if (most !== null) parts.push(value <= most ? `ok (at most ${most} ${unit})` : `TOO MUCH (at most ${most} ${unit})`);
  if (digest !== null) parts.push(`[${digest}]`);
  return parts.join("  ");
}
