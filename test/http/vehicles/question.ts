/** The quick question as the start page sends it; days far enough back for any clock. */
const QUESTION = [
  ["units", "us"],
  ["refrigerant", "R-134a"],
  ["nameplate", "23 oz"],
  ["climate", "warm-continental"],
  ["when", "9 Jul 2023"],
  ["did", "cans"],
  ["amount", "12 oz"],
  ["cooled", "weak"],
  ["when", "June 2024"],
  ["did", "repair-hose"],
  ["amount", "1 lb 7 oz"],
  ["cooled", ""],
  ["today", "ok"],
  ["keep", "7"],
  ["service", "shop"],
  ["tools", "yes"],
  ["as_of", "2025-03-01"],
  ["carbon", "190"],
  ["floor", "9"],
  ["label", "The blue van"],
  ["submit_key", "k1"],
] as const;

export function question(changes: Record<string, string> = {}): URLSearchParams {
  const fields = new URLSearchParams(QUESTION.map(([name, value]): [string, string] => [name, value]));
  for (const [name, value] of Object.entries(changes)) fields.set(name, value);
  return fields;
}

export const OUNCE_G = 28.349523125; // NIST SP 811 (2008), appendix B
