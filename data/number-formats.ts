export interface NumberFormat {
  /** Who writes like this, for the choice in the settings. */
  name: string;
  /** Between groups of digits. */
  group: string;
  /** Digits of the groups from the second on; the last has three. */
  group_digits: 2 | 3;
  decimal: "." | ",";
  /** Where the currency stands. */
  symbol: "before" | "after";
}

export const NUMBER_FORMAT_IDS = ["1,234.56", "1.234,56", "1 234,56", "1’234.56", "12,34,567.89"] as const;
export type NumberFormatId = (typeof NUMBER_FORMAT_IDS)[number];

/** How amounts are written, named by how they look. The patterns are those of the Unicode Common Locale Data Repository, from memory. */
export const NUMBER_FORMATS: Readonly<Record<NumberFormatId, NumberFormat>> = {
  "1,234.56": { name: "Comma between thousands", group: ",", group_digits: 3, decimal: ".", symbol: "before" },
  "1.234,56": { name: "Point between thousands", group: ".", group_digits: 3, decimal: ",", symbol: "after" },
  "1 234,56": { name: "Space between thousands", group: "\u202f", group_digits: 3, decimal: ",", symbol: "after" },
  "1’234.56": { name: "Apostrophe between thousands", group: "’", group_digits: 3, decimal: ".", symbol: "before" },
  "12,34,567.89": { name: "Lakh and crore", group: ",", group_digits: 2, decimal: ".", symbol: "before" },
};
