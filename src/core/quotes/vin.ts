/**
 * Vehicle identification numbers: 17 figures and capital letters without I, O and Q (ISO 3779:2009, 4). The ninth
 * character is a check digit where the law of the place of sale asks for one (49 CFR 565.15(c): North America);
 * elsewhere it may be anything, so a mismatch is a doubt and not a fault.
 */
const SHAPE = /^[A-HJ-NPR-Z0-9]{17}$/;

/** Values of the letters (49 CFR 565.15(c), table III); figures count as themselves. */
const VALUES: Readonly<Record<string, number>> = {
  ...{ A: 1, B: 2, C: 3, D: 4, E: 5, F: 6, G: 7, H: 8 },
  ...{ J: 1, K: 2, L: 3, M: 4, N: 5, P: 7, R: 9 },
  ...{ S: 2, T: 3, U: 4, V: 5, W: 6, X: 7, Y: 8, Z: 9 },
};

/** Weights by position (49 CFR 565.15(c), table IV); the check digit itself counts nothing. */
const WEIGHTS = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2] as const;

/** First characters of the world manufacturer identifiers of North America, where the check digit is required. */
const NORTH_AMERICA = /^[1-5]/;

export type ReadVin = { ok: true; vin: string } | { ok: false; code: "shape" | "check-digit" };

/**
 * A VIN as typed, in capitals and without spaces or hyphens. `check-digit`: it is from North America and its ninth
 * character does not fit the rest, so that a character is wrong or two are swapped.
 *
 * @example
 * readVin("1m8gdm9a xkp042788") // { ok: true, vin: "1M8GDM9AXKP042788" }
 */
export function readVin(typed: string): ReadVin {
  const vin = typed.toUpperCase().replace(/[\s-]/g, "");
  if (!SHAPE.test(vin)) return { ok: false, code: "shape" };
  if (NORTH_AMERICA.test(vin) && checkDigit(vin) !== vin[8]) return { ok: false, code: "check-digit" };
  return { ok: true, vin };
}

/** The check digit that belongs to 17 characters of a VIN: `0` to `9`, or `X` for ten. */
function checkDigit(vin: string): string {
  const sum = [...vin].reduce((total, sign, i) => total + (VALUES[sign] ?? Number(sign)) * WEIGHTS[i]!, 0);
  const rest = sum % 11;
  return rest === 10 ? "X" : String(rest);
}
